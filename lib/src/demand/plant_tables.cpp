#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>

#include "runnel/demand/plants.hpp"
#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

constexpr std::array<std::string_view, 12> months{"jan", "feb", "mar", "apr", "may", "jun",
                                                  "jul", "aug", "sep", "oct", "nov", "dec"};

int whole(TableReader& row, std::string_view column) {
  const double number = row.number(column);
  if (!(number >= 0.0 && number <= 1000.0) || number != std::floor(number)) {
    row.fault(column, "must be a whole number of days");
    return 0;
  }
  return static_cast<int>(number);
}

/// The row's name, which no row before may have.
template <class Rows>
std::string own_name(TableReader& row, std::string_view column, const Rows& before) {
  std::string name = row.text(column);
  for (const auto& other : before) {
    if (lower(other.name) == lower(name)) row.fault(column, "is there twice");
  }
  return name;
}

std::vector<Crop> read_crops(TableReader& row) {
  std::vector<Crop> crops;
  while (row.next()) {
    Crop crop{};
    crop.name = own_name(row, "crop", crops);
    crop.kc = {.ini = row.number("kc_ini"),
               .mid = row.number_within("kc_mid", "kc_mid_low", "kc_mid_high"),
               .end = row.number_within("kc_end", "kc_end_low", "kc_end_high")};
    crop.kcb = {
        .ini = row.number("kcb_ini"), .mid = row.number("kcb_mid"), .end = row.number("kcb_end")};
    crop.stages = {.ini = whole(row, "l_ini"),
                   .dev = whole(row, "l_dev"),
                   .mid = whole(row, "l_mid"),
                   .late = whole(row, "l_late")};
    crop.height_m = row.number("height_m");
    crop.root_depth_m = row.number("zr_low_m");
    crop.p = row.number("p");
    crop.source = row.text("source");
    crops.push_back(std::move(crop));
  }
  return crops;
}

std::vector<Landscape> read_landscape(TableReader& row) {
  std::vector<Landscape> plantings;
  while (row.next()) {
    Landscape planting{};
    planting.name = own_name(row, "kind", plantings);
    planting.factor = row.number_within("factor", "factor_low", "factor_high");
    planting.density_factor = {row.number("sparse"), row.number("average"), row.number("dense")};
    planting.container_coefficient =
        row.number_within("container", "container_low", "container_high");
    planting.root_depth_m = row.number_within("root_depth_m", "root_low_m", "root_high_m");
    planting.p = row.number_within("p", "p_low", "p_high");
    planting.source = row.text("source");
    plantings.push_back(std::move(planting));
  }
  return plantings;
}

std::vector<Turf> read_turf(TableReader& row) {
  std::vector<Turf> lawns;
  while (row.next()) {
    Turf turf{};
    turf.name = own_name(row, "kind", lawns);
    for (std::size_t m = 0; m < months.size(); ++m)
      turf.kc_by_month[m] = row.number_within(months[m], "kc_low", "kc_high");
    turf.root_depth_m = row.number_within("root_depth_m", "root_low_m", "root_high_m");
    turf.p = row.number_within("p", "p_low", "p_high");
    turf.source = row.text("source");
    lawns.push_back(std::move(turf));
  }
  return lawns;
}

}  // namespace

Read<PlantTable> parse_plant_table(std::string_view crops_csv, std::string_view landscape_csv,
                                   std::string_view turf_csv) {
  TableReader crops(crops_csv, "crops.csv",
                    {"crop", "kc_ini", "kc_mid", "kc_mid_low", "kc_mid_high", "kc_end",
                     "kc_end_low", "kc_end_high", "kcb_ini", "kcb_mid", "kcb_end", "height_m",
                     "zr_low_m", "p", "l_ini", "l_dev", "l_mid", "l_late", "source"});
  TableReader landscape(landscape_csv, "landscape.csv",
                        {"kind", "factor", "factor_low", "factor_high", "sparse", "average",
                         "dense", "container", "container_low", "container_high", "root_depth_m",
                         "root_low_m", "root_high_m", "p", "p_low", "p_high", "source"});
  TableReader turf(
      turf_csv, "turf.csv",
      {"kind",       "jan",         "feb", "mar",   "apr",    "may",    "jun",     "jul",
       "aug",        "sep",         "oct", "nov",   "dec",    "kc_low", "kc_high", "root_depth_m",
       "root_low_m", "root_high_m", "p",   "p_low", "p_high", "source"});
  PlantTable table{
      .crops = read_crops(crops), .landscape = read_landscape(landscape), .turf = read_turf(turf)};
  Read<PlantTable> read{.value = std::nullopt, .findings = crops.take_findings()};
  for (TableReader* reader : {&landscape, &turf})
    for (Finding& finding : reader->take_findings()) read.findings.push_back(std::move(finding));
  if (!has_error(read.findings)) read.value = std::move(table);
  return read;
}

PlantTable plant_table() {
  std::vector<Finding> findings;
  return value_or_throw(parse_plant_table(published_table("crops"), published_table("landscape"),
                                          published_table("turf")),
                        findings);
}

}  // namespace runnel
