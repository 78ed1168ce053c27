#pragma once

#include <vector>

#include "runnel/sky/sun.hpp"

namespace runnel {

/// A few minutes of the day, the sun taken to stand where it does in their middle.
struct SunStep {
  double from_rad, to_rad;  ///< time angles
  SunPosition sun;
  double global_share;   ///< of the day's global radiation
  double diffuse_share;  ///< of the day's diffuse radiation
};

/// The daylight in equal steps of at most five minutes, the same on both sides of solar noon; empty
/// in the polar night. The shares are those of Collares-Pereira and Rabl and of Liu and Jordan,
/// each made to add up to 1. On a polar day, for which neither was made, diffuse radiation goes by
/// the sine of the sun's height, as it does on all others, and the variation of the factor between
/// the two fades out towards the pole, where the sun's height does not change.
[[nodiscard]] std::vector<SunStep> sun_path(double latitude_rad, double declination_rad);

/// How much of the day's beam radiation falls in each step: the global less the diffuse where that
/// is positive, made to add up to 1. [steps of `path`]
/// @param diffuse_share of the day's global radiation, 0-1.
[[nodiscard]] std::vector<double> beam_shares(const std::vector<SunStep>& path,
                                              double diffuse_share);

}  // namespace runnel
