#include "runnel/units/published_table.hpp"

#include <array>
#include <stdexcept>
#include <string>
#include <utility>

namespace runnel {
namespace {

constexpr auto tables = std::to_array<std::pair<std::string_view, std::string_view>>({
#include "published_tables.inc"
});

}  // namespace

std::string_view published_table(std::string_view name) {
  for (const auto& [table, text] : tables)
    if (table == name) return text;
  throw std::invalid_argument("no published table " + std::string(name));
}

}  // namespace runnel
