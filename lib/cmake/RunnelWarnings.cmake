# What every target of the project is compiled with, and nobody who links to it.
add_library(runnel_warnings INTERFACE)
target_compile_options(runnel_warnings INTERFACE
  -Wall -Wextra -Wpedantic -Wconversion -Wsign-conversion -Wshadow -Wold-style-cast
  -Wdouble-promotion
  $<$<CXX_COMPILER_ID:GNU>:-Wduplicated-cond;-Wlogical-op>
  # g++ 12 takes joined std::strings for out of bounds, with headers read once; the sanitizers look for what truly is.
  $<$<AND:$<CXX_COMPILER_ID:GNU>,$<VERSION_LESS:$<CXX_COMPILER_VERSION>,13>>:-Wno-array-bounds;-Wno-stringop-overflow>
  # Where the processor has fused multiply-add, results would otherwise differ between builds.
  -ffp-contract=off)
if(RUNNEL_NATIVE)
  target_compile_options(runnel_warnings INTERFACE -march=native)
endif()
