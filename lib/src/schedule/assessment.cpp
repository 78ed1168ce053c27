#include "assessment.hpp"

#include <algorithm>
#include <cmath>

#include "harm.hpp"
#include "runnel/schedule/changes.hpp"
#include "slots.hpp"

namespace runnel {
namespace {

/// What sprayed leaves that stay wet overnight cost, of a zone's weekly water, when all of its
/// watering is in the evening (design decision, no source). Less does not keep them dry: an evening
/// on the last day looked at saves water missing at the end, with 10 % in half of all gardens
/// drawn for the tests, with 50 % in a few.
constexpr double wet_night_share = 1.0;

/// Of the limit, the depletion that the days looked at may end with, unless they begin with more
/// (design decision, no source). One future has no spread: half is a reserve for what it does not
/// show. Of several the risk guards what may come.
double most_end_share(const ZoneTask& task) { return task.horizon.et_mm.rows() > 1 ? 1.0 : 0.5; }

/// Looked at.
double weeks(const ZoneTask& task) { return static_cast<double>(task.horizon.et_mm.cols()) / 7.0; }

double gross_per_net(const Delivery& delivery) {
  return delivery.multiplier / (1.0 - delivery.leaching_share);
}

/// Waterings under which a zone's use of water is usual. What a dual coefficient evaporates depends
/// on how often the ground is wetted: twice a week, so that its surface is full each time (what
/// FAO-56 Table 9 calls under a week between wettings; the days are our choice). None with the
/// single coefficient, whose demand does not depend on them.
Waterings usual_waterings(const ZoneTask& task) {
  if (task.model.kc_max.size() == 0) return {};
  const Eigen::Index days = task.horizon.et_mm.cols();
  Waterings usual{.et_share_before = {0.0}, .net_mm = Eigen::ArrayXXd::Zero(1, days)};
  const SoilSurface& surface = task.root_zone.surface.value();
  for (Eigen::Index day = 0; day < days; ++day)
    if (day % 7 == 0 || day % 7 == 3) usual.net_mm(0, day) = surface.fw * surface.tew_mm;
  return usual;
}

/// What evaporates from the surface, with what is about to when the days looked at are over: else a
/// watering on the last evening would seem to cost nothing. Mean of the futures; 0 with the single
/// coefficient.
double mean_evaporated_mm(const Outcome& outcome) {
  if (outcome.evaporated_mm.size() == 0) return 0.0;
  return (outcome.evaporated_mm + outcome.evaporable_mm).mean();
}

/// The part of a day's minutes that wet the leaves after the day's ET, when they dry no more.
double wet_night_part(const ZoneTask& task, const Candidate& candidate,
                      const WateringHours& hours) {
  if (!task.overhead) return 0.0;
  double all_min = 0.0;
  double evening_min = 0.0;
  for (std::size_t w = 0; w < hours.size(); ++w) {
    const auto in_window =
        static_cast<double>(candidate.cycles_in[w] * candidate.run_in[w].count());
    all_min += in_window;
    if (hours[w].after_et) evening_min += in_window;
  }
  return all_min > 0.0 ? evening_min / all_min : 0.0;
}

}  // namespace

double weekly_litres(const ZoneTask& task) {
  const Outcome usual =
      balance(task.root_zone, task.start, task.model, task.horizon, usual_waterings(task));
  const double demand_mm = (usual.etc_mm + usual.unmet_mm).mean();
  return demand_mm / weeks(task) * task.delivery.area.m2() * gross_per_net(task.delivery);
}

Assessor::Need Assessor::need_of(const ZoneTask& task) {
  const Outcome without =
      balance(task.root_zone, task.start, task.model, task.horizon, Waterings{});
  return {
      .weekly_litres = weekly_litres(task),
      .drained_without_mm = without.drained_mm.mean(),
      .evaporated_without_mm = mean_evaporated_mm(without),
      .most_end_mm = std::max(task.start.depletion_mm, most_end_share(task) * mean_limit_mm(task))};
}

Assessor::Assessor(std::span<const ZoneTask> tasks, const ValveRules& rules, Date from,
                   const SearchOptions& options)
    : tasks_(tasks),
      hours_(rules.hours),
      days_certain_(days_certain(tasks.front(), rules, from, options)),
      risk_(options.risk) {
  for (const ZoneTask& task : tasks_) needs_.push_back(need_of(task));
}

Assessment Assessor::without_water() const {
  const Candidate none{.days = {},
                       .cycles_in = std::vector<int>(hours_.size(), 0),
                       .run_in = std::vector<std::chrono::minutes>(hours_.size()),
                       .cost = {}};
  return of(none, std::vector<bool>(static_cast<std::size_t>(tasks_.front().horizon.et_mm.cols()),
                                    false));
}

/// A week's losses, and what is missing at the end: of several futures the losses that go with it,
/// since water given costs no more; of one all of it, or its reserve would be lived off.
double Assessor::price_l(const ZoneTask& task, const Need& need, const Waterings& given,
                         const Outcome& outcome) {
  const double area_m2 = task.delivery.area.m2();
  const double net_l = given.net_mm.sum() * area_m2;
  const double drained_mm = std::max(0.0, outcome.drained_mm.mean() - need.drained_without_mm);
  const double evaporated_mm =
      std::max(0.0, mean_evaporated_mm(outcome) - need.evaporated_without_mm);
  const double lost_l =
      net_l * (gross_per_net(task.delivery) - 1.0) + (drained_mm + evaporated_mm) * area_m2;
  // Depletion is of the ground that irrigation reaches: what it lacks is over that share alone.
  const double missing_l = std::max(0.0, outcome.end_mm.mean() - task.start.depletion_mm) *
                           task.root_zone.wetted_share * area_m2;
  const double reserve = task.horizon.et_mm.rows() > 1 ? 0.0 : 1.0;
  return (lost_l + missing_l * (gross_per_net(task.delivery) - 1.0 + reserve)) / weeks(task);
}

Assessment Assessor::of(const Candidate& candidate, const std::vector<bool>& on) const {
  Assessment sum;
  const auto days_watered = static_cast<double>(std::count(on.begin(), on.end(), true));
  double sum_l = 0.0;
  double harm_um = 0.0;
  for (std::size_t z = 0; z < tasks_.size(); ++z) {
    const ZoneTask& task = tasks_[z];
    const Need& need = needs_[z];
    const Waterings given = with_hand_run(
        task, waterings(slots_of(task, candidate, hours_), on, task.delivery.net_mm_per_minute()),
        candidate.by_hand_min);
    const Outcome outcome = balance(task.root_zone, task.start, task.model, task.horizon, given);
    const Harm harm(task, given, outcome, days_certain_, risk_);
    if (!harm.allowed()) sum.within = false;
    sum.short_mm += std::max(0.0, outcome.end_mm.mean() - need.most_end_mm);
    harm_um += 1000.0 * harm.mm();
    sum_l += price_l(task, need, given, outcome) +
             need.weekly_litres * (setting_share * days_watered / weeks(task) +
                                   wet_night_share * wet_night_part(task, candidate, hours_));
  }
  sum.cost = {.harm_um = std::llround(harm_um), .price_cl = std::llround(100.0 * sum_l)};
  return sum;
}

Eigen::Index allowed_beyond(Eigen::Index members, double risk) {
  return std::max<Eigen::Index>(
      0, static_cast<Eigen::Index>(std::floor(risk * static_cast<double>(members + 1))) - 1);
}

double mean_limit_mm(const ZoneTask& task) {
  const Waterings usual = usual_waterings(task);
  double sum = 0.0;
  for (Eigen::Index member = 0; member < task.horizon.et_mm.rows(); ++member)
    sum +=
        trace(task.root_zone, task.start, task.model, task.horizon, usual, member).limit_mm.mean();
  return sum / static_cast<double>(task.horizon.et_mm.rows());
}

Column usual_demand_mm(const ZoneTask& task) {
  const Waterings usual = usual_waterings(task);
  const Eigen::Index members = task.horizon.et_mm.rows();
  Column sum_mm = Column::Zero(task.horizon.et_mm.cols());
  for (Eigen::Index member = 0; member < members; ++member) {
    const BalanceTrace days =
        trace(task.root_zone, task.start, task.model, task.horizon, usual, member);
    sum_mm += days.etc_mm + days.unmet_mm;
  }
  return sum_mm / static_cast<double>(members);
}

}  // namespace runnel
