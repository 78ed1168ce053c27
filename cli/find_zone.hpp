#pragma once

#include <string>

#include "runnel/garden/garden.hpp"

namespace runnel::cli {

/// Place in the garden of the zone of that name. @throws InputError naming the nearest when there
/// is none.
[[nodiscard]] std::size_t find_zone(const Garden& garden, const std::string& name);

}  // namespace runnel::cli
