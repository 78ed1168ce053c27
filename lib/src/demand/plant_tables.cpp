#include <algorithm>
#include <array>
#include <cmath>
#include <set>
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
constexpr std::array<std::string_view, 4> need_columns{"very_low", "low", "moderate", "high"};
constexpr std::array<std::string_view, 4> need_names{"very low", "low", "moderate", "high"};

int whole(TableReader& row, std::string_view column, double most) {
  const double number = row.number(column);
  if (!(number >= 0.0 && number <= most) || number != std::floor(number)) {
    row.fault(column, "must be a whole number of 0 to " + shortest(most));
    return 0;
  }
  return static_cast<int>(number);
}

std::vector<std::string> parts(std::string_view text) {
  std::vector<std::string> all;
  while (!text.empty()) {
    const auto end = std::min(text.find(';'), text.size());
    all.emplace_back(trimmed(text.substr(0, end)));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return all;
}

/// The names given so far: crops, kinds and lawns share none.
class Names {
 public:
  void add(TableReader& row, std::string_view column, std::string_view name) {
    if (!taken_.insert(lower(name)).second) row.fault(column, quoted(name) + " is there twice");
  }

 private:
  std::set<std::string> taken_;
};

std::string own_name(TableReader& row, std::string_view column, Names& names) {
  std::string name = row.text(column);
  names.add(row, column, name);
  return name;
}

std::vector<std::string> other_names(TableReader& row, Names& names) {
  std::vector<std::string> also = parts(row.text_if_any("also"));
  for (const std::string& name : also) names.add(row, "also", name);
  return also;
}

/// A value between 0 and what no plant passes (a slip of the pen otherwise; no source).
double plausible(TableReader& row, std::string_view column, double most) {
  const double value = row.number(column);
  if (value < 0.0 || value > most) row.fault(column, "must lie between 0 and " + shortest(most));
  return value;
}

struct Ranged {
  double value;
  Span span;
};
Ranged ranged(TableReader& row, std::string_view column, std::string_view low,
              std::string_view high) {
  const double value = row.number_within(column, low, high);
  return {.value = value, .span = {.low = row.number(low), .high = row.number(high)}};
}

Season season_of(TableReader& row) {
  const std::string text = row.text("season");
  if (text == "perennial") return Season::perennial;
  if (text == "evergreen") return Season::evergreen;
  if (text != "annual") row.fault("season", "must be annual, perennial or evergreen");
  return Season::annual;
}

void read_off_season(TableReader& row, Crop& crop) {
  if (crop.season != Season::perennial) {
    for (const std::string_view column : {"green_up", "kc_off", "kcb_off"})
      if (!row.text_if_any(column).empty()) row.fault(column, "is for perennials only");
    return;
  }
  const Ranged kc = ranged(row, "kc_off", "kc_off_low", "kc_off_high");
  crop.off = OffSeason{.kc = kc.value, .kcb = row.number("kcb_off")};
  crop.kc_off = kc.span;
  if (crop.off->kcb > crop.off->kc) row.fault("kcb_off", "is above kc_off");
  crop.green_up_month = static_cast<unsigned>(whole(row, "green_up", 12.0));
  if (crop.green_up_month == 0) row.fault("green_up", "must be a month, 1 to 12");
}

void read_coefficients(TableReader& row, Crop& crop) {
  constexpr double no_plant = 1.3;  // above FAO-56 Table 12's highest, 1.20
  const Ranged mid = ranged(row, "kc_mid", "kc_mid_low", "kc_mid_high");
  const Ranged end = ranged(row, "kc_end", "kc_end_low", "kc_end_high");
  crop.kc = {.ini = plausible(row, "kc_ini", no_plant), .mid = mid.value, .end = end.value};
  const Ranged basal_mid = ranged(row, "kcb_mid", "kcb_mid_low", "kcb_mid_high");
  const Ranged basal_end = ranged(row, "kcb_end", "kcb_end_low", "kcb_end_high");
  crop.kcb = {
      .ini = plausible(row, "kcb_ini", no_plant), .mid = basal_mid.value, .end = basal_end.value};
  crop.kc_mid = mid.span;
  crop.kc_end = end.span;
  crop.kcb_mid = basal_mid.span;
  crop.kcb_end = basal_end.span;
  // Kc is Kcb and the evaporation beside it (FAO-56 Eq. 69).
  if (crop.kcb.ini > crop.kc.ini) row.fault("kcb_ini", "is above kc_ini");
  if (crop.kcb.mid > crop.kc.mid) row.fault("kcb_mid", "is above kc_mid");
  if (crop.kcb.end > crop.kc.end) row.fault("kcb_end", "is above kc_end");
}

std::vector<Crop> read_crops(TableReader& row, Names& names) {
  std::vector<Crop> crops;
  while (row.next()) {
    Crop crop{};
    crop.name = own_name(row, "crop", names);
    crop.also = other_names(row, names);
    crop.group = row.text("group");
    crop.season = season_of(row);
    read_off_season(row, crop);
    read_coefficients(row, crop);
    const Ranged height = ranged(row, "height_m", "height_low_m", "height_high_m");
    crop.height_m = height.value;
    crop.height = height.span;
    crop.root_depth_m = row.number_within("zr_low_m", "zr_low_m", "zr_high_m");
    crop.root_depth_most_m = row.number("zr_high_m");
    crop.p = plausible(row, "p", 1.0);
    crop.note = row.text_if_any("note");
    crop.source = row.text("source");
    crops.push_back(std::move(crop));
  }
  return crops;
}

Crop* crop_called(std::vector<Crop>& crops, std::string_view name) {
  const auto found =
      std::find_if(crops.begin(), crops.end(), [&](const Crop& crop) { return crop.name == name; });
  return found == crops.end() ? nullptr : &*found;
}

/// Gives each crop its default stages on the way. @param lacking column to report at.
std::vector<PublishedStages> read_stages(TableReader& row, std::vector<Crop>& crops) {
  constexpr double longest_stage = 400.0;
  std::vector<PublishedStages> stages;
  while (row.next()) {
    PublishedStages one{};
    one.crop = row.text("crop");
    one.lengths = {.ini = whole(row, "ini", longest_stage),
                   .dev = whole(row, "dev", longest_stage),
                   .mid = whole(row, "mid", longest_stage),
                   .late = whole(row, "late", longest_stage)};
    one.planting = row.text("planting");
    one.region = row.text("region");
    one.source = row.text("source");
    const std::string chosen = row.text_if_any("default");
    one.is_default = chosen == "yes";
    if (!chosen.empty() && !one.is_default) row.fault("default", "must be yes or empty");
    Crop* const crop = crop_called(crops, one.crop);
    if (crop == nullptr) {
      row.fault("crop", "no crop is called " + quoted(one.crop));
    } else if (one.is_default) {
      if (crop->stages) row.fault("default", "is the second of " + quoted(one.crop));
      crop->stages = one.lengths;
      crop->stages_source = one.source + " (" + one.planting + "; " + one.region + ")";
    }
    if (crop != nullptr && crop->season == Season::evergreen)
      row.fault("crop", "an evergreen crop has no stages");
    stages.push_back(std::move(one));
  }
  return stages;
}

/// What no single row shows: a crop with stages, none of them the default, or a perennial without.
void check_defaults(const std::vector<Crop>& crops, const std::vector<PublishedStages>& stages,
                    std::vector<Finding>& findings) {
  for (const Crop& crop : crops) {
    const bool listed = std::any_of(stages.begin(), stages.end(), [&](const PublishedStages& one) {
      return one.crop == crop.name;
    });
    if (crop.stages || (!listed && crop.season != Season::perennial)) continue;
    findings.push_back({.kind = Finding::Kind::error,
                        .at = {.file = "crop_stages.csv", .line = 1, .column = 0, .key = "default"},
                        .says = "no stages of " + quoted(crop.name) + " are its default",
                        .mend = "write yes in one of its rows"});
  }
}

std::array<PublishedNeed, 4> read_needs(TableReader& row) {
  std::array<PublishedNeed, 4> needs;
  std::size_t read = 0;
  while (row.next()) {
    const std::string name = row.text("need");
    if (read == needs.size() || name != need_names.at(read)) {
      row.fault("need", "the classes must be very low, low, moderate, high");
      continue;
    }
    const double low = row.number_within("low", "low", "high");
    needs.at(read++) = {.name = name,
                        .factor = {.low = low, .high = row.number("high")},
                        .source = row.text("source")};
  }
  return needs;
}

/// The factors of the classes: all four, each within its class, or none.
void read_needed_factors(TableReader& row, const std::array<PublishedNeed, 4>& needs,
                         Landscape& planting) {
  std::array<double, 4> factors{};
  std::size_t written = 0;
  for (std::size_t i = 0; i < factors.size(); ++i) {
    const auto factor = row.number_if_any(need_columns.at(i));
    if (!factor) continue;
    ++written;
    factors.at(i) = *factor;
    const Span& published = needs.at(i).factor;
    if (*factor < published.low || *factor > published.high)
      row.fault(need_columns.at(i), shortest(*factor) + " lies outside its class, " +
                                        shortest(published.low) + " to " +
                                        shortest(published.high));
  }
  if (written == factors.size()) planting.factor_by_need = factors;
  if (written % factors.size() != 0) row.fault("high", "a kind has all four classes or none");
}

/// Root depth and depletion share of a planting or a lawn.
template <class Plants>
void read_roots(TableReader& row, Plants& plants) {
  const Ranged depth = ranged(row, "root_depth_m", "root_low_m", "root_high_m");
  const Ranged p = ranged(row, "p", "p_low", "p_high");
  plants.root_depth_m = depth.value;
  plants.root_published_m = depth.span;
  plants.p = p.value;
  plants.p_published = p.span;
}

std::vector<Landscape> read_landscape(TableReader& row, const std::array<PublishedNeed, 4>& needs,
                                      Names& names) {
  std::vector<Landscape> plantings;
  while (row.next()) {
    Landscape planting{};
    planting.name = own_name(row, "kind", names);
    planting.also = other_names(row, names);
    const Ranged factor = ranged(row, "factor", "factor_low", "factor_high");
    planting.factor = factor.value;
    planting.published = factor.span;
    read_needed_factors(row, needs, planting);
    const std::array densities = {ranged(row, "sparse", "sparse_low", "sparse_high"),
                                  ranged(row, "average", "average_low", "average_high"),
                                  ranged(row, "dense", "dense_low", "dense_high")};
    for (std::size_t i = 0; i < densities.size(); ++i) {
      planting.density_factor.at(i) = densities.at(i).value;
      planting.density_published.at(i) = densities.at(i).span;
    }
    const Ranged container = ranged(row, "container", "container_low", "container_high");
    planting.container_coefficient = container.value;
    planting.container_published = container.span;
    read_roots(row, planting);
    planting.height_m = plausible(row, "height_m", 100.0);
    planting.root_ball_m = plausible(row, "root_ball_m", planting.root_depth_m);
    planting.establishment_days = whole(row, "establishment_days", 3650.0);
    planting.source = row.text("source");
    plantings.push_back(std::move(planting));
  }
  return plantings;
}

std::vector<Turf> read_turf(TableReader& row, Names& names) {
  std::vector<Turf> lawns;
  while (row.next()) {
    Turf turf{};
    turf.name = own_name(row, "kind", names);
    turf.also = other_names(row, names);
    for (std::size_t m = 0; m < months.size(); ++m)
      turf.kc_by_month.at(m) = row.number_within(months.at(m), "kc_low", "kc_high");
    read_roots(row, turf);
    turf.source = row.text("source");
    lawns.push_back(std::move(turf));
  }
  return lawns;
}

}  // namespace

