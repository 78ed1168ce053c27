#pragma once

#include <Eigen/Core>

#include "runnel/soil/balance.hpp"

// One day of a block of members: the steps that balance() puts in order.

namespace runnel {

template <int N>
using Block = Eigen::Array<double, N, 1>;

/// Which parts of the balance are in use: a soil surface that evaporates (dual coefficient), and a
/// dry part beside the wetted one. What is not in use costs nothing and changes no result.
template <bool Dual, bool Parts>
struct Uses {
  static constexpr bool surface = Dual;
  static constexpr bool dry_part = Parts;
};

/// What is added up over the days, over the whole zone.
template <int N>
struct Sums {
  Block<N> days_beyond = Block<N>::Zero(), beyond_mm = Block<N>::Zero(),
           stress_days = Block<N>::Zero();
  Block<N> etc_mm = Block<N>::Zero(), unmet_mm = Block<N>::Zero(), drained_mm = Block<N>::Zero();
  Block<N> evaporated_mm = Block<N>::Zero();
};

/// The soil surface as a day goes on, and the means of the day that trace() shows.
template <int N>
struct SurfaceOfDay {
  double rew_mm, tew_mm, fw_irrigated, evaporation_share;  // as in SoilSurface
  double kcb, kc_max, exposed;                             // of the day; exposed: 1 - cover
  Block<N> et_mm;
  Block<N> depletion_mm, fw;
  Block<N> after_morning_mm, kr, few, ke;
};

template <int N>
struct Day {
  double taw_mm;
  double wetted_share;
  Block<N> p, limit_mm,
      potential_mm;       // potential: ETc without stress; with a surface, of Kcb alone
  Block<N> depletion_mm;  // as the day goes on, of the wetted part; below 0 while surplus has not
                          // drained
  Block<N> dry_mm;        // the same of the dry part
  Block<N> after_morning_mm;
  Block<N> over_limit_mm, over_raw_mm;  // the day's worst; below 0 when there is room
  SurfaceOfDay<N> surface;
  Sums<N> sums;
};

/// 1 where the value is above zero by more than rounding, else 0; without a comparison, which Eigen
/// does not vectorise.
template <int N>
Block<N> counts(const Block<N>& over_mm) {
  // Depletion that differs from a limit by less is at the limit: the rounding of a sum of depths.
  constexpr double rounding_mm = 1e-9;
  constexpr double steep = 1e300;
  return ((over_mm - rounding_mm).max(0.0) * steep).min(1.0);
}

/// few: the share of the ground exposed and wetted (Eq. 75).
template <int N>
Block<N> exposed_and_wetted(const SurfaceOfDay<N>& surface) {
  constexpr double least = 0.01;  // FAO-56 Eq. 75
  return surface.fw.min(surface.exposed).max(least);
}

/// Kr, few and Ke of the surface as it stands (Eq. 71, 74, 75).
template <int N>
struct Evaporating {
  Block<N> kr, few, ke;
};
template <int N>
Evaporating<N> evaporating(const SurfaceOfDay<N>& surface) {
  Evaporating<N> now;
  now.kr = ((surface.tew_mm - surface.depletion_mm) / (surface.tew_mm - surface.rew_mm))
               .min(1.0)
               .max(0.0);
  now.few = exposed_and_wetted<N>(surface);
  now.ke = surface.evaporation_share *
           (now.kr * (surface.kc_max - surface.kcb)).min(now.few * surface.kc_max);
  return now;
}

template <int N>
void set_limits(Day<N>& day, const RootZone& zone, const Block<N>& potential_mm) {
  if (zone.adjust_p) {
    day.p = (zone.p + 0.04 * (5.0 - potential_mm)).max(0.1).min(0.8);  // Table 22, footnote 2
  } else {
    day.p.setConstant(zone.p);
  }
  day.limit_mm = day.taw_mm * (1.0 - zone.aim_ks * (1.0 - day.p));
}

/// With a surface p goes by all of ETc, evaporation included, as the ground is then wetted.
template <int N>
void set_limits_with_surface(Day<N>& day, const RootZone& zone) {
  const Block<N> potential_mm =
      day.potential_mm + evaporating<N>(day.surface).ke * day.surface.et_mm;
  set_limits<N>(day, zone, potential_mm);
}

template <class In, int N>
void begin(Day<N>& day, const RootZone& zone, const ZoneModel& model, Eigen::Index row,
           const Block<N>& et_mm) {
  day.taw_mm = model.taw_mm[row];
  day.potential_mm = model.kc[row] * et_mm;
  if constexpr (In::surface) {
    SurfaceOfDay<N>& surface = day.surface;
    surface.kcb = model.kc[row];
    surface.kc_max = model.kc_max[row];
    surface.exposed = 1.0 - model.cover[row];
    surface.et_mm = et_mm;
    surface.kr.setZero();
    surface.few.setZero();
    surface.ke.setZero();
    set_limits_with_surface(day, zone);
  } else {
    set_limits<N>(day, zone, day.potential_mm);
  }
  day.over_limit_mm.setConstant(-day.taw_mm);
  day.over_raw_mm.setConstant(-day.taw_mm);
}

template <int N>
void judge(Day<N>& day) {
  day.over_limit_mm = day.over_limit_mm.max(day.depletion_mm - day.limit_mm);
}

template <class In, int N>
void drain(Day<N>& day) {
  if constexpr (In::dry_part) {
    day.sums.drained_mm -= day.wetted_share * day.depletion_mm.min(0.0) +
                           (1.0 - day.wetted_share) * day.dry_mm.min(0.0);
    day.depletion_mm = day.depletion_mm.max(0.0);
    day.dry_mm = day.dry_mm.max(0.0);
  } else {
    if (day.depletion_mm.minCoeff() >= 0.0) return;
    day.sums.drained_mm -= day.depletion_mm.min(0.0);
    day.depletion_mm = day.depletion_mm.max(0.0);
  }
}

/// Rain falls on both parts alike.
template <class In, int N>
void take_rain(Day<N>& day, const Block<N>& rain_mm) {
  constexpr double significant_mm = 3.0;  // FAO-56 chapter 7 (3-4 mm): wets all of the ground
  day.depletion_mm -= rain_mm;
  if constexpr (In::dry_part) day.dry_mm -= rain_mm;
  if constexpr (In::surface) {
    day.surface.depletion_mm = (day.surface.depletion_mm - rain_mm).max(0.0);
    day.surface.fw = day.surface.fw.max(counts<N>(rain_mm - significant_mm));
  }
}

/// A watering reaches the wetted part alone; on the surface, the share that it wets there.
template <class In, int N>
void take_watering(Day<N>& day, double net_mm) {
  if constexpr (In::dry_part) {
    day.depletion_mm -= net_mm / day.wetted_share;
  } else {
    day.depletion_mm -= net_mm;
  }
  if constexpr (In::surface) {
    SurfaceOfDay<N>& surface = day.surface;
    surface.depletion_mm = (surface.depletion_mm - net_mm / surface.fw_irrigated).max(0.0);
    surface.fw.setConstant(surface.fw_irrigated);
  }
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

/// Evaporable water that the exposed and wetted ground still holds, over the whole zone. A mulch
/// keeps its share of it for good: so E is that share lower however long the ground dries
/// (chapter 10), which a mere delay would not bring about.
template <int N>
Block<N> evaporable(const SurfaceOfDay<N>& surface, const Block<N>& few) {
  return (surface.tew_mm - surface.depletion_mm).max(0.0) * (few * surface.evaporation_share);
}

/// What the surface would lose over a share of the day: Ke ET, at most what is there.
template <int N>
Block<N> evaporation_wanted(SurfaceOfDay<N>& surface, double share) {
  const Evaporating<N> now = evaporating<N>(surface);
  surface.kr += share * now.kr;
  surface.few += share * now.few;
  surface.ke += share * now.ke;
  return (share * now.ke * surface.et_mm).min(evaporable<N>(surface, now.few));
}

/// Takes E from the surface layer: depth over the whole ground, from what is exposed, wetted and
/// not kept by a mulch.
template <int N>
void evaporate_from(SurfaceOfDay<N>& surface, const Block<N>& evaporated_mm) {
  if (surface.evaporation_share == 0.0) return;
  surface.depletion_mm +=
      evaporated_mm / (exposed_and_wetted<N>(surface) * surface.evaporation_share);
}

/// The same as transpire() with evaporation from the surface (Eq. 80), with a dry part, or both.
///
/// E comes from the ground that is wet: all of it from the wetted part as long as no more than that
/// part's share is wet at the surface, else from both parts by area. What a part evaporates or
/// transpires is at most the water it has left; evaporation, from above, comes first. The dry part
/// gives Ks_dry ETc times its share, the wetted part is asked for the rest.
template <class In, int N>
void use_water(Day<N>& day, double share) {
  const double wet = In::dry_part ? day.wetted_share : 1.0;
  const double dry = 1.0 - wet;
  const Block<N> part_mm = share * day.potential_mm;
  const Block<N> over_raw_mm = day.depletion_mm - day.p * day.taw_mm;
  const Block<N> left_mm = wet * (day.taw_mm - day.depletion_mm).max(0.0);

  Block<N> wanted_e_mm = Block<N>::Zero();
  Block<N> wet_e_mm = Block<N>::Zero();
  Block<N> dry_e_mm = Block<N>::Zero();
  if constexpr (In::surface) {
    wanted_e_mm = evaporation_wanted(day.surface, share);
    if constexpr (In::dry_part) {
      const Block<N> from_wet = (wet / day.surface.fw).min(1.0);
      wet_e_mm = (from_wet * wanted_e_mm).min(left_mm);
      dry_e_mm = ((1.0 - from_wet) * wanted_e_mm).min(dry * (day.taw_mm - day.dry_mm).max(0.0));
    } else {
      wet_e_mm = wanted_e_mm.min(left_mm);
    }
  }

  Block<N> dry_t_mm = Block<N>::Zero();
  if constexpr (In::dry_part) {
    const Block<N> dry_left_mm = dry * (day.taw_mm - day.dry_mm).max(0.0) - dry_e_mm;
    const Block<N> dry_over_raw_mm = day.dry_mm - day.p * day.taw_mm;
    dry_t_mm = (stress_coefficient<N>(day, dry_over_raw_mm) * dry * part_mm).min(dry_left_mm);
    day.dry_mm += (dry_e_mm + dry_t_mm) / dry;
  }
  const Block<N> wet_t_mm =
      (stress_coefficient<N>(day, over_raw_mm) * (part_mm - dry_t_mm)).min(left_mm - wet_e_mm);
  day.depletion_mm += (wet_e_mm + wet_t_mm) / wet;
  day.over_raw_mm = day.over_raw_mm.max(over_raw_mm);

  const Block<N> evaporated_mm = wet_e_mm + dry_e_mm;
  const Block<N> actual_mm = evaporated_mm + wet_t_mm + dry_t_mm;
  day.sums.etc_mm += actual_mm;
  day.sums.unmet_mm += part_mm + wanted_e_mm - actual_mm;
  if constexpr (In::surface) {
    day.sums.evaporated_mm += evaporated_mm;
    evaporate_from<N>(day.surface, evaporated_mm);
  }
}

template <class In, int N>
void use_share_of_day(Day<N>& day, double share) {
  if constexpr (In::surface || In::dry_part) {
    use_water<In>(day, share);
  } else {
    transpire(day, share);
  }
}

/// Rain, and of a bed the limit, after the water of the morning.
template <class In, int N>
void end_morning(Day<N>& day, const RootZone& zone) {
  day.after_morning_mm = day.depletion_mm;
  if constexpr (In::surface) {
    day.surface.after_morning_mm = day.surface.depletion_mm;
    set_limits_with_surface(day, zone);
  }
  if (zone.surplus == Surplus::before_et) drain<In>(day);
  if (zone.surplus != Surplus::at_once) judge(day);
}

/// The order of events of one day, from the depletion that `day` brings along.
template <class In, int N>
void live_through(Day<N>& day, const RootZone& zone, const Block<N>& rain_mm,
                  const Waterings& waterings, Eigen::Index row) {
  const bool at_once = zone.surplus == Surplus::at_once;
  take_rain<In>(day, rain_mm);
  if (at_once) drain<In>(day);
  double share_done = 0.0;
  bool morning = true;
  for (std::size_t slot = 0; slot < waterings.et_share_before.size(); ++slot) {
    const double net_mm = waterings.net_mm(static_cast<Eigen::Index>(slot), row);
    if (net_mm == 0.0) continue;  // no watering that day: nothing splits the day
    const double share = waterings.et_share_before[slot];
    if (share > share_done) {
      if (morning) end_morning<In>(day, zone);
      morning = false;
      use_share_of_day<In>(day, share - share_done);
      share_done = share;
    }
    if (at_once) judge(day);
    take_watering<In>(day, net_mm);
    if (at_once) drain<In>(day);
  }
  if (morning) end_morning<In>(day, zone);
  if (share_done < 1.0) use_share_of_day<In>(day, 1.0 - share_done);
  if (at_once) judge(day);
  drain<In>(day);
}

/// Less than this beyond the limit is none: it would print as 0.0, and no depletion is known so
/// well.
constexpr double seen_mm = 0.05;

template <int N>
void count(Day<N>& day) {
  if (day.over_limit_mm.maxCoeff() >= seen_mm) {
    const Block<N> beyond = (day.over_limit_mm >= seen_mm).template cast<double>();
    day.sums.days_beyond += beyond;
    day.sums.beyond_mm += beyond * day.over_limit_mm;
  }
  if (day.over_raw_mm.maxCoeff() > 0.0) day.sums.stress_days += counts<N>(day.over_raw_mm);
}

}  // namespace runnel
