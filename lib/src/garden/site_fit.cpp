#include "site_fit.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <numbers>

#include "runnel/sky/psychrometrics.hpp"
#include "runnel/sky/radiation.hpp"
#include "runnel/sky/sun.hpp"

namespace runnel {
namespace {

bool has_any(Estimates day, std::initializer_list<Estimate> what) {
  return std::any_of(what.begin(), what.end(), [day](Estimate one) { return has(day, one); });
}

std::optional<SiteFit> median_within(std::vector<double> values, double least, double most) {
  const auto days = static_cast<Eigen::Index>(values.size());
  if (days < least_fitted_days) return std::nullopt;
  const auto middle = values.begin() + days / 2;
  std::nth_element(values.begin(), middle, values.end());
  double median = *middle;
  if (days % 2 == 0) median = 0.5 * (median + *std::max_element(values.begin(), middle));
  return SiteFit{.value = std::clamp(median, least, most), .days = days};
}

}  // namespace

std::optional<SiteFit> fitted_k_rs_per_sqrt_c(const std::vector<const EtInputs*>& stretches,
                                              const Site& site) {
  const Column ra =
      extraterrestrial_radiation_of_year_mj_m2_d(site.latitude_deg * std::numbers::pi / 180.0);
  std::vector<double> values;
  for (const EtInputs* days : stretches)
    for (Eigen::Index i = 0; i < days->rs_mj_m2_d.size(); ++i) {
      if (has_any(days->estimated[static_cast<std::size_t>(i)],
                  {Estimate::radiation_from_temperature, Estimate::radiation_from_sunshine,
                   Estimate::radiation_interpolated, Estimate::temperature_interpolated}))
        continue;
      const double most = ra[day_of_year(days->first_day + std::chrono::days{i}) - 1] *
                          std::sqrt(std::max(0.0, days->t_max_c[i] - days->t_min_c[i]));
      if (most > 0.0) values.push_back(days->rs_mj_m2_d[i] / most);
    }
  return median_within(std::move(values), 0.12, 0.22);
}

std::optional<SiteFit> fitted_dew_point_below_t_min_c(
    const std::vector<const EtInputs*>& stretches) {
  std::vector<double> values;
  for (const EtInputs* days : stretches)
    for (Eigen::Index i = 0; i < days->ea_kpa.size(); ++i)
      if (!has_any(days->estimated[static_cast<std::size_t>(i)],
                   {Estimate::humidity_from_t_min, Estimate::humidity_interpolated,
                    Estimate::temperature_interpolated}) &&
          days->ea_kpa[i] > 0.0)
        values.push_back(days->t_min_c[i] - dew_point_c(days->ea_kpa[i]));
  return median_within(std::move(values), 0.0, 8.0);
}

}  // namespace runnel
