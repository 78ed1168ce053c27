#include "runnel/demand/coefficient_parts.hpp"

#include <numeric>

#include "runnel/demand/plant_coefficients.hpp"

namespace runnel {
namespace {

Column coefficient(const Plant& plant, const Growing& growing, CoefficientForm form, Date first_day,
                   Eigen::Index days) {
  return form == CoefficientForm::basal ? kcb_by_day(plant, growing, first_day, days)
                                        : kc_by_day(plant, growing, first_day, days);
}

/// The coefficient in full growth, or where none is the fullest, that of each day. [days]
struct FullGrowth {
  const Growing& average;
  CoefficientForm form;
  const Column& by_day;

  Column operator()(const Crop& crop) const {
    const double mid = form == CoefficientForm::basal ? crop.kcb.mid : crop.kc.mid;
    return Column::Constant(by_day.size(), adjusted_kc(mid, average.climate, crop.height_m));
  }
  Column operator()(const Landscape& /*planting*/) const { return by_day; }
  Column operator()(const Turf& turf) const {
    return Column::Constant(by_day.size(),
                            std::accumulate(turf.kc_by_month.begin(), turf.kc_by_month.end(), 0.0) /
                                static_cast<double>(turf.kc_by_month.size()));
  }
};

}  // namespace

CoefficientParts coefficient_parts(const Plant& plant, const Growing& growing, CoefficientForm form,
                                   Date first_day, Eigen::Index days) {
  Growing average = growing;
  average.density = Density::average;
  average.cover.reset();
  const Column whole = coefficient(plant, growing, form, first_day, days);
  const Column at_average = coefficient(plant, average, form, first_day, days);
  CoefficientParts parts;
  parts.plants =
      std::visit(FullGrowth{.average = average, .form = form, .by_day = at_average}, plant);
  parts.density = whole / at_average;
  parts.stage = at_average / parts.plants;
  return parts;
}

CoefficientParts stated_coefficient(double coefficient, Eigen::Index days) {
  return {.plants = Column::Constant(days, coefficient),
          .density = Column::Ones(days),
          .stage = Column::Ones(days)};
}

}  // namespace runnel
