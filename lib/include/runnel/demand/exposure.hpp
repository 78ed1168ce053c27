#pragma once

#include <optional>
#include <vector>

#include "runnel/demand/skyline.hpp"
#include "runnel/reference_et/inputs.hpp"
#include "runnel/reference_et/method.hpp"
#include "runnel/sky/site.hpp"
#include "runnel/units/column.hpp"

namespace runnel {

/// Share of the light that ordinary surroundings throw back: the ground reflectance usual in solar
/// engineering (Liu and Jordan 1963, from memory); walls of brick or stone have 0.2-0.4 (Oke 1987).
inline constexpr double usual_albedo = 0.2;
/// Wind that a place keeps however sheltered. FAO-56 chapter 3 advises it as the least of u2.
inline constexpr double least_zone_wind_m_s = 0.5;

/// How sun, sky and wind reach a place. As it stands: open ground.
struct Exposure {
  Skyline skyline{};
  /// Solar time in which the sun may shine; nothing: whenever it is above the skyline.
  std::optional<std::vector<SunHours>> sun_hours;
  double canopy_share = 1.0;             ///< of the light, let through by leaves or cloth above
  double slope_rad = 0.0;                ///< of the bed, 0 to pi/4
  double facing_rad = 0.0;               ///< the direction it slopes down to, clockwise from north
  double albedo = usual_albedo;          ///< of what hides the sky, 0-1
  double wind_share = 1.0;               ///< of the wind over open ground
  std::optional<double> sky_share;       ///< 0-1, in place of the skyline's
  std::optional<double> longwave_share;  ///< of open ground's net long-wave, in place of what the
                                         ///< sky seen and the canopy let through
};

/// Whether all that sun, sky and wind bring to open ground reaches the place.
[[nodiscard]] bool is_open(const Exposure& exposure);

/// Share (0-1) of the sky that is not hidden by the skyline or the bed's own tilt, the canopy not
/// counted.
[[nodiscard]] double sky_share(const Exposure& exposure);

/// Share of a day's beam radiation that reaches a unit of the bed's own surface, over that of level
/// open ground: above 1 where the bed is tilted towards the sun. Sum over steps of five minutes
/// (sky/sun_path.hpp); 1 when the sun does not rise.
/// @param diffuse_share of the day's global radiation.
[[nodiscard]] double beam_share(double latitude_rad, double declination_rad, double diffuse_share,
                                const Exposure& exposure);

/// Every value on the way to a place's reference ET. [days]
struct ExposureSteps {
  Column beam_part;    ///< share of open ground's radiation that comes straight from the sun
  Column beam_share;   ///< of that, what reaches the place
  Column rs_mj_m2_d;   ///< short-wave on the place
  Column rnl_mj_m2_d;  ///< net long-wave out of it
  Column rn_mj_m2_d;
  Column u2_m_s;
  Column open_et_mm_d;  ///< reference ET of open ground
  Column et_mm_d;       ///< reference ET of the place; negative where condensation outweighs it
};
/// FAO-56 Eq. 6 with the radiation and the wind of the place. Short-wave = beam x its share +
/// diffuse x (sky x canopy) + (1 - sky) x albedo x global; the daily diffuse share is that of Erbs
/// et al. at Rs/Ra. Net long-wave = open ground's (with its Rs/Rso) x (sky x canopy). Wind = u2 x
/// share, not below 0.5 m/s (or u2 itself). Temperature and humidity stay open ground's.
/// @param method a daily one. @throws std::invalid_argument as eto_mm_d, and when a share, albedo
/// or slope is out of its range.
[[nodiscard]] ExposureSteps zone_et_steps(const EtInputs& inputs, const Site& site,
                                          const Exposure& exposure, const Method& method);
/// The last of these: equals eto_mm_d bit for bit on open ground. [days]
[[nodiscard]] Column zone_et_mm_d(const EtInputs& inputs, const Site& site,
                                  const Exposure& exposure, const Method& method);

/// A place's reference ET over open ground's, day by day, not below 0; 1 where open ground has
/// none.
[[nodiscard]] Column exposure_factor(const Column& place_et_mm_d, const Column& open_et_mm_d);

}  // namespace runnel
