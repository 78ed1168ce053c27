#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <string_view>

#include "runnel/units/number.hpp"

namespace runnel {

/// A figure as printed, and half a unit of its last printed digit.
struct Figure {
  double value;
  double half_digit;
};

inline Figure figure(std::string_view text) {
  const auto value = parse_number(text);
  REQUIRE_MESSAGE(value.has_value(), std::string{text});
  const auto point = text.find('.');
  const auto decimals = point == std::string_view::npos ? 0 : text.size() - point - 1;
  // The hair more lets a computed value stand exactly on the edge, which binary figures miss.
  return {.value = *value,
          .half_digit = 0.5 * std::pow(10.0, -static_cast<double>(decimals)) * (1.0 + 1e-9)};
}

}  // namespace runnel
