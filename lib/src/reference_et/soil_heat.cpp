#include "runnel/reference_et/soil_heat.hpp"

namespace runnel {

double monthly_soil_heat_flux_mj_m2_d(double t_month_before_c, double t_month_after_c) {
  return 0.07 * (t_month_after_c - t_month_before_c);
}

double monthly_soil_heat_flux_so_far_mj_m2_d(double t_month_before_c, double t_month_c) {
  return 0.14 * (t_month_c - t_month_before_c);
}

}  // namespace runnel
