// Planted for the test of layers.cmake: never compiled.
#include "runnel/garden/garden.hpp"
