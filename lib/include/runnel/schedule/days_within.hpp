#pragma once

#include "runnel/schedule/candidates.hpp"

namespace runnel {

/// What the first days of the task's horizon come to.
[[nodiscard]] Outcome first_days(const ZoneTask& task, const Waterings& waterings,
                                 Eigen::Index days);

/// How many futures go beyond the limit.
[[nodiscard]] Eigen::Index futures_beyond(const Outcome& outcome);

/// Whether that is no more than may.
[[nodiscard]] bool stays_within(const Outcome& outcome, double risk);

/// Whole days from the first on through which a zone stays within its limit in all but the allowed
/// futures; all the days of the horizon when it always does.
[[nodiscard]] int days_within(const ZoneTask& task, const Waterings& waterings, double risk);

}  // namespace runnel
