#include "days_twice.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace runnel::cli {
namespace {

void write(JsonWriter& json, const char* key, const std::optional<double>& number) {
  json.value(key, number.value_or(std::nan("")));
}

void write_days(JsonWriter& json, const char* key, const std::vector<DayTwice>& days) {
  json.begin_array(key);
  for (const DayTwice& day : days) {
    json.begin_object();
    json.value("date", iso_date(day.date));
    write(json, "assumed_eto_mm", day.assumed_eto_mm);
    write(json, "eto_mm", day.eto_mm);
    write(json, "assumed_rain_mm", day.assumed_rain_mm);
    write(json, "rain_mm", day.rain_mm);
    json.end();
  }
  json.end();
}

void write_sum(JsonWriter& json, const char* key, const DaysTwice& sum) {
  json.begin_object(key);
  json.value("days", sum.days);
  json.value("assumed_eto_mm", sum.assumed_eto_mm);
  json.value("eto_mm", sum.eto_mm);
  write(json, "eto_more_percent", sum.eto_more_percent());
  json.value("assumed_rain_mm", sum.assumed_rain_mm);
  json.value("rain_mm", sum.rain_mm);
  json.end();
}

}  // namespace

std::optional<double> DaysTwice::eto_more_percent() const {
  if (assumed_eto_mm <= 0.0) return std::nullopt;
  return 100.0 * (eto_mm / assumed_eto_mm - 1.0);
}

DaysTwice sum_of(const std::vector<DayTwice>& days) {
  DaysTwice sum;
  for (const DayTwice& day : days) {
    if (day.assumed_eto_mm && day.eto_mm) {
      ++sum.days;
      sum.assumed_eto_mm += *day.assumed_eto_mm;
      sum.eto_mm += *day.eto_mm;
    }
    if (day.assumed_rain_mm && day.rain_mm) {
      sum.assumed_rain_mm += *day.assumed_rain_mm;
      sum.rain_mm += *day.rain_mm;
    }
  }
  return sum;
}

bool any_known(const std::vector<DayTwice>& days) {
  return std::any_of(days.begin(), days.end(),
                     [](const DayTwice& day) { return day.eto_mm.has_value(); });
}

void write_days_twice(JsonWriter& json, const Replan& again) {
  write_days(json, "since", again.since);
  write_sum(json, "since_sum", sum_of(again.since));
  write_days(json, "ahead", again.ahead);
  write_sum(json, "ahead_sum", sum_of(again.ahead));
}

}  // namespace runnel::cli
