#pragma once

#include "runnel/units/quantity.hpp"

namespace runnel {

/// What the ground takes in, and how much may stand on it.
struct Intake {
  Rate basic_rate;
  Depth surface_storage;
};

/// The longest run before water runs off, and the pause after a run of that length.
struct CycleLimit {
  Duration longest_cycle;  ///< infinite when the ground takes the rate
  Duration full_soak;      ///< pause after a full-length cycle; 0 when no cycle is needed
};
/// 60 S / (R - I) and 60 S / I. Irrigation Association, Landscape Irrigation Scheduling and Water
/// Management (2005).
/// @throws std::invalid_argument unless rate and intake are > 0 and storage >= 0.
[[nodiscard]] CycleLimit cycle_limit(Rate application, const Intake& intake);

/// Pause after a cycle of that length: length (R - I) / I, at most full_soak.
[[nodiscard]] Duration soak_after(Duration cycle, Rate application, const Intake& intake);

}  // namespace runnel
