# Runs the program on one case and compares what it did with what the case expects:
#   cmake -DPROGRAM=<runnel> -DCASE=<case folder> -DWORK=<folder to run in> -P run_case.cmake
# With -DSHOW=ON it prints what the program did instead, for whoever writes the expectation.
#
# A case folder holds input files and
#   args                 the arguments, one a line
#   prepare.cmake        optional; makes or changes inputs in the folder, with use() and change() below
#   expected.out         all of stdout, or
#   expected.match       regular expressions, one a line, each to be found in stdout;
#                        neither: stdout must be empty
#   expected.err, expected.err.match   the same for stderr
#   expected.exit        exit code, 0 when there is no such file
#   expected.files       files written or changed, one a line; none when there is no such file
#   README               where the expectation comes from, if from elsewhere than the words of the program
#   expected.width       display columns that no line of stdout may pass
cmake_policy(VERSION 3.25)

# Copies the files of a folder, named from the root of the source tree, into the case's folder.
function(use folder)
  file(GLOB files ${ROOT}/${folder}/*)
  file(COPY ${files} DESTINATION ${WORK})
endfunction()

# Replaces a text, which must be there, in a file of the case's folder.
function(change name from to)
  file(READ ${WORK}/${name} text)
  string(FIND "${text}" "${from}" at)
  if(at EQUAL -1)
    message(FATAL_ERROR "prepare.cmake: ${name} does not hold \"${from}\"")
  endif()
  string(REPLACE "${from}" "${to}" text "${text}")
  file(WRITE ${WORK}/${name} "${text}")
endfunction()

# name=hash of every file in the case's folder.
function(list_files result)
  set(listing "")
  file(GLOB_RECURSE names RELATIVE ${WORK} ${WORK}/*)
  foreach(name IN LISTS names)
    file(SHA256 ${WORK}/${name} hash)
    list(APPEND listing "${name}=${hash}")
  endforeach()
  set(${result} "${listing}" PARENT_SCOPE)
endfunction()

# The first line of ${text}, which is taken off it. (A list would not do: brackets join its elements.)
macro(next_line text line)
  string(FIND "${${text}}" "\n" at)
  string(SUBSTRING "${${text}}" 0 ${at} ${line})
  if(at EQUAL -1)
    set(${text} "")
  else()
    math(EXPR at "${at} + 1")
    string(SUBSTRING "${${text}}" ${at} -1 ${text})
  endif()
endmacro()

set(faults "")

macro(compare stream actual)
  if(EXISTS ${CASE}/expected.${stream}match)
    file(READ ${CASE}/expected.${stream}match patterns)
    while(NOT patterns STREQUAL "")
      next_line(patterns pattern)
      if(NOT pattern STREQUAL "" AND NOT "${${actual}}" MATCHES "${pattern}")
        string(APPEND faults "not found in ${actual}: ${pattern}\n")
      endif()
    endwhile()
  else()
    set(expected "")
    if(EXISTS ${CASE}/expected.${actual})
      file(READ ${CASE}/expected.${actual} expected)
    endif()
    if(NOT "${${actual}}" STREQUAL "${expected}")
      string(APPEND faults "${actual} should have been\n${expected}")
    endif()
  endif()
endmacro()

file(REMOVE_RECURSE ${WORK})
file(MAKE_DIRECTORY ${WORK})
get_filename_component(ROOT ${CMAKE_CURRENT_LIST_DIR}/../.. ABSOLUTE)
file(GLOB inputs ${CASE}/*)
list(FILTER inputs EXCLUDE REGEX "/(args|README|prepare[.]cmake|expected[.][a-z.]+)$")
if(inputs)
  file(COPY ${inputs} DESTINATION ${WORK})
endif()
if(EXISTS ${CASE}/prepare.cmake)
  include(${CASE}/prepare.cmake)
endif()

file(READ ${CASE}/args lines)
set(args "")
while(NOT lines STREQUAL "")
  next_line(lines line)
  list(APPEND args "${line}")
endwhile()

list_files(before)
execute_process(COMMAND ${PROGRAM} ${args} WORKING_DIRECTORY ${WORK} INPUT_FILE /dev/null
  OUTPUT_VARIABLE out ERROR_VARIABLE err RESULT_VARIABLE exit TIMEOUT 60)
list_files(after)

set(written "")
foreach(file IN LISTS after)
  if(NOT file IN_LIST before)
    string(REGEX REPLACE "=[0-9a-f]+$" "" name "${file}")
    string(APPEND written "${name}\n")
  endif()
endforeach()

if(SHOW)
  execute_process(COMMAND ${CMAKE_COMMAND} -E echo
    "== out\n${out}== err\n${err}== exit ${exit}\n== files\n${written}")
  return()
endif()

compare("" out)
compare("err." err)

set(expected_exit 0)
if(EXISTS ${CASE}/expected.exit)
  file(READ ${CASE}/expected.exit expected_exit)
  string(STRIP "${expected_exit}" expected_exit)
endif()
if(NOT exit STREQUAL expected_exit)
  string(APPEND faults "exit ${exit} instead of ${expected_exit}\n")
endif()

set(expected_files "")
if(EXISTS ${CASE}/expected.files)
  file(READ ${CASE}/expected.files expected_files)
endif()
if(NOT written STREQUAL expected_files)
  string(APPEND faults "files written:\n${written}instead of:\n${expected_files}")
endif()
foreach(file IN LISTS before)
  string(REGEX REPLACE "=[0-9a-f]+$" "" name "${file}")
  if(NOT EXISTS ${WORK}/${name})
    string(APPEND faults "${name} is gone\n")
  endif()
endforeach()

if(EXISTS ${CASE}/expected.width)
  file(READ ${CASE}/expected.width width)
  string(STRIP "${width}" width)
  set(rest "${out}")
  while(NOT rest STREQUAL "")
    next_line(rest line)
    # Of UTF-8, the bytes 80-bf go on with a character.
    string(HEX "${line}" bytes)
    string(REGEX MATCHALL ".." bytes "${bytes}")
    list(FILTER bytes EXCLUDE REGEX "^[89ab]")
    list(LENGTH bytes columns)
    if(columns GREATER width)
      string(APPEND faults "${columns} columns: ${line}\n")
    endif()
  endwhile()
endif()

if(faults)
  message("${faults}== out\n${out}== err\n${err}== exit ${exit}")
  message(FATAL_ERROR "${CASE} does not do what it should")
endif()
