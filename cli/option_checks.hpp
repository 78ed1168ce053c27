#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <string_view>

#include "runnel/units/calendar.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel::cli {

// What an option's word must be. What CLI11 does not know it must not guess: dates and numbers are
// read by our own rules.

inline const CLI::Validator is_date(
    [](std::string& text) {
      return parse_date(text) ? std::string{}
                              : "\"" + text + "\" is not a date: write it as 2027-06-15";
    },
    {});

inline const CLI::Validator is_number(
    [](std::string& text) {
      return parse_number(text) ? std::string{} : "\"" + text + "\" is not a number";
    },
    {});

/// "10%" or "0.1".
inline const CLI::Validator is_risk(
    [](std::string& text) {
      const bool percent = text.ends_with('%');
      const auto number =
          parse_number(percent ? std::string_view(text).substr(0, text.size() - 1) : text);
      const double share = number ? *number / (percent ? 100.0 : 1.0) : -1.0;
      if (!(share >= 0.0 && share < 1.0))
        return "\"" + text + "\" is not a share below 1: write it as 10% or 0.1";
      text = shortest(share);
      return std::string{};
    },
    {});

/// "1 h", in whole minutes.
inline const CLI::Validator is_lead_time(
    [](std::string& text) {
      const MeasureOrFault read = parse_measure(text, Dimension::duration);
      constexpr double most_min = 28.0 * 24.0 * 60.0;
      if (!read.fault.empty() || !(read.value >= 0.0 && read.value <= most_min))
        return "\"" + text + "\" is not a time up to four weeks: write it as \"1 h\" or \"30 min\"";
      text = fixed(read.value, 0);
      return std::string{};
    },
    "");

}  // namespace runnel::cli
