#include "runnel/soil/texture.hpp"

#include <algorithm>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

SoilTexture read_row(TableReader& row) {
  SoilTexture soil;
  soil.name = row.text("soil");
  soil.field_capacity_low = row.number("fc_low");
  soil.field_capacity_high = row.number("fc_high");
  soil.wilting_point_low = row.number("wp_low");
  soil.wilting_point_high = row.number("wp_high");
  soil.available_low = row.number("awc_low");
  soil.available_high = row.number("awc_high");
  soil.field_capacity = row.number_within("fc", "fc_low", "fc_high");
  soil.wilting_point = row.number_within("wp", "wp_low", "wp_high");
  soil.rew_mm = 0.5 * (row.number("rew_low") + row.number("rew_high"));
  soil.tew_mm = 0.5 * (row.number("tew_low") + row.number("tew_high"));
  const std::string group = row.text("hydrologic_group");
  soil.hydrologic_group = group.empty() ? 'D' : group.front();
  if (group.size() != 1 || soil.hydrologic_group < 'A' || soil.hydrologic_group > 'D') {
    row.fault("hydrologic_group", "must be A, B, C or D");
  }
  if (!(soil.wilting_point < soil.field_capacity)) row.fault("wp", "must be below field capacity");
  soil.source = row.text("source");
  return soil;
}

}  // namespace

Read<SoilTable> parse_soil_table(std::string_view csv, std::string_view name) {
  TableReader reader(
      csv, name,
      {"soil", "fc_low", "fc_high", "wp_low", "wp_high", "rew_low", "rew_high", "tew_low",
       "tew_high", "awc_low", "awc_high", "fc", "wp", "hydrologic_group", "source"});
  SoilTable table;
  while (reader.next()) {
    SoilTexture soil = read_row(reader);
    if (find_texture(table, soil.name) != nullptr) reader.fault("soil", "is there twice");
    table.push_back(std::move(soil));
  }
  return finish(reader, std::move(table));
}

SoilTable soil_table() {
  std::vector<Finding> findings;
  return value_or_throw(parse_soil_table(published_table("soils"), "soils.csv"), findings);
}

const SoilTexture* find_texture(const SoilTable& table, std::string_view name) {
  const std::string wanted = lower(name);
  const auto found = std::find_if(table.begin(), table.end(), [&](const SoilTexture& soil) {
    return lower(soil.name) == wanted;
  });
  return found == table.end() ? nullptr : &*found;
}

std::vector<std::string_view> names(const SoilTable& table) {
  std::vector<std::string_view> all;
  for (const SoilTexture& soil : table) all.push_back(soil.name);
  return all;
}

}  // namespace runnel
