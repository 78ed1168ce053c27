#pragma once

#include <optional>
#include <vector>

#include "runnel/reference_et/inputs.hpp"
#include "runnel/sky/site.hpp"

namespace runnel {

/// A figure of FAO-56 chapter 3 as the site's own measured days have it.
struct SiteFit {
  double value;
  Eigen::Index days;  ///< behind it
};
/// Fewer days say nothing of a site (our choice).
inline constexpr Eigen::Index least_fitted_days = 30;

/// Rs / (Ra sqrt(Tmax - Tmin)) of FAO-56 Eq. 50: the median of the days with measured radiation,
/// within 0.12 to 0.22 (our choice); nothing where they are too few.
[[nodiscard]] std::optional<SiteFit> fitted_k_rs_per_sqrt_c(
    const std::vector<const EtInputs*>& stretches, const Site& site);
/// Tmin - Tdew of FAO-56 Eq. 48: the median of the days with measured humidity, within 0 to 8 degC
/// (our choice); nothing where they are too few.
[[nodiscard]] std::optional<SiteFit> fitted_dew_point_below_t_min_c(
    const std::vector<const EtInputs*>& stretches);

}  // namespace runnel
