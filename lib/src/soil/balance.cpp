#include "runnel/soil/balance.hpp"

#include <algorithm>
#include <stdexcept>

namespace runnel {
namespace {

/// Members are computed in blocks of this many: a cache line of doubles, whose state stays in
/// registers over the days.
constexpr int block_size = 8;
template <int N>
using Block = Eigen::Array<double, N, 1>;

/// Depletion that differs from a limit by less is at the limit: the rounding of a sum of depths.
constexpr double rounding_mm = 1e-9;

/// What is added up over the days.
template <int N>
struct Sums {
  Block<N> days_beyond = Block<N>::Zero(), beyond_mm = Block<N>::Zero(),
           stress_days = Block<N>::Zero();
  Block<N> etc_mm = Block<N>::Zero(), unmet_mm = Block<N>::Zero(), drained_mm = Block<N>::Zero();
};

/// One day of a block of members.
template <int N>
struct Day {
  double taw_mm;
  Block<N> p, limit_mm, potential_mm;  // potential: ETc without stress
  Block<N> depletion_mm;               // as the day goes on; below 0 while surplus has not drained
  Block<N> after_morning_mm;
  Block<N> over_limit_mm, over_raw_mm;  // the day's worst; below 0 when there is room
  Sums<N> sums;
};

template <int N>
void begin(Day<N>& day, const RootZone& zone, double kc, double taw_mm, const Block<N>& et_mm) {
  day.taw_mm = taw_mm;
  day.potential_mm = kc * et_mm;
  if (zone.adjust_p) {
    day.p = (zone.p + 0.04 * (5.0 - day.potential_mm)).max(0.1).min(0.8);  // Table 22, footnote 2
  } else {
    day.p.setConstant(zone.p);
  }
  day.limit_mm = taw_mm * (1.0 - zone.aim_ks * (1.0 - day.p));
  day.over_limit_mm.setConstant(-taw_mm);
  day.over_raw_mm.setConstant(-taw_mm);
}

template <int N>
void judge(Day<N>& day) {
  day.over_limit_mm = day.over_limit_mm.max(day.depletion_mm - day.limit_mm);
}

template <int N>
void drain(Day<N>& day) {
  if (day.depletion_mm.minCoeff() >= 0.0) return;
  day.sums.drained_mm -= day.depletion_mm.min(0.0);
  day.depletion_mm = day.depletion_mm.max(0.0);
}

/// Ks of Eq. 84, written so that it is exactly 1 up to RAW: which path of transpire() a member
/// takes then does not show.
template <int N>
Block<N> stress_coefficient(const Day<N>& day, const Block<N>& over_raw_mm) {
  return (1.0 - over_raw_mm.max(0.0) / ((1.0 - day.p) * day.taw_mm)).max(0.0);
}

/// ETc of a share of the day, Ks from the depletion at its beginning (Eq. 81, 84), at most the
/// water that is left.
template <int N>
void transpire(Day<N>& day, double share) {
  const Block<N> part_mm = share * day.potential_mm;
  const Block<N> over_raw_mm = day.depletion_mm - day.p * day.taw_mm;
  const Block<N> after_mm = day.depletion_mm + part_mm;
  if (over_raw_mm.maxCoeff() <= 0.0 &&
      after_mm.maxCoeff() <= day.taw_mm) {  // most days: no stress, no division
    day.sums.etc_mm += part_mm;
    day.depletion_mm = after_mm;
    return;
  }
  const Block<N> left_mm = (day.taw_mm - day.depletion_mm).max(0.0);
  const Block<N> actual_mm = (stress_coefficient<N>(day, over_raw_mm) * part_mm).min(left_mm);
  day.over_raw_mm = day.over_raw_mm.max(over_raw_mm);
  day.sums.etc_mm += actual_mm;
  day.sums.unmet_mm += part_mm - actual_mm;
  day.depletion_mm += actual_mm;
}

/// Rain, and of a bed the limit, after the water of the morning.
template <int N>
void end_morning(Day<N>& day, Surplus surplus) {
  day.after_morning_mm = day.depletion_mm;
  if (surplus == Surplus::before_et) drain(day);
  if (surplus != Surplus::at_once) judge(day);
}

/// The order of events of one day, from the depletion that `day` brings along.
template <int N>
void live_through(Day<N>& day, Surplus surplus, const Block<N>& rain_mm, const Waterings& waterings,
                  Eigen::Index row) {
  const bool at_once = surplus == Surplus::at_once;
  day.depletion_mm -= rain_mm;
  if (at_once) drain(day);
  double share_done = 0.0;
  bool morning = true;
  for (std::size_t slot = 0; slot < waterings.et_share_before.size(); ++slot) {
    const double net_mm = waterings.net_mm(static_cast<Eigen::Index>(slot), row);
    if (net_mm == 0.0) continue;  // no watering that day: nothing splits the day
    const double share = waterings.et_share_before[slot];
    if (share > share_done) {
      if (morning) end_morning(day, surplus);
      morning = false;
      transpire(day, share - share_done);
      share_done = share;
    }
    if (at_once) judge(day);
    day.depletion_mm -= net_mm;
    if (at_once) drain(day);
  }
  if (morning) end_morning(day, surplus);
  if (share_done < 1.0) transpire(day, 1.0 - share_done);
  if (at_once) judge(day);
  drain(day);
}

/// 1 where the value is above zero by more than rounding, else 0; without a comparison, which Eigen
/// does not vectorise.
template <int N>
Block<N> counts(const Block<N>& over_mm) {
  constexpr double steep = 1e300;
  return ((over_mm - rounding_mm).max(0.0) * steep).min(1.0);
}

template <int N>
void count(Day<N>& day) {
  if (day.over_limit_mm.maxCoeff() > 0.0) {
    day.sums.days_beyond += counts<N>(day.over_limit_mm);
    day.sums.beyond_mm += day.over_limit_mm.max(0.0);
  }
  if (day.over_raw_mm.maxCoeff() > 0.0) day.sums.stress_days += counts<N>(day.over_raw_mm);
}

/// Runs a block of members, beginning with `member`, through all days; `on_day(row, day)` sees each
/// when it is over.
template <int N, class OnDay>
void run(Day<N>& day, const RootZone& zone, const ZoneModel& model, const Horizon& horizon,
         const Waterings& waterings, Eigen::Index member, const OnDay& on_day) {
  for (Eigen::Index row = 0; row < horizon.et_mm.cols(); ++row) {
    const Block<N> et_mm = horizon.et_mm.col(row).template segment<N>(member);
    const Block<N> rain_mm = horizon.rain_mm.col(row).template segment<N>(member);
    begin<N>(day, zone, model.kc[row], model.taw_mm[row], et_mm);
    live_through<N>(day, zone.surplus, rain_mm, waterings, row);
    count<N>(day);
    on_day(row, day);
  }
}

/// Flattened: -O2 would leave the small functions of Eigen and of this file as calls, at twice the
/// cost.
template <int N>
[[gnu::flatten]] void run_into(Outcome& outcome, const RootZone& zone, const SoilState& start,
                               const ZoneModel& model, const Horizon& horizon,
                               const Waterings& waterings, Eigen::Index member) {
  Day<N> day;
  day.depletion_mm.setConstant(start.depletion_mm);
  run<N>(day, zone, model, horizon, waterings, member, [](Eigen::Index, const Day<N>&) {});
  outcome.days_beyond.segment<N>(member) = day.sums.days_beyond.template cast<int>();
  outcome.beyond_mm.segment<N>(member) = day.sums.beyond_mm;
  outcome.stress_days.segment<N>(member) = day.sums.stress_days.template cast<int>();
  outcome.etc_mm.segment<N>(member) = day.sums.etc_mm;
  outcome.unmet_mm.segment<N>(member) = day.sums.unmet_mm;
  outcome.drained_mm.segment<N>(member) = day.sums.drained_mm;
  outcome.end_mm.segment<N>(member) = day.depletion_mm;
}

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(what);
}

/// Any NaN or infinity makes the sum NaN; unlike allFinite() this is vectorised, and it runs at
/// every candidate.
template <class Values>
bool finite(const Values& values) {
  return values.size() == 0 || (values * 0.0).sum() == 0.0;
}

void check(const RootZone& zone, const SoilState& start, const ZoneModel& model,
           const Horizon& horizon, const Waterings& waterings) {
  const Eigen::Index days = horizon.et_mm.cols();
  const auto& shares = waterings.et_share_before;
  require(horizon.rain_mm.cols() == days && horizon.rain_mm.rows() == horizon.et_mm.rows() &&
              model.kc.size() == days && model.taw_mm.size() == days,
          "balance: ET, rain, kc and TAW must cover the same days and members");
  require(shares.empty() || (waterings.net_mm.rows() == static_cast<Eigen::Index>(shares.size()) &&
                             waterings.net_mm.cols() == days),
          "balance: waterings must be [slots, days]");
  require(
      std::is_sorted(shares.begin(), shares.end()) &&
          std::all_of(shares.begin(), shares.end(), [](double s) { return s >= 0.0 && s <= 1.0; }),
      "balance: shares of the day's ET must rise from 0 to 1");
  require(finite(horizon.et_mm) && finite(horizon.rain_mm) && finite(model.kc) &&
              finite(model.taw_mm) && finite(waterings.net_mm) && start.depletion_mm * 0.0 == 0.0,
          "balance: a value is not finite");
  require(days == 0 || model.taw_mm.minCoeff() > 0.0, "balance: TAW must be above 0");
  require(zone.p >= 0.0 && zone.p < 1.0 && zone.aim_ks >= 0.0 && zone.aim_ks <= 1.0,
          "balance: p must be in [0, 1) and the aimed Ks in [0, 1]");
}

}  // namespace

