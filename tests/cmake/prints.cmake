# cmake -DEXPECTED=<file> -P prints.cmake -- <program> <arguments...>: fails unless the program ends with 0 and prints the
# file, no more and no less.
set(command "")
set(after_dashes FALSE)
math(EXPR last "${CMAKE_ARGC} - 1")
foreach(i RANGE ${last})
  if(after_dashes)
    list(APPEND command ${CMAKE_ARGV${i}})
  elseif(CMAKE_ARGV${i} STREQUAL "--")
    set(after_dashes TRUE)
  endif()
endforeach()

execute_process(COMMAND ${command} OUTPUT_VARIABLE printed ERROR_VARIABLE errors RESULT_VARIABLE exit)
file(READ ${EXPECTED} expected)
if(NOT exit STREQUAL "0" OR NOT errors STREQUAL "" OR NOT printed STREQUAL expected)
  message(FATAL_ERROR "${command} ended with ${exit} and printed\n${printed}${errors}instead of\n${expected}")
endif()
