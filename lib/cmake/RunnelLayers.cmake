# The layers in order: each sees itself and those before it (checked by tests/cmake/layers.cmake).
set(RUNNEL_CORE_LAYERS units sky weather reference_et demand soil delivery schedule)
set(RUNNEL_LAYERS ${RUNNEL_CORE_LAYERS} garden)

# Two thirds of compiling most files is reading these. The presets dev and tidy do without, so that each file includes what
# it uses.
set(RUNNEL_COMMON_HEADERS <Eigen/Core> <algorithm> <chrono> <optional> <string> <vector>)

# runnel_layer(<name> SOURCES a.cpp b.cpp ...): the object library runnel_<name>.
function(runnel_layer name)
  cmake_parse_arguments(PARSE_ARGV 1 layer "" "" "SOURCES;LIBRARIES")
  add_library(runnel_${name} OBJECT ${layer_SOURCES})
  target_include_directories(runnel_${name} PUBLIC ${PROJECT_SOURCE_DIR}/lib/include)
  target_link_libraries(runnel_${name}
    PUBLIC Eigen3::Eigen ${layer_LIBRARIES}
    PRIVATE $<BUILD_INTERFACE:runnel_warnings>)
  set_target_properties(runnel_${name} PROPERTIES POSITION_INDEPENDENT_CODE ON)
  if(name STREQUAL units)
    target_precompile_headers(runnel_units PRIVATE ${RUNNEL_COMMON_HEADERS})
  else()
    target_precompile_headers(runnel_${name} REUSE_FROM runnel_units)
  endif()
endfunction()

# The object libraries of a layer and of all before it.
function(runnel_layers_up_to name result)
  set(libraries "")
  foreach(layer IN LISTS RUNNEL_LAYERS)
    list(APPEND libraries runnel_${layer})
    if(layer STREQUAL name)
      break()
    endif()
  endforeach()
  set(${result} ${libraries} PARENT_SCOPE)
endfunction()
