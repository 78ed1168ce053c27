#pragma once

#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "runnel/units/finding.hpp"
#include "runnel/weather/weather_csv.hpp"

namespace runnel {

/// All findings, one a line.
inline std::string text_of(const std::vector<Finding>& findings) {
  std::string text;
  for (const Finding& finding : findings) text += to_text(finding) + "\n";
  return text;
}

/// The series of a text that must be readable.
inline WeatherSeries series_of(std::string_view csv, const WeatherLayout& layout = {}) {
  Read<WeatherSeries> read = parse_weather(csv, "w.csv", layout);
  INFO(text_of(read.findings));
  REQUIRE(read.value.has_value());
  return std::move(*read.value);
}

/// Findings of a text, one a line; a value must be there exactly when none is an error.
inline std::string findings_of(std::string_view csv, const WeatherLayout& layout = {}) {
  const Read<WeatherSeries> read = parse_weather(csv, "w.csv", layout);
  CHECK(read.value.has_value() == !has_error(read.findings));
  return text_of(read.findings);
}

/// The errors only.
inline std::string errors_of(std::string_view csv, const WeatherLayout& layout = {}) {
  std::string text;
  for (const Finding& finding : parse_weather(csv, "w.csv", layout).findings) {
    if (finding.kind == Finding::Kind::error) text += to_text(finding) + "\n";
  }
  return text;
}

inline bool contains(std::string_view text, std::string_view part) {
  return text.find(part) != std::string_view::npos;
}

}  // namespace runnel
