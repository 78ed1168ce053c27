#include "runnel/delivery/catch_cans.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "runnel/delivery/uniformity.hpp"

namespace runnel {

bool CatchCanTest::has_positions() const {
  return !cans.empty() && std::all_of(cans.begin(), cans.end(), [](const CatchCan& can) {
    return can.x_m.has_value() && can.y_m.has_value();
  });
}

CatchCanResult catch_can_result(const CatchCanTest& test) {
  if (!(std::isfinite(test.run.minutes()) && test.run.minutes() > 0.0)) {
    throw std::invalid_argument("catch_can_result: the time must be > 0");
  }
  std::vector<double> depths_mm;
  for (const CatchCan& can : test.cans) depths_mm.push_back(can.depth_mm);
  const double du = low_quarter_uniformity(depths_mm);
  const double mean_mm = std::accumulate(depths_mm.begin(), depths_mm.end(), 0.0) /
                         static_cast<double>(depths_mm.size());
  return {.cans = depths_mm.size(),
          .low_cans = low_quarter_count(depths_mm.size()),
          .mean_mm = mean_mm,
          .low_quarter_mm = du * mean_mm,
          .rate = Rate::mm_per_hour(60.0 * mean_mm / test.run.minutes()),
          .du = du,
          .cu = christiansen_uniformity(depths_mm)};
}

}  // namespace runnel
