#include "runnel/soil/balance.hpp"

#include <algorithm>
#include <stdexcept>

#include "balance_day.hpp"

namespace runnel {
namespace {

/// Members are computed in blocks of this many: a cache line of doubles, whose state stays in
/// registers over the days.
constexpr int block_size = 8;

template <class In, int N>
Day<N> first_day(const RootZone& zone, const SoilState& start) {
  Day<N> day;
  day.wetted_share = zone.wetted_share;
  day.depletion_mm.setConstant(start.depletion_mm);
  if constexpr (In::dry_part) day.dry_mm.setConstant(start.dry_mm);
  if constexpr (In::surface) {
    SurfaceOfDay<N>& surface = day.surface;
    surface.rew_mm = zone.surface->rew_mm;
    surface.tew_mm = zone.surface->tew_mm;
    surface.fw_irrigated = zone.surface->fw;
    surface.evaporation_share = zone.surface->evaporation_share;
    surface.depletion_mm.setConstant(start.surface_mm);
    surface.fw.setConstant(start.surface_fw);
  }
  return day;
}

/// Runs a block of members, beginning with `member`, through all days; `on_day(row, day)` sees each
/// when it is over.
template <class In, int N, class OnDay>
void run(Day<N>& day, const RootZone& zone, const ZoneModel& model, const Horizon& horizon,
         const Waterings& waterings, Eigen::Index member, const OnDay& on_day) {
  for (Eigen::Index row = 0; row < horizon.et_mm.cols(); ++row) {
    const Block<N> et_mm = horizon.et_mm.col(row).template segment<N>(member);
    const Block<N> rain_mm = horizon.rain_mm.col(row).template segment<N>(member);
    begin<In, N>(day, zone, model, row, et_mm);
    live_through<In, N>(day, zone, rain_mm, waterings, row);
    count<N>(day);
    on_day(row, day);
  }
}

/// Flattened: -O2 would leave the small functions of Eigen and of this file as calls, at twice the
/// cost.
template <class In, int N>
[[gnu::flatten]] void run_into(Outcome& outcome, const RootZone& zone, const SoilState& start,
                               const ZoneModel& model, const Horizon& horizon,
                               const Waterings& waterings, Eigen::Index member) {
  Day<N> day = first_day<In, N>(zone, start);
  run<In, N>(day, zone, model, horizon, waterings, member, [](Eigen::Index, const Day<N>&) {});
  outcome.days_beyond.segment<N>(member) = day.sums.days_beyond.template cast<int>();
  outcome.beyond_mm.segment<N>(member) = day.sums.beyond_mm;
  outcome.stress_days.segment<N>(member) = day.sums.stress_days.template cast<int>();
  outcome.etc_mm.segment<N>(member) = day.sums.etc_mm;
  outcome.unmet_mm.segment<N>(member) = day.sums.unmet_mm;
  outcome.drained_mm.segment<N>(member) = day.sums.drained_mm;
  outcome.end_mm.segment<N>(member) = day.depletion_mm;
  if constexpr (In::surface) {
    outcome.evaporated_mm.template segment<N>(member) = day.sums.evaporated_mm;
    outcome.evaporable_mm.template segment<N>(member) =
        evaporable<N>(day.surface, exposed_and_wetted<N>(day.surface));
  }
  if constexpr (In::dry_part) outcome.dry_end_mm.template segment<N>(member) = day.dry_mm;
}

template <class In>
Outcome run_all(const RootZone& zone, const SoilState& start, const ZoneModel& model,
                const Horizon& horizon, const Waterings& waterings) {
  const Eigen::Index members = horizon.et_mm.rows();
  Outcome outcome;
  outcome.days_beyond.resize(members);
  outcome.stress_days.resize(members);
  for (auto* column : {&outcome.beyond_mm, &outcome.etc_mm, &outcome.unmet_mm, &outcome.drained_mm,
                       &outcome.end_mm}) {
    column->resize(members);
  }
  if (In::surface) {
    outcome.evaporated_mm.resize(members);
    outcome.evaporable_mm.resize(members);
  }
  if (In::dry_part) outcome.dry_end_mm.resize(members);
  Eigen::Index member = 0;
  for (; member + block_size <= members; member += block_size) {
    run_into<In, block_size>(outcome, zone, start, model, horizon, waterings, member);
  }
  for (; member < members; ++member)
    run_into<In, 1>(outcome, zone, start, model, horizon, waterings, member);
  return outcome;
}

template <class In>
BalanceTrace trace_days(const RootZone& zone, const SoilState& start, const ZoneModel& model,
                        const Horizon& horizon, const Waterings& waterings, Eigen::Index member) {
  const Eigen::Index days = horizon.et_mm.cols();
  BalanceTrace trace;
  for (auto* column : {&trace.p, &trace.limit_mm, &trace.after_morning_mm, &trace.ks, &trace.etc_mm,
                       &trace.rain_mm, &trace.net_irrigation_mm, &trace.drained_mm, &trace.end_mm,
                       &trace.unmet_mm}) {
    column->resize(days);
  }
  if (In::surface) {
    for (auto* column : {&trace.kr, &trace.few, &trace.ke, &trace.e_mm, &trace.surface_morning_mm,
                         &trace.surface_end_mm, &trace.surface_fw})
      column->resize(days);
  }
  if (In::dry_part) trace.dry_end_mm.resize(days);
  Day<1> day = first_day<In, 1>(zone, start);
  run<In, 1>(day, zone, model, horizon, waterings, member, [&](Eigen::Index row, Day<1>& over) {
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
    trace.unmet_mm[row] = over.sums.unmet_mm[0];
    if constexpr (In::surface) {
      trace.kr[row] = over.surface.kr[0];
      trace.few[row] = over.surface.few[0];
      trace.ke[row] = over.surface.ke[0];
      trace.e_mm[row] = over.sums.evaporated_mm[0];
      trace.surface_morning_mm[row] = over.surface.after_morning_mm[0];
      trace.surface_end_mm[row] = over.surface.depletion_mm[0];
      trace.surface_fw[row] = over.surface.fw[0];
    }
    if constexpr (In::dry_part) trace.dry_end_mm[row] = over.dry_mm[0];
    over.sums = Sums<1>();
  });
  return trace;
}

/// Calls `with` for what the zone makes use of.
template <class With>
auto as_used(const RootZone& zone, const ZoneModel& model, const With& with) {
  const bool surface = model.kc_max.size() > 0;
  const bool dry_part = zone.wetted_share < 1.0;
  if (surface && dry_part) return with(Uses<true, true>{});
  if (surface) return with(Uses<true, false>{});
  if (dry_part) return with(Uses<false, true>{});
  return with(Uses<false, false>{});
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

bool finite(const SoilState& state) {
  return (state.depletion_mm + state.dry_mm + state.surface_mm + state.surface_fw) * 0.0 == 0.0;
}

void check_surface(const SoilSurface& surface, const SoilState& start) {
  require(surface.rew_mm >= 0.0 && surface.tew_mm > surface.rew_mm && surface.tew_mm < 1e6,
          "balance: the surface's TEW must be above its REW");
  require(surface.fw > 0.0 && surface.fw <= 1.0 && start.surface_fw > 0.0 &&
              start.surface_fw <= 1.0 && surface.evaporation_share >= 0.0 &&
              surface.evaporation_share <= 1.0,
          "balance: the surface's shares must be within 0 and 1, those wetted above 0");
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
              finite(model.taw_mm) && finite(model.kc_max) && finite(model.cover) &&
              finite(waterings.net_mm) && finite(start),
          "balance: a value is not finite");
  require(days == 0 || model.taw_mm.minCoeff() > 0.0, "balance: TAW must be above 0");
  require(zone.p >= 0.0 && zone.p < 1.0 && zone.aim_ks >= 0.0 && zone.aim_ks <= 1.0,
          "balance: p must be in [0, 1) and the aimed Ks in [0, 1]");
  require(zone.wetted_share > 0.0 && zone.wetted_share <= 1.0,
          "balance: the wetted share must be above 0 and at most 1");
  const bool dual = model.kc_max.size() > 0;
  require(model.cover.size() == model.kc_max.size() && (!dual || model.kc_max.size() == days) &&
              (!dual || zone.surface),
          "balance: kc_max and cover go together, cover the same days and need a surface");
  if (dual) check_surface(*zone.surface, start);
}

}  // namespace

Outcome balance(const RootZone& zone, const SoilState& start, const ZoneModel& model,
                const Horizon& horizon, const Waterings& waterings) {
  check(zone, start, model, horizon, waterings);
  return as_used(zone, model,
                 [&]<class In>(In) { return run_all<In>(zone, start, model, horizon, waterings); });
}

BalanceTrace trace(const RootZone& zone, const SoilState& start, const ZoneModel& model,
                   const Horizon& horizon, const Waterings& waterings, Eigen::Index member) {
  check(zone, start, model, horizon, waterings);
  require(member >= 0 && member < horizon.et_mm.rows(), "trace: no such member");
  return as_used(zone, model, [&]<class In>(In) {
    return trace_days<In>(zone, start, model, horizon, waterings, member);
  });
}

}  // namespace runnel
