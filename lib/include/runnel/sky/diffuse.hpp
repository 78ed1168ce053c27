#pragma once

namespace runnel {

// How much of the light comes from the whole sky instead of the sun's disc, and when in the day it
// comes. Angles in radians.

/// Diffuse share (0-1) of an hour's global radiation. Erbs, Klein and Duffie 1982, Eq. 1.
/// @param clearness the hour's global over extraterrestrial radiation; taken as within 0 to 1.
[[nodiscard]] double hourly_diffuse_share(double clearness);

/// Diffuse share (0-1) of a day's global radiation. Erbs, Klein and Duffie 1982, daily correlation
/// (Duffie and Beckman Eq. 2.11.1, from memory): one curve for winter, one for the longer days.
/// @param clearness the day's Rs/Ra; taken as within 0 to 1.
[[nodiscard]] double daily_diffuse_share(double clearness, double sunset_hour_angle_rad);

/// How much more global than diffuse radiation goes by the sun's height: a + b cos(w), the factor
/// between the shapes of the two below. Collares-Pereira and Rabl 1979.
[[nodiscard]] double global_over_diffuse(double sunset_hour_angle_rad, double cos_time_angle);

/// Share of the day's global radiation that falls in the hour around a time angle. Collares-Pereira
/// and Rabl 1979. The hours add up to 1 within 0.7 % only; 0 when the sun is down.
[[nodiscard]] double global_share_per_h(double sunset_hour_angle_rad, double time_angle_rad);

/// The same for diffuse radiation. Liu and Jordan 1960.
[[nodiscard]] double diffuse_share_per_h(double sunset_hour_angle_rad, double time_angle_rad);

}  // namespace runnel
