#include "runnel/soil/rain.hpp"

#include <stdexcept>

namespace runnel {

double curve_number_runoff_mm(double rain_mm, double curve_number) {
  if (!(curve_number >= 30.0 && curve_number <= 100.0)) {
    throw std::invalid_argument("curve number must be 30-100");
  }
  const double s_mm = 25400.0 / curve_number - 254.0;  // S = 1000/CN - 10 inches
  const double over_ia_mm = rain_mm - 0.2 * s_mm;
  if (!(over_ia_mm > 0.0)) return 0.0;
  return over_ia_mm * over_ia_mm / (over_ia_mm + s_mm);
}

RainOnZone rain_on_zone(const Lanes& rain_mm, const Lanes& eto_mm, double share_reaching,
                        double curve_number) {
  if (rain_mm.rows() != eto_mm.rows() || rain_mm.cols() != eto_mm.cols()) {
    throw std::invalid_argument("rain_on_zone: rain and ETo must cover the same days and members");
  }
  if (!(share_reaching >= 0.0 && share_reaching <= 1.0)) {
    throw std::invalid_argument("rain_on_zone: the share reaching the zone must be 0-1");
  }
  constexpr double counts_from_eto =
      0.2;  // FAO-56 chapter 8: lighter rain only wets leaves and surface
  RainOnZone on_zone{.entering_mm = Lanes::Zero(rain_mm.rows(), rain_mm.cols()),
                     .runoff_mm = Lanes::Zero(rain_mm.rows(), rain_mm.cols())};
  for (Eigen::Index day = 0; day < rain_mm.cols(); ++day) {
    for (Eigen::Index member = 0; member < rain_mm.rows(); ++member) {
      const double fallen_mm = rain_mm(member, day);
      if (fallen_mm < counts_from_eto * eto_mm(member, day)) continue;
      const double reaching_mm = share_reaching * fallen_mm;
      const double runoff_mm =
          curve_number == 0.0 ? 0.0 : curve_number_runoff_mm(reaching_mm, curve_number);
      on_zone.runoff_mm(member, day) = runoff_mm;
      on_zone.entering_mm(member, day) = reaching_mm - runoff_mm;
    }
  }
  return on_zone;
}

}  // namespace runnel
