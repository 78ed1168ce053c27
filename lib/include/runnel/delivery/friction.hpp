#pragma once

#include "runnel/units/quantity.hpp"

namespace runnel {

/// Weight of a column of water of 1 m: 1000 kg/m3 under standard gravity (3rd CGPM). Extension
/// leaflets print 0.433 psi per foot, 0.1 % less.
constexpr double kpa_per_metre_of_water = 9.80665;

/// Roughness C of Hazen and Williams: polyethylene 140-150, the rougher end. Keller & Bliesner 1990
/// (from memory).
constexpr double polyethylene_c = 140.0;

/// A pipe of one diameter throughout.
struct Pipe {
  double length_m;           ///< > 0
  double inside_diameter_m;  ///< > 0
  double roughness_c;        ///< Hazen-Williams C, > 0
};

/// Pressure lost to friction when the whole flow goes through the whole length:
/// h = 10.67 L Q^1.852 / (C^1.852 D^4.87), in m with Q in m3/s (Hazen-Williams, standard hydraulics
/// texts, from memory).
/// @throws std::invalid_argument unless every figure of the pipe is finite and > 0, the flow >= 0.
[[nodiscard]] double friction_loss_kpa(const Pipe& pipe, Flow flow);

/// Share of that loss that is left when the flow goes out by equal outlets along the pipe, the
/// first one spacing from the inlet: 1/(m+1) + 1/(2N) + sqrt(m-1)/(6 N^2), m = 1.852; 1 for one
/// outlet. Christiansen 1942, Univ. California Bull. 670 (from memory).
/// @throws std::invalid_argument unless outlets >= 1.
[[nodiscard]] double christiansen_factor(int outlets);

}  // namespace runnel
