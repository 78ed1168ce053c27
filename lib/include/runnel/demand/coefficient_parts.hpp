#pragma once

#include "runnel/demand/plant_growth.hpp"

namespace runnel {

/// Single coefficient, or the basal one to which Ke is added (FAO-56 Eq. 58, 69).
enum class CoefficientForm { single, basal };

/// What a coefficient of plant_coefficients.hpp is made of. Their product is it. [days]
struct CoefficientParts {
  Column plants;   ///< in full growth at average density: Kc mid under the climate (crops), species
                   ///< factor (landscape), mean of the year (lawns)
  Column density;  ///< sparser or denser than that
  Column stage;    ///< earlier or later in its season than full growth
  /// The coefficient itself. [days]
  [[nodiscard]] Column product() const { return plants * density * stage; }
};
/// @throws std::invalid_argument as kc_by_day.
[[nodiscard]] CoefficientParts coefficient_parts(const Plant& plant, const Growing& growing,
                                                 CoefficientForm form, Date first_day,
                                                 Eigen::Index days);
/// A coefficient that the gardener states is not divided.
[[nodiscard]] CoefficientParts stated_coefficient(double coefficient, Eigen::Index days);

}  // namespace runnel
