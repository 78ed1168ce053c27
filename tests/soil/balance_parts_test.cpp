// The balance with a soil surface (dual crop coefficient), with a wetted and a dry part, with both.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <optional>
#include <random>
#include <vector>

#include "example35.hpp"
#include "reference_table.hpp"
#include "runnel/soil/balance.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

constexpr Surplus all_surplus[] = {Surplus::end_of_day, Surplus::before_et, Surplus::at_once};

RootZone bed(double p, double wetted_share = 1.0, std::optional<SoilSurface> surface = {}) {
  return {.p = p,
          .adjust_p = false,
          .aim_ks = 1.0,
          .surplus = Surplus::end_of_day,
          .wetted_share = wetted_share,
          .surface = surface};
}

/// One member under the same plants every day; dual when cover is not negative.
struct Stretch {
  ZoneModel model;
  Horizon horizon;
};
Stretch stretch(std::vector<double> et_mm, std::vector<double> rain_mm, double taw_mm,
                double kc = 1.0, double cover = -1.0) {
  const auto days = static_cast<Eigen::Index>(et_mm.size());
  Stretch made{
      .model = {.kc = Column::Constant(days, kc), .taw_mm = Column::Constant(days, taw_mm)},
      .horizon = {.et_mm = Eigen::Map<Lanes>(et_mm.data(), 1, days),
                  .rain_mm = Eigen::Map<Lanes>(rain_mm.data(), 1, days)}};
  if (cover < 0.0) return made;
  made.model.kc_max = Column::Constant(days, 1.2);
  made.model.cover = Column::Constant(days, cover);
  return made;
}

Waterings once(Eigen::Index days, Eigen::Index day, double share, double net_mm) {
  Waterings waterings{.et_share_before = {share}, .net_mm = Eigen::ArrayXXd::Zero(1, days)};
  waterings.net_mm(0, day) = net_mm;
  return waterings;
}

/// A year of odd weather over several members, growing plants and waterings in three slots.
struct Year {
  ZoneModel model;
  Horizon horizon;
  Waterings waterings;
};
Year random_year(unsigned seed, Eigen::Index members, Eigen::Index days, bool dual) {
  std::mt19937 engine{seed};
  const auto uniform = [&](double low, double high) {
    return low +
           (high - low) * static_cast<double>(engine()) / static_cast<double>(std::mt19937::max());
  };
  Year year{.model = {.kc = Column(days), .taw_mm = Column(days)},
            .horizon = {.et_mm = Lanes(members, days), .rain_mm = Lanes(members, days)},
            .waterings = {.et_share_before = {0.0, 0.4, 1.0}, .net_mm = Eigen::ArrayXXd(3, days)}};
  if (dual) {
    year.model.kc_max = Column(days);
    year.model.cover = Column(days);
  }
  for (Eigen::Index d = 0; d < days; ++d) {
    year.model.kc[d] = uniform(0.1, 1.1);
    if (dual) {
      year.model.kc_max[d] = year.model.kc[d] + uniform(0.05, 0.6);
      year.model.cover[d] = uniform(0.0, 1.0);
    }
    year.model.taw_mm[d] = 20.0 + 40.0 * static_cast<double>(d) / static_cast<double>(days);
    for (Eigen::Index s = 0; s < 3; ++s)
      year.waterings.net_mm(s, d) = uniform(0.0, 1.0) < 0.2 ? uniform(0.0, 15.0) : 0.0;
    for (Eigen::Index m = 0; m < members; ++m) {
      year.horizon.et_mm(m, d) = uniform(0.0, 1.0) < 0.05 ? 0.0 : uniform(0.0, 14.0);
      year.horizon.rain_mm(m, d) = uniform(0.0, 1.0) < 0.15 ? uniform(0.0, 40.0) : 0.0;
    }
  }
  return year;
}

