#pragma once

#include <string>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/saved_plan.hpp"
#include "runnel/schedule/plan.hpp"

namespace runnel::cli {

/// What to set anew at one place of the timer.
struct ChangedSetting {
  std::string where;        ///< "valve 3, pots by the door"; "programme 1" where valves share them
  std::vector<int> valves;  ///< that it is for
  std::string says;         ///< "minutes 82 (was 74)"
  int settings = 0;  ///< that differ: days one, each start time added, dropped or moved, lengths
                     ///< one, or where starts have their own each that differs
};

/// In the timer's order; empty: all can stay as it is. @param before what is set now; none: nothing
/// is, and all is to be set.
[[nodiscard]] std::vector<ChangedSetting> changed_settings(const Garden& garden, const Plan& plan,
                                                           const SavedPlan* before);

}  // namespace runnel::cli
