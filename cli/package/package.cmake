# cpack -G DEB, in the build folder: runnel (program, tables, manual, completion) and librunnel-dev.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_CONTACT "The Runnel maintainers <maintainers@example.invalid>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
  OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)

set(CPACK_COMPONENTS_ALL program data development)
set(CPACK_COMPONENTS_GROUPING ONE_PER_GROUP)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_PRE_BUILD_SCRIPTS ${CMAKE_CURRENT_LIST_DIR}/debian_files.cmake)

set(CPACK_DEBIAN_RUNNEL_PACKAGE_NAME runnel)
set(CPACK_DEBIAN_RUNNEL_PACKAGE_SECTION utils)
set(CPACK_DEBIAN_RUNNEL_DESCRIPTION "what to set on a garden's watering timer
From a weather file, runnel works out reference evapotranspiration, what each
part of a garden uses and holds, and from these the week's watering programme
for a timer with several valves: minutes, start times and days, every figure
with its source.")

set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME librunnel-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS
  "libeigen3-dev (>= 3.4), libhowardhinnant-date-dev, libyaml-cpp-dev")
set(CPACK_DEBIAN_DEVELOPMENT_DESCRIPTION "from weather to a watering programme - development files
Headers and archives of the C++20 libraries behind runnel, for CMake
(runnel::core, runnel::garden) and pkg-config (runnel-core, runnel-garden).")

include(CPack)
cpack_add_component(program GROUP runnel)
cpack_add_component(data GROUP runnel)
cpack_add_component(development GROUP development)
