#include "runnel/demand/containers.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

double disc_m2(double diameter_m) { return std::numbers::pi / 4.0 * diameter_m * diameter_m; }

template <class Rows>
auto* find_by_name(const Rows& rows, std::string_view name) {
  const std::string wanted = lower(name);
  const auto found = std::find_if(rows.begin(), rows.end(),
                                  [&](const auto& row) { return lower(row.name) == wanted; });
  return found == rows.end() ? nullptr : &*found;
}

template <class Rows>
std::vector<std::string_view> all_names(const Rows& rows) {
  std::vector<std::string_view> all;
  for (const auto& row : rows) all.push_back(row.name);
  return all;
}

/// Mean over the volume of a drained column of medium of a share that is linear in height between
/// 0, 10, 50 and 100 cm. The cross-section goes with height squared, so that Simpson's rule, exact
/// for cubics, gives each part exactly.
template <class Share>
double mean_over_volume(double height_cm, double bottom_over_top, const Share& share) {
  const auto section = [&](double z_cm) {
    const double diameter = bottom_over_top + (1.0 - bottom_over_top) * z_cm / height_cm;
    return diameter * diameter;
  };
  double sum = 0.0;
  double volume = 0.0;
  for (double from = 0.0; const double knot_cm : {10.0, 50.0, 100.0, height_cm}) {
    const double to = std::min(knot_cm, height_cm);
    if (to <= from) continue;
    const double middle = 0.5 * (from + to);
    for (const auto& [z_cm, weight] : {std::pair{from, 1.0}, {middle, 4.0}, {to, 1.0}}) {
      sum += (to - from) * weight * section(z_cm) * share(z_cm);
      volume += (to - from) * weight * section(z_cm);
    }
    from = to;
  }
  return sum / volume;
}

}  // namespace

Read<MediaTable> parse_media_table(std::string_view csv, std::string_view name) {
  TableReader row(
      csv, name,
      {"medium", "pore_space", "pore_space_low", "pore_space_high", "air", "air_low", "air_high",
       "easily_available", "easily_available_low", "easily_available_high", "buffer", "buffer_low",
       "buffer_high", "fill", "fill_low", "fill_high", "source"});
  MediaTable table;
  while (row.next()) {
    Medium medium{};
    medium.name = row.text("medium");
    medium.pore_space = row.number_within("pore_space", "pore_space_low", "pore_space_high");
    medium.air = row.number_within("air", "air_low", "air_high");
    medium.easily_available =
        row.number_within("easily_available", "easily_available_low", "easily_available_high");
    medium.easily_available_low = row.number("easily_available_low");
    medium.easily_available_high = row.number("easily_available_high");
    medium.buffer = row.number_within("buffer", "buffer_low", "buffer_high");
    medium.fill = row.number_within("fill", "fill_low", "fill_high");
    medium.source = row.text("source");
    if (medium.air + medium.easily_available + medium.buffer > medium.pore_space)
      row.fault("pore_space", "is less than its air and water");
    table.push_back(std::move(medium));
  }
  return finish(row, std::move(table));
}

MediaTable media_table() {
  std::vector<Finding> findings;
  return value_or_throw(parse_media_table(published_table("media"), "media.csv"), findings);
}

const Medium* find_medium(const MediaTable& table, std::string_view name) {
  return find_by_name(table, name);
}

std::vector<std::string_view> names(const MediaTable& table) { return all_names(table); }

Read<PotPlaceTable> parse_pot_place_table(std::string_view csv, std::string_view name) {
  TableReader row(csv, name, {"placed", "factor", "low", "high", "source"});
  PotPlaceTable table;
  while (row.next()) {
    PotPlace place{};
    place.name = row.text("placed");
    place.factor = row.number_within("factor", "low", "high");
    place.low = row.number("low");
    place.high = row.number("high");
    place.source = row.text("source");
    table.push_back(std::move(place));
  }
  return finish(row, std::move(table));
}

PotPlaceTable pot_place_table() {
  std::vector<Finding> findings;
  return value_or_throw(parse_pot_place_table(published_table("pot_places"), "pot_places.csv"),
                        findings);
}

const PotPlace* find_pot_place(const PotPlaceTable& table, std::string_view name) {
  return find_by_name(table, name);
}

std::vector<std::string_view> names(const PotPlaceTable& table) { return all_names(table); }

double taper(double volume_l, double mouth_diameter_m, double height_m) {
  // 1 + r + r2 = volume over that of the cone
  const double over_cone = volume_l / 1000.0 / (disc_m2(mouth_diameter_m) * height_m / 3.0);
  return over_cone < 1.0 ? std::nan("") : 0.5 * (std::sqrt(4.0 * over_cone - 3.0) - 1.0);
}

double pot_height_m(double volume_l, double mouth_diameter_m, double taper) {
  return volume_l / 1000.0 / (disc_m2(mouth_diameter_m) * (1.0 + taper + taper * taper) / 3.0);
}

double water_share(const Medium& medium, double suction_cm) {
  const double at_10 = medium.pore_space - medium.air;
  const double at_50 = at_10 - medium.easily_available;
  const auto between = [&](double from_cm, double to_cm, double from, double to) {
    return from + (to - from) * (suction_cm - from_cm) / (to_cm - from_cm);
  };
  if (suction_cm <= 0.0) return medium.pore_space;
  if (suction_cm <= 10.0) return between(0.0, 10.0, medium.pore_space, at_10);
  if (suction_cm <= 50.0) return between(10.0, 50.0, at_10, at_50);
  if (suction_cm <= 100.0) return between(50.0, 100.0, at_50, at_50 - medium.buffer);
  return at_50 - medium.buffer;
}

DrainedPot drained_pot(const Containers& pots, const Medium& medium) {
  const double height_cm = 100.0 * pots.height_m * medium.fill;
  const double bottom_over_top = taper(pots.volume_l, pots.mouth_diameter_m, pots.height_m);
  const auto mean = [&](const auto& share) {
    return mean_over_volume(height_cm, bottom_over_top, share);
  };
  DrainedPot drained{};
  drained.medium_l = pots.volume_l * medium.fill;
  drained.water = mean([&](double z_cm) { return water_share(medium, z_cm); });
  drained.air = medium.pore_space - drained.water;
  const double at_50 = water_share(medium, 50.0);
  drained.easily_available =
      mean([&](double z_cm) { return std::max(0.0, water_share(medium, z_cm) - at_50); });
  return drained;
}

double easily_available_l(const Containers& pots, double fill, double easily_available) {
  return pots.volume_l * fill * easily_available;
}

double canopy_area_m2(const Containers& pots) {
  return pots.count * disc_m2(pots.canopy_diameter_m);
}

double over_canopy_mm(const Containers& pots, double litres) {
  return litres / disc_m2(pots.canopy_diameter_m);
}

double rain_share(const Containers& pots) {
  return std::min(1.0, disc_m2(pots.mouth_diameter_m) / disc_m2(pots.canopy_diameter_m));
}

}  // namespace runnel
