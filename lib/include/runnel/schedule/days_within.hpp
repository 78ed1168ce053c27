#pragma once

#include "runnel/schedule/candidates.hpp"

namespace runnel {

/// Whole days from the first on through which a zone stays within its limit in all but the allowed
/// futures; all the days of the horizon when it always does.
[[nodiscard]] int days_within(const ZoneTask& task, const Waterings& waterings, double risk);

}  // namespace runnel
