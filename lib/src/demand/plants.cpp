#include "runnel/demand/plants.hpp"

#include <algorithm>

#include "runnel/units/number.hpp"

namespace runnel {
namespace {

bool is_called(const auto& row, std::string_view wanted) {
  if (lower(row.name) == wanted) return true;
  if constexpr (requires { row.also; }) {
    return std::any_of(row.also.begin(), row.also.end(),
                       [&](const std::string& other) { return lower(other) == wanted; });
  }
  return false;
}

template <class Rows>
std::optional<Plant> named(const Rows& rows, std::string_view name) {
  const std::string wanted = lower(name);
  const auto found = std::find_if(rows.begin(), rows.end(),
                                  [&](const auto& row) { return is_called(row, wanted); });
  if (found == rows.end()) return std::nullopt;
  return *found;
}

void add_names(std::vector<std::string_view>& names, const auto& rows) {
  for (const auto& row : rows) names.push_back(row.name);
  for (const auto& row : rows) {
    if constexpr (requires { row.also; })
      names.insert(names.end(), row.also.begin(), row.also.end());
  }
}

}  // namespace

std::optional<Plant> find_crop(const PlantTable& table, std::string_view name) {
  return named(table.crops, name);
}

std::optional<Plant> find_kind(const PlantTable& table, std::string_view name) {
  const auto planting = named(table.landscape, name);
  return planting ? planting : named(table.turf, name);
}

std::vector<std::string_view> crop_names(const PlantTable& table) {
  std::vector<std::string_view> names;
  add_names(names, table.crops);
  return names;
}

std::vector<std::string_view> kind_names(const PlantTable& table) {
  std::vector<std::string_view> names;
  add_names(names, table.landscape);
  add_names(names, table.turf);
  return names;
}

const std::string& name_of(const Plant& plant) {
  return std::visit([](const auto& p) -> const std::string& { return p.name; }, plant);
}

double root_depth_m(const Plant& plant) {
  return std::visit([](const auto& p) { return p.root_depth_m; }, plant);
}

double depletion_share(const Plant& plant) {
  return std::visit([](const auto& p) { return p.p; }, plant);
}

bool adjusts_p(const Plant& plant) { return std::holds_alternative<Crop>(plant); }

const std::string& source_of(const Plant& plant) {
  return std::visit([](const auto& p) -> const std::string& { return p.source; }, plant);
}

}  // namespace runnel
