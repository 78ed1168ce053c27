#pragma once

#include <Eigen/Core>

namespace runnel {

/// One value per step, days or hours: row i is the first day (or hour) plus i.
using Column = Eigen::ArrayXd;
/// [members, days], column-major: one day of all members lies side by side.
using Lanes = Eigen::ArrayXXd;

}  // namespace runnel
