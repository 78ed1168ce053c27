#include "runnel/demand/exposure_words.hpp"

#include <algorithm>
#include <numbers>
#include <optional>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

double solar_angle_rad(WallTime solar_time) {
  return (static_cast<double>(solar_time.count()) / 60.0 - 12.0) * std::numbers::pi / 12.0;
}

/// "all day" (nothing), "none" (no hours), or a stretch of solar time: "07:00-11:30".
std::optional<std::vector<SunHours>> sun_hours(TableReader& row) {
  const std::string text = row.text("sun");
  if (text.empty() || text == "all day") return std::nullopt;
  if (text == "none") return std::vector<SunHours>{};
  const std::size_t dash = text.find('-');
  const auto from = parse_clock(text.substr(0, dash));
  const auto to = dash == std::string::npos ? std::nullopt : parse_clock(text.substr(dash + 1));
  if (from && to && *from < *to)
    return std::vector<SunHours>{
        {.from_rad = solar_angle_rad(*from), .to_rad = solar_angle_rad(*to)}};
  row.fault("sun", quoted(text) + " is neither \"all day\", \"none\" nor a stretch of the day");
  return std::nullopt;
}

double number_between(TableReader& row, std::string_view column, double least, double most) {
  const double value = row.number(column);
  if (value >= least && value <= most) return value;
  row.fault(column, shortest(value) + " is outside " + shortest(least) + " to " + shortest(most));
  return most;
}

}  // namespace

Read<ExposureTable> parse_exposure_table(std::string_view csv, std::string_view name) {
  TableReader row(csv, name,
                  {"words", "sun", "sky", "canopy", "wind", "albedo", "longwave", "meaning",
                   "factor", "low", "high", "source"});
  ExposureTable table;
  while (row.next()) {
    ExposureWords words{};
    words.words = row.text("words");
    words.exposure.sun_hours = sun_hours(row);
    words.exposure.sky_share = number_between(row, "sky", 0.0, 1.0);
    words.exposure.canopy_share = number_between(row, "canopy", 0.0, 1.0);
    words.exposure.wind_share = number_between(row, "wind", 0.0, 3.0);
    words.exposure.albedo = number_between(row, "albedo", 0.0, 1.0);
    if (row.number_if_any("longwave"))
      words.exposure.longwave_share = number_between(row, "longwave", 0.0, 1.0);
    words.meaning = row.text("meaning");
    words.factor = row.number_within("factor", "low", "high");
    words.low = row.number("low");
    words.high = row.number("high");
    words.source = row.text("source");
    table.push_back(std::move(words));
  }
  return finish(row, std::move(table));
}

ExposureTable exposure_table() {
  std::vector<Finding> findings;
  return value_or_throw(
      parse_exposure_table(published_table("exposure_words"), "exposure_words.csv"), findings);
}

const ExposureWords* find_exposure(const ExposureTable& table, std::string_view words) {
  const std::string wanted = lower(words);
  const auto found = std::find_if(table.begin(), table.end(),
                                  [&](const ExposureWords& row) { return row.words == wanted; });
  return found == table.end() ? nullptr : &*found;
}

std::vector<std::string_view> names(const ExposureTable& table) {
  std::vector<std::string_view> all;
  for (const ExposureWords& row : table) all.push_back(row.words);
  return all;
}

}  // namespace runnel