Read<PlantTable> parse_plant_table(const PlantTexts& texts) {
  TableReader crops(
      texts.crops, "crops.csv",
      {"crop",         "also",          "group",       "season",       "green_up",   "kc_ini",
       "kc_mid",       "kc_mid_low",    "kc_mid_high", "kc_end",       "kc_end_low", "kc_end_high",
       "kcb_ini",      "kcb_mid",       "kcb_mid_low", "kcb_mid_high", "kcb_end",    "kcb_end_low",
       "kcb_end_high", "kc_off",        "kc_off_low",  "kc_off_high",  "kcb_off",    "height_m",
       "height_low_m", "height_high_m", "zr_low_m",    "zr_high_m",    "p",          "note",
       "source"});
  TableReader stages(
      texts.crop_stages, "crop_stages.csv",
      {"crop", "ini", "dev", "mid", "late", "planting", "region", "default", "source"});
  TableReader needs(texts.water_needs, "water_needs.csv", {"need", "low", "high", "source"});
  TableReader landscape(
      texts.landscape, "landscape.csv",
      {"kind",           "also",         "factor",     "factor_low",  "factor_high",
       "very_low",       "low",          "moderate",   "high",        "sparse",
       "sparse_low",     "sparse_high",  "average",    "average_low", "average_high",
       "dense",          "dense_low",    "dense_high", "container",   "container_low",
       "container_high", "root_depth_m", "root_low_m", "root_high_m", "p",
       "p_low",          "p_high",       "height_m",   "root_ball_m", "establishment_days",
       "source"});
  TableReader turf(
      texts.turf, "turf.csv",
      {"kind",         "also",       "jan",         "feb", "mar",   "apr",    "may",    "jun",
       "jul",          "aug",        "sep",         "oct", "nov",   "dec",    "kc_low", "kc_high",
       "root_depth_m", "root_low_m", "root_high_m", "p",   "p_low", "p_high", "source"});
  PlantTable table;
  Names names;
  table.crops = read_crops(crops, names);
  table.stages = read_stages(stages, table.crops);
  table.needs = read_needs(needs);
  table.landscape = read_landscape(landscape, table.needs, names);
  table.turf = read_turf(turf, names);
  Read<PlantTable> read;
  for (TableReader* reader : {&crops, &stages, &needs, &landscape, &turf})
    for (Finding& finding : reader->take_findings()) read.findings.push_back(std::move(finding));
  if (!has_error(read.findings)) check_defaults(table.crops, table.stages, read.findings);
  if (!has_error(read.findings)) read.value = std::move(table);
  return read;
}

const PlantTable& plant_table() {
  static const PlantTable table = [] {
    std::vector<Finding> findings;
    return value_or_throw(parse_plant_table({.crops = published_table("crops"),
                                             .crop_stages = published_table("crop_stages"),
                                             .landscape = published_table("landscape"),
                                             .turf = published_table("turf"),
                                             .water_needs = published_table("water_needs")}),
                          findings);
  }();
  return table;
}

}  // namespace runnel