Outcome balance(const RootZone& zone, const SoilState& start, const ZoneModel& model,
                const Horizon& horizon, const Waterings& waterings) {
  check(zone, start, model, horizon, waterings);
  const Eigen::Index members = horizon.et_mm.rows();
  Outcome outcome;
  outcome.days_beyond.resize(members);
  outcome.stress_days.resize(members);
  for (auto* column : {&outcome.beyond_mm, &outcome.etc_mm, &outcome.unmet_mm, &outcome.drained_mm,
                       &outcome.end_mm}) {
    column->resize(members);
  }
  Eigen::Index member = 0;
  for (; member + block_size <= members; member += block_size) {
    run_into<block_size>(outcome, zone, start, model, horizon, waterings, member);
  }
  for (; member < members; ++member)
    run_into<1>(outcome, zone, start, model, horizon, waterings, member);
  return outcome;
}

BalanceTrace trace(const RootZone& zone, const SoilState& start, const ZoneModel& model,
                   const Horizon& horizon, const Waterings& waterings, Eigen::Index member) {
  check(zone, start, model, horizon, waterings);
  require(member >= 0 && member < horizon.et_mm.rows(), "trace: no such member");
  const Eigen::Index days = horizon.et_mm.cols();
  BalanceTrace trace;
  for (auto* column :
       {&trace.p, &trace.limit_mm, &trace.after_morning_mm, &trace.ks, &trace.etc_mm,
        &trace.rain_mm, &trace.net_irrigation_mm, &trace.drained_mm, &trace.end_mm}) {
    column->resize(days);
  }
  Day<1> day;
  day.depletion_mm.setConstant(start.depletion_mm);
  run<1>(day, zone, model, horizon, waterings, member, [&](Eigen::Index row, Day<1>& over) {
    const Block<1> over_raw_mm = over.over_raw_mm;
    trace.p[row] = over.p[0];
    trace.limit_mm[row] = over.limit_mm[0];
    trace.after_morning_mm[row] = std::max(over.after_morning_mm[0], 0.0);
    trace.ks[row] = stress_coefficient<1>(over, over_raw_mm)[0];
    trace.etc_mm[row] = over.sums.etc_mm[0];
    trace.rain_mm[row] = horizon.rain_mm.col(row)[member];
    trace.net_irrigation_mm[row] =
        waterings.et_share_before.empty() ? 0.0 : waterings.net_mm.col(row).sum();
    trace.drained_mm[row] = over.sums.drained_mm[0];
    trace.end_mm[row] = over.depletion_mm[0];
    over.sums = Sums<1>();
  });
  return trace;
}

}  // namespace runnel