constexpr SoilSurface sandy_loam{.rew_mm = 8.0, .tew_mm = 17.5, .fw = 0.35};
constexpr SoilState some_start{
    .depletion_mm = 7.0, .dry_mm = 13.0, .surface_mm = 5.0, .surface_fw = 0.6};

/// Every combination of surplus, surface, wetted share and p adjusted or not.
template <class Check>
void in_every_combination(const Check& check) {
  for (const Surplus surplus : all_surplus)
    for (const bool dual : {false, true})
      for (const double share : {1.0, 0.7, 0.2})
        for (const bool adjust : {false, true}) {
          CAPTURE(static_cast<int>(surplus));
          CAPTURE(dual);
          CAPTURE(share);
          RootZone zone = bed(0.5, share, sandy_loam);
          zone.surplus = surplus;
          zone.adjust_p = adjust;
          zone.aim_ks = 0.8;
          check(zone, dual);
        }
}

/// FAO-56 Example 35 through the balance: a root zone large enough not to matter.
BalanceTrace example35_by_balance(double rew_mm) {
  const ReferenceTable table("fao56_example35.csv");
  const Eigen::Index days = table.rows();
  ZoneModel model{.kc = Column(days),
                  .taw_mm = Column::Constant(days, 200.0),
                  .kc_max = Column(days),
                  .cover = Column(days)};
  for (Eigen::Index d = 0; d < days; ++d) {
    const double along = static_cast<double>(d) / 9.0;
    model.kc[d] = 0.30 + 0.10 * along;
    model.cover[d] = 1.0 - (0.92 - 0.06 * along);
    model.kc_max[d] =
        kc_max({.u2_m_s = 1.6, .rh_min_pct = 35.0, .height_m = 0.30, .kcb = model.kc[d]});
  }
  const Horizon horizon{.et_mm = table.column("ETo").transpose(),
                        .rain_mm = table.column("P_minus_RO").transpose()};
  return trace(bed(0.6, 1.0, SoilSurface{.rew_mm = rew_mm, .tew_mm = 18.0, .fw = 0.8}),
               {.depletion_mm = 60.0, .surface_mm = 18.0}, model, horizon, once(days, 0, 0.0, 40.0),
               0);
}

void check_chain(double rew_mm, const char* column) {
  const ReferenceTable table("fao56_example35.csv");
  const BalanceTrace got = example35_by_balance(rew_mm);
  REQUIRE(got.ke.size() == 10);
  double depletion_mm = 60.0;
  for (Eigen::Index d = 0; d < 10; ++d) {
    const auto expected = [&](const char* symbol) {
      return table.recomputed(column, symbol, d).value;
    };
    CAPTURE(column);
    CAPTURE(d + 1);
    CHECK(got.few[d] == near(expected("few"), 0.01));
    CHECK(got.surface_morning_mm[d] == near(expected("De_start"), 0.05));
    CHECK(got.kr[d] == near(expected("Kr"), 0.01));
    CHECK(got.ke[d] == near(expected("Ke"), 0.01));
    CHECK(got.e_mm[d] / got.few[d] == near(expected("E/few"), 0.05));
    CHECK(got.surface_end_mm[d] == near(expected("De_end"), 0.05));
    CHECK(got.e_mm[d] == near(expected("E"), 0.05));
    const double et_mm = table.printed("ETo", d).value;
    CHECK(got.etc_mm[d] / et_mm == near(expected("Kc"), 0.01));
    CHECK(got.etc_mm[d] == near(expected("ETc"), 0.05));
    CHECK(got.unmet_mm[d] == near(0.0, 1e-12));
    // The root zone loses all of it, evaporation too (Eq. 85).
    const double expected_mm =
        depletion_mm - got.rain_mm[d] - got.net_irrigation_mm[d] + got.etc_mm[d];
    CHECK(got.end_mm[d] == near(expected_mm, 1e-9));
    depletion_mm = got.end_mm[d];
  }
}

}  // namespace

