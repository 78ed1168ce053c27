#pragma once

#include "runnel/units/quantity.hpp"

namespace runnel {

// Exponent x of q = k P^x. Keller & Karmeli 1974 (from memory).
constexpr double turbulent_exponent = 0.5;     ///< most emitters, sprays and rotors
constexpr double laminar_exponent = 1.0;       ///< soaker hoses, spiral-path drippers
constexpr double compensating_exponent = 0.0;  ///< pressure-compensating emitters

/// What one emitter gives, and at which pressure.
struct EmitterFlow {
  Flow rated;        ///< > 0
  double rated_kpa;  ///< the pressure of that figure, > 0
  double exponent;   ///< 0 to 1
};

/// rated (P / rated pressure)^x; nothing where there is no pressure. Keller & Karmeli 1974 (from
/// memory).
/// @throws std::invalid_argument unless the figures lie within their limits and the pressure is
/// finite.
[[nodiscard]] Flow flow_at(const EmitterFlow& emitter, double pressure_kpa);

}  // namespace runnel
