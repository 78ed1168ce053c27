#include "runnel/demand/containers.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

double disc_m2(double diameter_m) { return std::numbers::pi / 4.0 * diameter_m * diameter_m; }

}  // namespace

Read<MediaTable> parse_media_table(std::string_view csv, std::string_view name) {
  TableReader row(csv, name,
                  {"medium", "easily_available", "easily_available_low", "easily_available_high",
                   "fill", "fill_low", "fill_high", "source"});
  MediaTable table;
  while (row.next()) {
    Medium medium{};
    medium.name = row.text("medium");
    medium.easily_available =
        row.number_within("easily_available", "easily_available_low", "easily_available_high");
    medium.fill = row.number_within("fill", "fill_low", "fill_high");
    medium.source = row.text("source");
    table.push_back(std::move(medium));
  }
  return finish(row, std::move(table));
}

MediaTable media_table() {
  std::vector<Finding> findings;
  return value_or_throw(parse_media_table(published_table("media"), "media.csv"), findings);
}

const Medium* find_medium(const MediaTable& table, std::string_view name) {
  const std::string wanted = lower(name);
  const auto found = std::find_if(table.begin(), table.end(), [&](const Medium& medium) {
    return lower(medium.name) == wanted;
  });
  return found == table.end() ? nullptr : &*found;
}

std::vector<std::string_view> names(const MediaTable& table) {
  std::vector<std::string_view> all;
  for (const Medium& medium : table) all.push_back(medium.name);
  return all;
}

double easily_available_l(const Containers& pots, const Medium& medium) {
  return pots.volume_l * medium.fill * medium.easily_available;
}

double canopy_area_m2(const Containers& pots) {
  return pots.count * disc_m2(pots.canopy_diameter_m);
}

double easily_available_mm(const Containers& pots, const Medium& medium) {
  return easily_available_l(pots, medium) / disc_m2(pots.canopy_diameter_m);
}

double rain_share(const Containers& pots) {
  return std::min(1.0, disc_m2(pots.mouth_diameter_m) / disc_m2(pots.canopy_diameter_m));
}

}  // namespace runnel