TEST_SUITE("soil/balance with surface and parts") {
  TEST_CASE("FAO-56 Example 35 with REW 8 mm - by the balance") {
    check_chain(8.0, "recomputed_REW8");
  }
  TEST_CASE("FAO-56 Example 35 with REW 9 mm - by the balance") {
    check_chain(9.0, "recomputed_REW9");
  }
  TEST_CASE("FAO-56 Example 35 - printed coefficients by the balance") {
    const ReferenceTable table("fao56_example35.csv");
    const BalanceTrace got = example35_by_balance(9.0);
    for (Eigen::Index d = 0; d < 10; ++d) {
      CAPTURE(d + 1);
      const Figure etc = table.printed("ETc", d), end = table.printed("De_end", d);
      CHECK(got.etc_mm[d] == near(etc.value, etc.half_digit));
      CHECK(got.surface_end_mm[d] == near(end.value, end.half_digit));
    }
  }

  TEST_CASE("the balance closes - every day and over the year, in every combination") {
    for (const unsigned seed : {21U, 22U, 23U}) {
      in_every_combination([&](const RootZone& zone, bool dual) {
        const Year year = random_year(seed, 3, 365, dual);
        const double wet = zone.wetted_share;
        const bool parts = wet < 1.0;
        const auto held_mm = [&](double depletion_mm, double dry_mm) {
          return parts ? wet * depletion_mm + (1.0 - wet) * dry_mm : depletion_mm;
        };
        const BalanceTrace got =
            trace(zone, some_start, year.model, year.horizon, year.waterings, 1);
        CHECK(got.dry_end_mm.size() == (parts ? 365 : 0));
        CHECK(got.e_mm.size() == (dual ? 365 : 0));
        const double first_mm = held_mm(some_start.depletion_mm, some_start.dry_mm);
        double before_mm = first_mm;
        double worst_mm = 0.0;
        for (Eigen::Index d = 0; d < 365; ++d) {
          const double expected_mm = before_mm - got.rain_mm[d] - got.net_irrigation_mm[d] +
                                     got.etc_mm[d] + got.drained_mm[d];
          before_mm = held_mm(got.end_mm[d], parts ? got.dry_end_mm[d] : 0.0);
          worst_mm = std::max(worst_mm, std::abs(before_mm - expected_mm));
          const double taw_mm = year.model.taw_mm[d];
          CHECK(got.end_mm[d] >= 0.0);
          CHECK(got.end_mm[d] <= taw_mm + 1e-12);
          CHECK(got.unmet_mm[d] >= -1e-12);
          if (parts) CHECK(got.dry_end_mm[d] >= 0.0);
          if (parts) CHECK(got.dry_end_mm[d] <= taw_mm + 1e-12);
          if (!dual) continue;
          CHECK(got.e_mm[d] >= 0.0);
          CHECK(got.e_mm[d] <= got.etc_mm[d] + 1e-12);
          CHECK(got.etc_mm[d] <= year.model.kc_max[d] * year.horizon.et_mm(1, d) + 1e-9);
          CHECK(got.surface_end_mm[d] >= 0.0);
          CHECK(got.surface_end_mm[d] <= sandy_loam.tew_mm + 1e-9);
        }
        CHECK(worst_mm < 1e-9);
        const Outcome sums = balance(zone, some_start, year.model, year.horizon, year.waterings);
        CHECK(held_mm(sums.end_mm[1], parts ? sums.dry_end_mm[1] : 0.0) ==
              near(first_mm - got.rain_mm.sum() - got.net_irrigation_mm.sum() + sums.etc_mm[1] +
                       sums.drained_mm[1],
                   1e-9));
        CHECK(sums.etc_mm[1] == near(got.etc_mm.sum(), 1e-9));
        CHECK(sums.unmet_mm[1] == near(got.unmet_mm.sum(), 1e-9));
        CHECK(sums.drained_mm[1] == near(got.drained_mm.sum(), 1e-9));
        if (dual) CHECK(sums.evaporated_mm[1] == near(got.e_mm.sum(), 1e-9));
        if (dual) {
          const double few =
              std::max(0.01, std::min(1.0 - year.model.cover[364], got.surface_fw[364]));
          CHECK(sums.evaporable_mm[1] ==
                near(few * (sandy_loam.tew_mm - got.surface_end_mm[364]), 1e-9));
        }
        if (!dual) {
          const double wanted_mm = (year.model.kc * year.horizon.et_mm.row(1).transpose()).sum();
          CHECK(sums.etc_mm[1] + sums.unmet_mm[1] == near(wanted_mm, 1e-9));
        }
      });
    }
  }

  TEST_CASE("members side by side equal single members bit for bit, in every combination") {
    in_every_combination([&](const RootZone& zone, bool dual) {
      const Year year = random_year(31, 21, 60, dual);  // two blocks and a rest
      const Outcome all = balance(zone, some_start, year.model, year.horizon, year.waterings);
      for (Eigen::Index m = 0; m < 21; ++m) {
        const Horizon own{.et_mm = year.horizon.et_mm.row(m),
                          .rain_mm = year.horizon.rain_mm.row(m)};
        const Outcome one = balance(zone, some_start, year.model, own, year.waterings);
        CHECK(one.days_beyond[0] == all.days_beyond[m]);
        CHECK(one.beyond_mm[0] == all.beyond_mm[m]);
        CHECK(one.etc_mm[0] == all.etc_mm[m]);
        CHECK(one.drained_mm[0] == all.drained_mm[m]);
        CHECK(one.end_mm[0] == all.end_mm[m]);
        if (dual) CHECK(one.evaporated_mm[0] == all.evaporated_mm[m]);
        if (zone.wetted_share < 1.0) CHECK(one.dry_end_mm[0] == all.dry_end_mm[m]);
      }
    });
  }

  TEST_CASE("a surface that the model does not use changes nothing") {
    const Year year = random_year(41, 9, 200, false);
    SoilState start = some_start;
    const Outcome plain = balance(bed(0.4), start, year.model, year.horizon, year.waterings);
    start.dry_mm = start.surface_mm = 0.0;
    const Outcome with =
        balance(bed(0.4, 1.0, sandy_loam), start, year.model, year.horizon, year.waterings);
    CHECK((with.end_mm == plain.end_mm).all());
    CHECK((with.etc_mm == plain.etc_mm).all());
    CHECK((with.beyond_mm == plain.beyond_mm).all());
  }

  TEST_CASE("a surface that a mulch seals leaves the basal coefficient alone") {
    const Year year = random_year(43, 9, 200, true);
    SoilSurface sealed = sandy_loam;
    sealed.evaporation_share = 0.0;
    ZoneModel single = year.model;
    single.kc_max = single.cover = Column{};
    for (const double share : {1.0, 0.4}) {
      const Outcome dual =
          balance(bed(0.4, share, sealed), some_start, year.model, year.horizon, year.waterings);
      const Outcome plain =
          balance(bed(0.4, share), some_start, single, year.horizon, year.waterings);
      CHECK((dual.evaporated_mm == 0.0).all());
      CHECK((dual.end_mm - plain.end_mm).abs().maxCoeff() < 1e-9);
      CHECK((dual.etc_mm - plain.etc_mm).abs().maxCoeff() < 1e-9);
    }
  }

  TEST_CASE("a mulch lowers evaporation by its share, however long the ground dries") {
    // FAO-56 chapter 10: 50 % of the ground covered, 25 % less. On the first day, of wet ground, E
    // is Ke ET = (1.2 - 0.3) 2 = 1.8 mm without it.
    const Stretch dry =
        stretch(std::vector<double>(30, 2.0), std::vector<double>(30, 0.0), 200.0, 0.3, 0.0);
    SoilSurface surface = sandy_loam;
    const SoilState start{.depletion_mm = 10.0};
    const Waterings late = once(30, 20, 0.0, 15.0);
    const BalanceTrace bare = trace(bed(0.5, 1.0, surface), start, dry.model, dry.horizon, late, 0);
    surface.evaporation_share = 0.75;
    const BalanceTrace mulched =
        trace(bed(0.5, 1.0, surface), start, dry.model, dry.horizon, late, 0);
    CHECK(bare.e_mm[0] == near(1.8, 1e-12));
    CHECK(bare.e_mm[19] < 0.1);
    for (Eigen::Index d = 0; d < 30; ++d) CHECK(mulched.e_mm[d] == near(0.75 * bare.e_mm[d], 1e-9));
  }

  TEST_CASE("what wets the ground, and how much of it") {
    // FAO-56 chapter 7: fw of the emitters on a day with irrigation, rain or not; 1 after rain of
    // more than 3 mm alone; else as the day before.
    const Stretch days =
        stretch({1, 1, 1, 1, 1, 1}, {0.0, 0.0, 2.0, 8.0, 8.0, 0.0}, 60.0, 0.3, 0.0);
    Waterings waterings = once(6, 0, 0.0, 4.0);
    waterings.net_mm(0, 4) = 4.0;
    const BalanceTrace got =
        trace(bed(0.5, 1.0, sandy_loam), {.depletion_mm = 30.0, .surface_mm = 17.5}, days.model,
              days.horizon, waterings, 0);
    const double fw[] = {0.35, 0.35, 0.35, 1.0, 0.35, 0.35};
    for (Eigen::Index d = 0; d < 6; ++d) {
      CAPTURE(d);
      CHECK(got.few[d] == near(fw[d], 1e-12));
    }
    CHECK(got.surface_morning_mm[0] == near(17.5 - 4.0 / 0.35, 1e-12));
  }

  TEST_CASE("a watering after the day's ET wets the surface for the next day") {
    const Stretch two = stretch({4.0, 4.0}, {0.0, 0.0}, 60.0, 0.3, 0.0);
    const SoilState dry{.depletion_mm = 20.0, .surface_mm = 17.5, .surface_fw = 0.35};
    const auto evaporated = [&](double share) {
      return trace(bed(0.5, 1.0, sandy_loam), dry, two.model, two.horizon, once(2, 0, share, 10.0),
                   0)
          .e_mm;
    };
    CHECK(evaporated(0.0)[0] > 1.0);
    CHECK(evaporated(1.0)[0] == 0.0);
    CHECK(evaporated(1.0)[1] == near(evaporated(0.0)[0], 1e-12));
  }

  TEST_CASE("p goes by all of ETc, evaporation included") {
    const Stretch day = stretch({5.0}, {0.0}, 60.0, 0.3, 0.0);
    RootZone zone = bed(0.5, 1.0, sandy_loam);
    zone.adjust_p = true;
    // Wet ground: Kcb + Ke = Kc max 1.2, ETc 6 mm: p = 0.5 + 0.04 (5 - 6).
    CHECK(trace(zone, {.depletion_mm = 5.0}, day.model, day.horizon, Waterings{}, 0).p[0] ==
          near(0.46, 1e-12));
    // Dry ground: 0.3 x 5 = 1.5 mm: p = 0.64.
    CHECK(trace(zone, {.depletion_mm = 5.0, .surface_mm = 17.5}, day.model, day.horizon,
                Waterings{}, 0)
              .p[0] == near(0.64, 1e-12));
    // Water of the morning counts.
    CHECK(trace(zone, {.depletion_mm = 5.0, .surface_mm = 17.5}, day.model, day.horizon,
                once(1, 0, 0.0, 10.0), 0)
              .p[0] == near(0.5 + 0.04 * (5.0 - 5.0 * (0.3 + 0.35 * 1.2)), 1e-12));
  }

  TEST_CASE("wet and dry parts by hand") {
    // TAW 40, p 0.5, a quarter wetted, ET 4 mm a day.
    // Day 1: both parts moist: the dry one gives 3 mm of the zone's 4 (4 of its own), the wet one 1
    // (4 of its own). Day 2: 5 mm of water are 20 in the wet part.
    const Stretch two = stretch({4.0, 4.0}, {0.0, 0.0}, 40.0);
    const BalanceTrace moist = trace(bed(0.5, 0.25), {.depletion_mm = 6.0, .dry_mm = 2.0},
                                     two.model, two.horizon, once(2, 1, 1.0, 5.0), 0);
    CHECK(moist.end_mm[0] == near(10.0, 1e-12));
    CHECK(moist.dry_end_mm[0] == near(6.0, 1e-12));
    CHECK(moist.end_mm[1] == near(0.0, 1e-12));  // 14 - 20 drains 6, 1.5 mm over the zone
    CHECK(moist.drained_mm[1] == near(1.5, 1e-12));
    CHECK(moist.dry_end_mm[1] == near(10.0, 1e-12));
    // The dry part at 30: Ks 0.5, it gives 0.5 x 4 x 0.75 = 1.5 mm; the wet part the other 2.5, 10
    // of its own.
    const BalanceTrace dry = trace(bed(0.5, 0.25), {.depletion_mm = 3.0, .dry_mm = 30.0}, two.model,
                                   two.horizon, Waterings{}, 0);
    CHECK(dry.dry_end_mm[0] == near(32.0, 1e-12));
    CHECK(dry.end_mm[0] == near(13.0, 1e-12));
    CHECK(dry.etc_mm[0] == near(4.0, 1e-12));
    CHECK(dry.ks[0] == 1.0);
    // The wet part at 30 too: its Ks halves the 2.5 mm.
    const BalanceTrace both = trace(bed(0.5, 0.25), {.depletion_mm = 30.0, .dry_mm = 30.0},
                                    two.model, two.horizon, Waterings{}, 0);
    CHECK(both.etc_mm[0] == near(1.5 + 1.25, 1e-12));
    CHECK(both.unmet_mm[0] == near(1.25, 1e-12));
    CHECK(both.ks[0] == near(0.5, 1e-12));
  }

  TEST_CASE("rain fills both parts and each drains by itself") {
    const Stretch day = stretch({0.0}, {10.0}, 40.0);
    const BalanceTrace got = trace(bed(0.5, 0.25), {.depletion_mm = 4.0, .dry_mm = 30.0}, day.model,
                                   day.horizon, Waterings{}, 0);
    CHECK(got.end_mm[0] == 0.0);
    CHECK(got.dry_end_mm[0] == near(20.0, 1e-12));
    CHECK(got.drained_mm[0] == near(0.25 * 6.0, 1e-12));
  }

  TEST_CASE("limits are judged on the wetted part") {
    const Stretch day = stretch({0.0}, {0.0}, 40.0);  // RAW 20
    const auto days_beyond = [&](double wet_mm, double dry_mm) {
      return balance(bed(0.5, 0.25), {.depletion_mm = wet_mm, .dry_mm = dry_mm}, day.model,
                     day.horizon, Waterings{})
          .days_beyond[0];
    };
    CHECK(days_beyond(19.0, 40.0) == 0);
    CHECK(days_beyond(21.0, 0.0) == 1);
  }

  TEST_CASE("evaporation comes from the part whose ground is wet") {
    // Ke = min(1.2 - 0.2, few 1.2). Irrigated: few 0.35, E = 0.42 x 2 = 0.84 mm, all from the wet
    // half; no transpiration is asked of the parts beside it (Kcb 0.2: 0.4 mm, half each).
    const Stretch day = stretch({2.0}, {0.0}, 60.0, 0.2, 0.0);
    const RootZone zone = bed(0.5, 0.5, sandy_loam);
    const BalanceTrace irrigated =
        trace(zone, {.depletion_mm = 10.0, .dry_mm = 10.0, .surface_fw = 0.35}, day.model,
              day.horizon, Waterings{}, 0);
    CHECK(irrigated.e_mm[0] == near(0.84, 1e-12));
    CHECK(irrigated.end_mm[0] == near(10.0 + (0.84 + 0.2) / 0.5, 1e-12));
    CHECK(irrigated.dry_end_mm[0] == near(10.0 + 0.2 / 0.5, 1e-12));
    // After rain all the ground is wet: E = 1.0 x 2 = 2 mm, from both halves alike.
    const BalanceTrace rained =
        trace(zone, {.depletion_mm = 10.0, .dry_mm = 10.0}, day.model, day.horizon, Waterings{}, 0);
    CHECK(rained.e_mm[0] == near(2.0, 1e-12));
    CHECK(rained.end_mm[0] == near(12.4, 1e-12));
    CHECK(rained.dry_end_mm[0] == near(12.4, 1e-12));
  }

  TEST_CASE("the most that surface and root zone hold bounds evaporation") {
    // 1 mm is left of TEW over few 0.35: 0.35 mm, whatever the ET.
    Stretch day = stretch({20.0}, {0.0}, 60.0, 0.0, 0.0);
    const SoilState nearly_dry{.depletion_mm = 10.0, .surface_mm = 16.5, .surface_fw = 0.35};
    const BalanceTrace got =
        trace(bed(0.5, 1.0, sandy_loam), nearly_dry, day.model, day.horizon, Waterings{}, 0);
    CHECK(got.e_mm[0] == near(0.35, 1e-12));
    CHECK(got.surface_end_mm[0] == near(17.5, 1e-12));
    // 0.5 mm is left in the root zone.
    day = stretch({20.0}, {0.0}, 10.0, 0.0, 0.0);
    const BalanceTrace spent = trace(bed(0.5, 1.0, sandy_loam), {.depletion_mm = 9.5}, day.model,
                                     day.horizon, Waterings{}, 0);
    CHECK(spent.e_mm[0] == near(0.5, 1e-12));
    CHECK(spent.end_mm[0] == near(10.0, 1e-12));
  }

  TEST_CASE("broken preconditions of surface and parts throw") {
    const Stretch good = stretch({5.0}, {0.0}, 50.0, 0.3, 0.2);
    const auto run = [](const RootZone& zone, const SoilState& start, const Stretch& of) {
      return balance(zone, start, of.model, of.horizon, {});
    };
    const RootZone zone = bed(0.5, 0.5, sandy_loam);
    CHECK_NOTHROW((void)run(zone, some_start, good));
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const double share : {0.0, -0.1, 1.1, nan}) {
      CHECK_THROWS_AS((void)run(bed(0.5, share, sandy_loam), some_start, good),
                      std::invalid_argument);
      SoilSurface surface = sandy_loam;
      surface.fw = share;
      CHECK_THROWS_AS((void)run(bed(0.5, 1.0, surface), some_start, good), std::invalid_argument);
      SoilState start = some_start;
      start.surface_fw = share;
      CHECK_THROWS_AS((void)run(zone, start, good), std::invalid_argument);
    }
    SoilSurface surface = sandy_loam;
    surface.tew_mm = surface.rew_mm;
    CHECK_THROWS_AS((void)run(bed(0.5, 1.0, surface), some_start, good), std::invalid_argument);
    CHECK_THROWS_AS((void)run(bed(0.5), some_start, good), std::invalid_argument);
    Stretch no_cover = good;
    no_cover.model.cover = Column{};
    CHECK_THROWS_AS((void)run(zone, some_start, no_cover), std::invalid_argument);
    Stretch longer = good;
    longer.model.kc_max = longer.model.cover = Column::Ones(2);
    CHECK_THROWS_AS((void)run(zone, some_start, longer), std::invalid_argument);
    Stretch undefined = good;
    undefined.model.cover[0] = nan;
    CHECK_THROWS_AS((void)run(zone, some_start, undefined), std::invalid_argument);
    SoilState start = some_start;
    start.dry_mm = nan;
    CHECK_THROWS_AS((void)run(zone, start, good), std::invalid_argument);
  }
}

}  // namespace runnel
