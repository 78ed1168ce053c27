# RUNNEL_STATIC: the program holds yaml-cpp and the compiler's libraries. libdate-tz stays shared, for Debian has no archive
# of it, and with it the C++ library that it loads for itself.
find_library(RUNNEL_YAML_CPP_ARCHIVE libyaml-cpp.a REQUIRED)
find_path(RUNNEL_YAML_CPP_INCLUDE yaml-cpp/yaml.h REQUIRED)
add_library(yaml-cpp::yaml-cpp STATIC IMPORTED)
set_target_properties(yaml-cpp::yaml-cpp PROPERTIES IMPORTED_LOCATION ${RUNNEL_YAML_CPP_ARCHIVE}
  INTERFACE_INCLUDE_DIRECTORIES ${RUNNEL_YAML_CPP_INCLUDE})
set(RUNNEL_STATIC_LINK_OPTIONS -static-libgcc -static-libstdc++)
