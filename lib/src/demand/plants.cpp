#include "runnel/demand/plants.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "runnel/units/number.hpp"

namespace runnel {
namespace {

template <class Rows>
std::optional<Plant> named(const Rows& rows, std::string_view name) {
  const std::string wanted = lower(name);
  const auto found = std::find_if(rows.begin(), rows.end(),
                                  [&](const auto& row) { return lower(row.name) == wanted; });
  if (found == rows.end()) return std::nullopt;
  return *found;
}

/// Day of the season, 1 on the day of planting.
int season_day(const Growing& growing, Date date) {
  if (!growing.planted) throw std::invalid_argument("kc_by_day: a crop needs its planting date");
  return static_cast<int>((date - *growing.planted).count()) + 1;
}

double coefficient(const Crop& crop, const Growing& growing, Date date) {
  const StageValues adjusted{.ini = crop.kc.ini,
                             .mid = adjusted_kc(crop.kc.mid, growing.climate, crop.height_m),
                             .end = adjusted_kc_end(crop.kc.end, growing.climate, crop.height_m)};
  return stage_value(season_day(growing, date), crop.stages, adjusted);
}

double coefficient(const Landscape& planting, const Growing& growing, Date /*date*/) {
  if (growing.in_containers) return planting.container_coefficient;
  return planting.factor * planting.density_factor[static_cast<std::size_t>(growing.density)];
}

double coefficient(const Turf& turf, const Growing& growing, Date date) {
  const std::size_t month = month_of(date) - 1;
  return turf.kc_by_month[growing.southern ? (month + 6) % 12 : month];
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
  for (const Crop& crop : table.crops) names.push_back(crop.name);
  return names;
}

std::vector<std::string_view> kind_names(const PlantTable& table) {
  std::vector<std::string_view> names;
  for (const Landscape& planting : table.landscape) names.push_back(planting.name);
  for (const Turf& turf : table.turf) names.push_back(turf.name);
  return names;
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

Column kc_by_day(const Plant& plant, const Growing& growing, Date first_day, Eigen::Index days) {
  Column kc(days);
  for (Eigen::Index day = 0; day < days; ++day) {
    const Date date = first_day + std::chrono::days{day};
    kc[day] = std::visit([&](const auto& p) { return coefficient(p, growing, date); }, plant);
  }
  return kc;
}

Column root_depth_by_day_m(const Plant& plant, const Growing& growing, double full_m,
                           Date first_day, Eigen::Index days) {
  const auto* crop = std::get_if<Crop>(&plant);
  Column depth = Column::Constant(days, full_m);
  if (crop == nullptr) return depth;
  const StageValues roots{
      .ini = std::min(seedling_root_depth_m, full_m), .mid = full_m, .end = full_m};
  const StageLengths growth{.ini = 0,
                            .dev = crop->stages.ini + crop->stages.dev,
                            .mid = crop->stages.mid,
                            .late = crop->stages.late};
  for (Eigen::Index day = 0; day < days; ++day)
    depth[day] =
        stage_value(season_day(growing, first_day + std::chrono::days{day}), growth, roots);
  return depth;
}

}  // namespace runnel
