#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <string_view>

#include "runnel/units/calendar.hpp"
#include "runnel/units/number.hpp"

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

}  // namespace runnel::cli
