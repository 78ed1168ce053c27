#include "runnel/reference_et/temperature_only.hpp"

#include <numbers>
#include <stdexcept>

#include "runnel/sky/radiation.hpp"

namespace runnel {

Column temperature_eto_mm_d(Date first_day, const Column& t_max_c, const Column& t_min_c,
                            const Site& site) {
  if (t_max_c.size() != t_min_c.size())
    throw std::invalid_argument("temperature-only ET: columns of different length");
  // Written so that a NaN fails it.
  if (!(t_max_c >= t_min_c).all() || !t_max_c.isFinite().all() || !t_min_c.isFinite().all()) {
    throw std::invalid_argument(
        "temperature-only ET: a temperature is not finite, or Tmin is above Tmax");
  }
  const Column ra_of_year =
      extraterrestrial_radiation_of_year_mj_m2_d(site.latitude_deg * std::numbers::pi / 180.0);
  Column ra_mm(t_max_c.size());
  for (Eigen::Index i = 0; i < ra_mm.size(); ++i) {
    ra_mm[i] = 0.408 * ra_of_year[day_of_year(first_day + std::chrono::days{i}) - 1];  // Eq. 20
  }
  // Eq. 52. Below -17.8 °C it would turn negative.
  return (0.0023 * ((t_max_c + t_min_c) / 2.0 + 17.8) * (t_max_c - t_min_c).sqrt() * ra_mm)
      .max(0.0);
}

}  // namespace runnel
