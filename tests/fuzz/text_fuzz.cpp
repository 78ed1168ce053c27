// Any bytes as a quantity, a number, a date, a clock time and a word that may be misspelt.

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "fuzz_support.hpp"
#include "runnel/garden/time_zone.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/nearest.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"

namespace {

using runnel::fuzz::require;

void as_measure(std::string_view text) {
  constexpr int dimensions = static_cast<int>(runnel::Dimension::share) + 1;
  for (int i = 0; i < dimensions; ++i) {
    const auto dimension = static_cast<runnel::Dimension>(i);
    const runnel::MeasureOrFault measure = runnel::parse_measure(text, dimension);
    require(std::isfinite(measure.value), "a measure is finite", text);
    require(!measure.fault.empty() || measure.mend.empty(), "only a fault needs mending", text);
    require(measure.fault.size() + measure.mend.size() < 1000, "a fault is short", text);
  }
}

void as_number(std::string_view text) {
  for (const bool comma : {false, true}) {
    const auto number = runnel::parse_number(text, comma);
    if (!number) continue;
    require(std::isfinite(*number), "a number is finite", text);
    require(runnel::parse_number(runnel::shortest(*number)) == number, "shortest reads back", text);
  }
  if (const auto whole = runnel::parse_int(text)) {
    require(runnel::parse_int(std::to_string(*whole)) == whole, "a whole number reads back", text);
  }
}

void as_time(std::string_view text) {
  if (const auto date = runnel::parse_date(text)) {
    require(runnel::iso_date(*date) == text, "a date reads back", text);
    require(runnel::day_of_year(*date) >= 1 && runnel::day_of_year(*date) <= 366,
            "a date has its day of the year", text);
  }
  if (const auto time = runnel::parse_clock(text)) {
    require(time->count() >= 0 && time->count() <= 1440, "a clock time is within the day", text);
  }
  if (const auto day = runnel::parse_weekday(text)) {
    require(runnel::parse_weekday(runnel::weekday_name(*day)) == day, "a weekday reads back", text);
  }
  require(!runnel::is_time_zone(text) || runnel::standard_utc_offset(text, 2027).count() < 1000,
          "a time zone has an offset", text);
}

void as_word(std::string_view text) {
  static constexpr std::array<std::string_view, 4> known = {"area", "valve", "soil", "emitters"};
  if (const auto guess = runnel::nearest(text, known)) {
    require(runnel::edit_distance(text, *guess) <= 86, "a guess is near", text);
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = runnel::fuzz::as_text(data, size);
  as_measure(text);
  as_number(text);
  as_time(text);
  as_word(text);
  return 0;
}
