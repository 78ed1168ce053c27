#pragma once

#include <array>
#include <cstddef>
#include <vector>

namespace runnel {

/// How high what stands around a place reaches, seen from it: one height above the level horizon
/// for each degree of azimuth, clockwise from north (index 0: 0 to 1 degree). 0 = open.
struct Skyline {
  static constexpr std::size_t directions = 360;
  std::array<double, directions> height_rad{};
  /// Height, radians, in a direction clockwise from north; any angle.
  [[nodiscard]] double height_at_rad(double azimuth_rad) const;
};

/// Something that stands in the way between two directions, degrees clockwise from north (0-360);
/// `to` below `from` goes through north.
struct Obstruction {
  double from_deg, to_deg;
  double height_deg;  ///< above the level horizon, 0-90; of a wall, at its middle
  /// A straight wall, square to the direction of its middle: it is further away towards its sides,
  /// so that tan(height) falls off with the cosine of the angle from the middle. At most 180
  /// degrees wide.
  bool wall = false;
};
/// Where obstructions overlap the higher counts.
void add_obstruction(Skyline& skyline, const Obstruction& obstruction);

/// A stretch of the day between two solar time angles, radians from solar noon. Angles beyond -pi
/// or pi mean the same times of the day before or after.
struct SunHours {
  double from_rad, to_rad;
};
/// Share (0-1) of a stretch that lies within any of `hours`, which must not overlap.
[[nodiscard]] double share_within(const SunHours& stretch, const std::vector<SunHours>& hours);

/// When the sun was seen to shine on a place on one day; the rest of the day it did not.
struct SunObservation {
  double declination_rad;
  std::vector<SunHours> seen;  ///< empty: never
};
/// How far what hid the sun is taken to reach above it. The declination of FAO-56 Eq. 24 lies up to
/// 1.39 degrees beside the sun's (tests/sky/libnova_test.cpp); and at the sun's own height a
/// skyline would let it through all day when it stands a hair higher a day later.
inline constexpr double skyline_margin_deg = 1.5;

/// The lowest skyline that lets the sun through when it was seen and hides it, with that margin,
/// when it was not: 0 in the directions where it was seen, its own height and the margin where it
/// was hidden. Where it stood in one direction both seen and hidden, the longer counts, unless it
/// was hidden below where it was seen. Directions in which it never stood get the mean height of
/// the others. Open when the sun rose on none of the days.
[[nodiscard]] Skyline lowest_skyline(double latitude_rad,
                                     const std::vector<SunObservation>& observations);

/// Share (0-1) of an evenly bright sky that a bed sees: its tilted plane's view of the sky above
/// the skyline. Level, it is the mean over azimuth of cos2(height) (1 for a flat horizon, cos2(b)
/// in a round basin, (1 + cos b) / 2 before a long wall: Oke 1987, from memory); with an open
/// horizon it is (1 + cos(slope)) / 2 (Liu and Jordan 1963, from memory).
/// @param facing_rad the direction the bed slopes down to, clockwise from north.
[[nodiscard]] double sky_view(const Skyline& skyline, double slope_rad, double facing_rad);

}  // namespace runnel
