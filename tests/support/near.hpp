#pragma once

#include <cmath>
#include <ostream>

namespace runnel {

/// `CHECK(value == near(expected, tolerance))`: equal within an absolute tolerance, ends included.
struct Near {
  double expected, tolerance;
  friend bool operator==(double value, const Near& near) {
    return std::abs(value - near.expected) <= near.tolerance;
  }
  friend std::ostream& operator<<(std::ostream& out, const Near& near) {
    return out << near.expected << " +- " << near.tolerance;
  }
};
[[nodiscard]] inline Near near(double expected, double tolerance) { return {expected, tolerance}; }

}  // namespace runnel
