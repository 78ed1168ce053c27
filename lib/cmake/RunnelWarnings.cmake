# What every target of the project is compiled with, and nobody who links to it.
add_library(runnel_warnings INTERFACE)
target_compile_options(runnel_warnings INTERFACE
  -Wall -Wextra -Wpedantic -Wconversion -Wsign-conversion -Wshadow -Wold-style-cast
  -Wdouble-promotion
  $<$<CXX_COMPILER_ID:GNU>:-Wduplicated-cond;-Wlogical-op>
  # Where the processor has fused multiply-add, results would otherwise differ between builds.
  -ffp-contract=off)
if(RUNNEL_NATIVE)
  target_compile_options(runnel_warnings INTERFACE -march=native)
endif()
