#pragma once

#include "runnel/delivery/emitter_flow.hpp"
#include "runnel/units/quantity.hpp"

namespace runnel {

/// A pipe fed at one end, closed at the other, with emitters at equal spacing, the first one
/// spacing from the inlet.
struct Lateral {
  EmitterFlow emitter;
  int emitters;              ///< 1 to 2000
  double spacing_m;          ///< > 0
  double inside_diameter_m;  ///< > 0
  double roughness_c;        ///< Hazen-Williams C, > 0
  double rise_m;             ///< from inlet to end; negative downhill
};

/// What its emitters get.
struct LateralFlow {
  bool fed;  ///< false: the pressure runs out before the end, and the figures below are 0
  double first_kpa, last_kpa;
  double least_kpa, most_kpa;
  Flow total, least, most;  ///< total of the line; least and most of one emitter
  /// 1 - least / most: the flow variation.
  [[nodiscard]] double variation() const { return fed ? 1.0 - least / most : 1.0; }
};

/// Friction (Hazen-Williams) and rise from emitter to emitter, each with the flow its own pressure
/// gives; the pressure at the end is the one that makes the inlet's, to 1e-9 of it.
/// @throws std::invalid_argument unless the figures lie within their limits, and inlet_kpa > 0.
[[nodiscard]] LateralFlow lateral_flow(const Lateral& lateral, double inlet_kpa);

/// How uneven a line may be.
struct LateralLimit {
  double most_variation;  ///< of flow, 0 to < 1
  double least_kpa;       ///< at every emitter, >= 0; what a compensating one needs to work
};

/// Emitters (at the lateral's spacing and rise per metre, whatever its own number) on the longest
/// line that keeps the limit; 0 when not even one does. Found by halving between a line that keeps
/// it and one that does not; at most 2000.
/// @throws std::invalid_argument as lateral_flow.
[[nodiscard]] int most_emitters(const Lateral& lateral, double inlet_kpa,
                                const LateralLimit& limit);

}  // namespace runnel
