#pragma once

#include <string>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/schedule/plan.hpp"

namespace runnel {

/// Something that could be changed where a plan falls short, and what planning again with it gives.
struct Remedy {
  std::string does;  ///< what to change, as the gardener would do it
  Garden garden;     ///< with it changed
  Plan plan;         ///< of that garden
  // Of all zones of that plan:
  int zones_short = 0;
  double harm_mm = 0.0;  ///< beyond the limit and ET gone without, over the days judged
  int days_beyond = 0;
  double litres = 0.0;  ///< in the week
};

/// What would help a plan that falls short, the best first: after which nothing falls short, by how
/// easily it is done (hours, then the timer, emitters and valves, then plants) and then by litres;
/// then what helps in part, by the harm it leaves. Of the ways to longer hours two at most. Where a
/// size is to be found it is the least that fits. Two changes together, or more, where no single
/// one suffices or fewer than three help. Each is planned again on the weather of `planned`; one
/// that changes nothing is left out. Ten short zones at most are looked at one by one; a count of
/// plans bounds the search. For an absence without changes that keep the programme, which are in
/// `Away::raised`. Empty when nothing falls short. @param planned the plan of `garden`
/// that `request` gave.
[[nodiscard]] std::vector<Remedy> remedies(const Garden& garden, const GardenPlan& planned,
                                           const PlanRequest& request);

/// A remark on each rule without which less would fall short, ten rules at most: what binds. A rule
/// may be the law: that it be broken is never among the remedies.
[[nodiscard]] std::vector<Finding> binding_rules(const Garden& garden, const GardenPlan& planned,
                                                 const PlanRequest& request);

}  // namespace runnel
