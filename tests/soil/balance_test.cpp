#include "runnel/soil/balance.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "example35.hpp"
#include "reference_table.hpp"
#include "runnel/soil/root_zone.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

constexpr Surplus all_surplus[] = {Surplus::end_of_day, Surplus::before_et, Surplus::at_once};

/// One member under the same kc and TAW every day.
struct Plain {
  ZoneModel model;
  Horizon horizon;
};
Plain plain(std::vector<double> et_mm, std::vector<double> rain_mm, double taw_mm) {
  const auto days = static_cast<Eigen::Index>(et_mm.size());
  return {.model = {.kc = Column::Ones(days), .taw_mm = Column::Constant(days, taw_mm)},
          .horizon = {.et_mm = Eigen::Map<Lanes>(et_mm.data(), 1, days),
                      .rain_mm = Eigen::Map<Lanes>(rain_mm.data(), 1, days)}};
}

RootZone bed(double p) {
  return {.p = p, .adjust_p = false, .aim_ks = 1.0, .surplus = Surplus::end_of_day};
}
RootZone pot(double p) {
  return {.p = p, .adjust_p = false, .aim_ks = 1.0, .surplus = Surplus::at_once};
}

auto printed(const Figure& figure) { return near(figure.value, figure.half_digit); }

Waterings once(Eigen::Index days, Eigen::Index day, double share, double net_mm) {
  Waterings waterings{.et_share_before = {share}, .net_mm = Eigen::ArrayXXd::Zero(1, days)};
  waterings.net_mm(0, day) = net_mm;
  return waterings;
}

/// A year of odd weather over several members, a growing root zone and waterings in three slots.
struct Year {
  ZoneModel model;
  Horizon horizon;
  Waterings waterings;
};
Year random_year(unsigned seed, Eigen::Index members, Eigen::Index days) {
  std::mt19937 engine{seed};
  const auto uniform = [&](double low, double high) {
    return low +
           (high - low) * static_cast<double>(engine()) / static_cast<double>(std::mt19937::max());
  };
  Year year{.model = {.kc = Column(days), .taw_mm = Column(days)},
            .horizon = {.et_mm = Lanes(members, days), .rain_mm = Lanes(members, days)},
            .waterings = {.et_share_before = {0.0, 0.4, 1.0}, .net_mm = Eigen::ArrayXXd(3, days)}};
  for (Eigen::Index d = 0; d < days; ++d) {
    year.model.kc[d] = uniform(0.1, 1.2);
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

}  // namespace

TEST_SUITE("soil/balance") {
  TEST_CASE("FAO-56 Example 37 - tomato drying out, day by day") {
    const ReferenceTable table("fao56_example37.csv");
    const Column eto = table.column("ETo"), kc = table.column("Kc");
    const Eigen::Index days = table.rows();
    REQUIRE(days == 10);
    const ZoneModel model{.kc = kc,
                          .taw_mm = Column::Constant(days, available_water_mm(0.32, 0.12, 0.8))};
    const Horizon horizon{.et_mm = eto.transpose(), .rain_mm = Lanes::Zero(1, days)};
    const BalanceTrace got = trace(bed(0.40), {.depletion_mm = 55.0}, model, horizon, {}, 0);
    for (Eigen::Index d = 0; d < days; ++d) {
      CAPTURE(d);
      CHECK(got.after_morning_mm[d] == printed(table.printed("Dr_start", d)));
      CHECK(got.ks[d] == printed(table.printed("Ks", d)));
      CHECK(got.etc_mm[d] == printed(table.printed("ETc_adj", d)));
      CHECK(got.end_mm[d] == printed(table.printed("Dr_end", d)));
      CHECK(got.after_morning_mm[d] == printed(table.recomputed("recomputed", "Dr_start", d)));
      CHECK(got.ks[d] == printed(table.recomputed("recomputed", "Ks", d)));
      CHECK(got.etc_mm[d] == printed(table.recomputed("recomputed", "ETc_adj", d)));
      CHECK(got.end_mm[d] == printed(table.recomputed("recomputed", "Dr_end", d)));
    }
  }

  // The same field as Example 35, whose surface layer (REW 9 mm) gives Kc. The printed table drains
  // before the day's ET; Eq. 88 as written drains after it: the table carries both in full
  // precision.
  TEST_CASE("FAO-56 Example 38 - both places of deep percolation, day by day") {
    const ReferenceTable table("fao56_example38.csv");
    const std::vector<Example35Day> surface = example35(9.0);
    const Eigen::Index days = table.rows();
    REQUIRE(days == 5);
    Column kc(days), taw(days);
    for (Eigen::Index d = 0; d < days; ++d) {
      kc[d] = surface[static_cast<std::size_t>(d)].kc;
      taw[d] = available_water_mm(0.23, 0.10, 0.30 + 0.05 * static_cast<double>(d) / 9.0);
    }
    const Horizon horizon{.et_mm = table.column("ETo").transpose(),
                          .rain_mm = Lanes::Zero(1, days)};
    const SoilState start{.depletion_mm = readily_available_water_mm(taw[0], 0.6)};
    const auto days_of = [&](Surplus surplus) {
      RootZone zone = bed(0.6);
      zone.surplus = surplus;
      return trace(zone, start, {.kc = kc, .taw_mm = taw}, horizon, once(days, 0, 0.0, 40.0), 0);
    };
    struct Convention {
      const char* column;
      Surplus surplus;
    };
    for (const auto& [column, surplus] :
         {Convention{"recomputed", Surplus::before_et},
          Convention{"recomputed_eq88_literal", Surplus::end_of_day}}) {
      const BalanceTrace got = days_of(surplus);
      for (Eigen::Index d = 0; d < days; ++d) {
        CAPTURE(column);
        CAPTURE(d);
        CHECK(got.limit_mm[d] == printed(table.recomputed(column, "RAW", d)));
        CHECK(got.after_morning_mm[d] == printed(table.recomputed(column, "Dr_start", d)));
        CHECK(got.ks[d] == printed(table.recomputed(column, "Ks", d)));
        CHECK(got.etc_mm[d] == printed(table.recomputed(column, "ETc", d)));
        CHECK(got.drained_mm[d] == printed(table.recomputed(column, "DP", d)));
        CHECK(got.end_mm[d] == printed(table.recomputed(column, "Dr_end", d)));
      }
    }
    const BalanceTrace got = days_of(Surplus::before_et);
    for (Eigen::Index d = 0; d < days; ++d) {  // as printed, in whole mm
      CAPTURE(d);
      CHECK(got.after_morning_mm[d] == printed(table.printed("Dr_start", d)));
      CHECK(got.etc_mm[d] == printed(table.printed("ETc", d)));
      CHECK(got.drained_mm[d] == printed(table.printed("DP", d)));
      CHECK(got.end_mm[d] == printed(table.printed("Dr_end", d)));
    }
  }

  TEST_CASE("a week of rain - drains to field capacity and stays there") {
    const Plain week = plain(std::vector<double>(7, 2.0), {30, 10, 10, 0, 10, 10, 10}, 65.0);
    const BalanceTrace got =
        trace(bed(0.5), {.depletion_mm = 20.0}, week.model, week.horizon, {}, 0);
    // By hand, Eq. 85 and 88: 20 - 30 + 2 drains 8; then 10 - 2 each day; a dry day leaves 2,
    // drained back by 10 - 2 - 2.
    const double drained[] = {8, 8, 8, 0, 6, 8, 8};
    const double end[] = {0, 0, 0, 2, 0, 0, 0};
    for (Eigen::Index d = 0; d < 7; ++d) {
      CHECK(got.drained_mm[d] == near(drained[d], 1e-12));
      CHECK(got.end_mm[d] == near(end[d], 1e-12));
      CHECK(got.ks[d] == 1.0);
    }
  }

  TEST_CASE("without ET nothing changes but by water") {
    const Plain week = plain(std::vector<double>(7, 0.0), std::vector<double>(7, 0.0), 65.0);
    for (const Surplus surplus : all_surplus) {
      RootZone zone = bed(0.5);
      zone.surplus = surplus;
      const Outcome got =
          balance(zone, {.depletion_mm = 12.5}, week.model, week.horizon, once(7, 3, 0.0, 2.5));
      CHECK(got.end_mm[0] == 10.0);
      CHECK(got.etc_mm[0] == 0.0);
      CHECK(got.unmet_mm[0] == 0.0);
      CHECK(got.drained_mm[0] == 0.0);
    }
  }

  TEST_CASE("depletion stops at TAW and the rest is unmet") {
    const Plain month = plain(std::vector<double>(30, 15.0), std::vector<double>(30, 0.0), 20.0);
    for (const Surplus surplus : all_surplus) {
      RootZone zone = bed(0.5);
      zone.surplus = surplus;
      const Outcome got = balance(zone, {.depletion_mm = 0.0}, month.model, month.horizon, {});
      CHECK(got.end_mm[0] <= 20.0);
      CHECK(got.end_mm[0] > 19.9);
      CHECK(got.etc_mm[0] + got.unmet_mm[0] == near(450.0, 1e-9));
    }
    // A first day that asks for more than all there is: 15 mm over TAW 10, Ks = 1 at its beginning.
    const Plain day = plain({15.0}, {0.0}, 10.0);
    const Outcome got = balance(bed(0.5), {.depletion_mm = 0.0}, day.model, day.horizon, {});
    CHECK(got.etc_mm[0] == 10.0);
    CHECK(got.end_mm[0] == 10.0);
    CHECK(got.unmet_mm[0] == 5.0);
  }

  TEST_CASE("the balance closes - each day and over the year, for all kinds of surplus") {
    for (const unsigned seed : {1U, 2U, 3U, 4U}) {
      const Year year = random_year(seed, 3, 365);
      for (const Surplus surplus : all_surplus) {
        for (const bool adjust : {false, true}) {
          const RootZone zone{.p = 0.5, .adjust_p = adjust, .aim_ks = 0.8, .surplus = surplus};
          const BalanceTrace got =
              trace(zone, {.depletion_mm = 7.0}, year.model, year.horizon, year.waterings, 1);
          double before_mm = 7.0;
          double worst_mm = 0.0;
          for (Eigen::Index d = 0; d < 365; ++d) {
            const double expected_mm = before_mm - got.rain_mm[d] - got.net_irrigation_mm[d] +
                                       got.etc_mm[d] + got.drained_mm[d];
            worst_mm = std::max(worst_mm, std::abs(got.end_mm[d] - expected_mm));
            CHECK(got.end_mm[d] >= 0.0);
            CHECK(got.end_mm[d] <= year.model.taw_mm[d]);
            before_mm = got.end_mm[d];
          }
          CHECK(worst_mm < 1e-9);
          const Outcome sums =
              balance(zone, {.depletion_mm = 7.0}, year.model, year.horizon, year.waterings);
          CHECK(sums.end_mm[1] == near(7.0 - got.rain_mm.sum() - got.net_irrigation_mm.sum() +
                                           sums.etc_mm[1] + sums.drained_mm[1],
                                       1e-9));
          CHECK(sums.etc_mm[1] == near(got.etc_mm.sum(), 1e-9));
          CHECK(sums.drained_mm[1] == near(got.drained_mm.sum(), 1e-9));
          const double wanted_mm = (year.model.kc * year.horizon.et_mm.row(1).transpose()).sum();
          CHECK(sums.etc_mm[1] + sums.unmet_mm[1] == near(wanted_mm, 1e-9));
        }
      }
    }
  }

  TEST_CASE("members side by side equal single members bit for bit") {
    const Year year = random_year(11, 21, 120);  // two blocks and a rest
    for (const Surplus surplus : all_surplus) {
      const RootZone zone{.p = 0.45, .adjust_p = true, .aim_ks = 0.9, .surplus = surplus};
      const Outcome all =
          balance(zone, {.depletion_mm = 9.0}, year.model, year.horizon, year.waterings);
      for (Eigen::Index m = 0; m < 21; ++m) {
        const Horizon own{.et_mm = year.horizon.et_mm.row(m),
                          .rain_mm = year.horizon.rain_mm.row(m)};
        const Outcome one = balance(zone, {.depletion_mm = 9.0}, year.model, own, year.waterings);
        CHECK(one.days_beyond[0] == all.days_beyond[m]);
        CHECK(one.beyond_mm[0] == all.beyond_mm[m]);
        CHECK(one.stress_days[0] == all.stress_days[m]);
        CHECK(one.etc_mm[0] == all.etc_mm[m]);
        CHECK(one.unmet_mm[0] == all.unmet_mm[m]);
        CHECK(one.drained_mm[0] == all.drained_mm[m]);
        CHECK(one.end_mm[0] == all.end_mm[m]);
      }
    }
  }

  TEST_CASE("the steps agree with the scalar formulas of the root zone") {
    const Year year = random_year(5, 1, 200);
    const RootZone zone{.p = 0.4, .adjust_p = true, .aim_ks = 1.0, .surplus = Surplus::before_et};
    const BalanceTrace got = trace(zone, {.depletion_mm = 15.0}, year.model, year.horizon, {}, 0);
    for (Eigen::Index d = 0; d < 200; ++d) {
      const double wanted_mm = year.model.kc[d] * year.horizon.et_mm(0, d);
      CHECK(got.p[d] == near(adjusted_p(0.4, wanted_mm), 1e-12));
      CHECK(got.limit_mm[d] ==
            near(readily_available_water_mm(year.model.taw_mm[d], got.p[d]), 1e-9));
      CHECK(
          got.ks[d] ==
          near(stress_coefficient(got.after_morning_mm[d], year.model.taw_mm[d], got.p[d]), 1e-9));
    }
  }

  TEST_CASE("a limit set by an accepted Ks") {
    // Ks = 0.5 is reached at TAW (1 - 0.5 (1 - p)): 0.75 of 60 mm.
    const Plain day = plain({0.0}, {0.0}, 60.0);
    const RootZone zone{.p = 0.5, .adjust_p = false, .aim_ks = 0.5, .surplus = Surplus::end_of_day};
    CHECK(trace(zone, {.depletion_mm = 0.0}, day.model, day.horizon, {}, 0).limit_mm[0] ==
          near(45.0, 1e-12));
    const Outcome at = balance(zone, {.depletion_mm = 45.0}, day.model, day.horizon, {});
    CHECK(at.days_beyond[0] == 0);
    CHECK(at.stress_days[0] == 1);
    const Outcome over = balance(zone, {.depletion_mm = 46.0}, day.model, day.horizon, {});
    CHECK(over.days_beyond[0] == 1);
    CHECK(over.beyond_mm[0] == near(1.0, 1e-12));
    // What prints as 0.0 mm is not beyond, and no sum grows by it.
    const Outcome hair = balance(zone, {.depletion_mm = 45.049}, day.model, day.horizon, {});
    CHECK(hair.days_beyond[0] == 0);
    CHECK(hair.beyond_mm[0] == 0.0);
    CHECK(balance(zone, {.depletion_mm = 45.051}, day.model, day.horizon, {}).days_beyond[0] == 1);
  }

  TEST_CASE("a bed counts as beyond by its depletion after the morning's water") {
    const Plain two = plain({6.0, 6.0}, {0.0, 0.0}, 20.0);  // RAW 10
    // 8, then 14 at the second morning: beyond by 4; a watering of 5 that morning leaves 9: within.
    CHECK(balance(bed(0.5), {.depletion_mm = 8.0}, two.model, two.horizon, {}).days_beyond[0] == 1);
    CHECK(balance(bed(0.5), {.depletion_mm = 8.0}, two.model, two.horizon, {}).beyond_mm[0] ==
          near(4.0, 1e-12));
    CHECK(balance(bed(0.5), {.depletion_mm = 8.0}, two.model, two.horizon, once(2, 1, 0.0, 5.0))
              .days_beyond[0] == 0);
    // The same water after the day's ET comes too late for that morning.
    CHECK(balance(bed(0.5), {.depletion_mm = 8.0}, two.model, two.horizon, once(2, 1, 1.0, 5.0))
              .days_beyond[0] == 1);
  }

  TEST_CASE("a pot drains at once and is judged just before each watering") {
    const Plain day = plain({8.0}, {0.0}, 10.0);
    // From 2 mm: 8 mm of water fills it and drains 6; the day's 8 mm end at 8, beyond RAW 5 by 3.
    const BalanceTrace morning =
        trace(pot(0.5), {.depletion_mm = 2.0}, day.model, day.horizon, once(1, 0, 0.0, 8.0), 0);
    CHECK(morning.drained_mm[0] == near(6.0, 1e-12));
    CHECK(morning.after_morning_mm[0] == 0.0);
    CHECK(morning.end_mm[0] == near(8.0, 1e-12));
    CHECK(balance(pot(0.5), {.depletion_mm = 2.0}, day.model, day.horizon, once(1, 0, 0.0, 8.0))
              .beyond_mm[0] == near(3.0, 1e-12));
    // Half the day's ET (4 mm) leaves 4, within RAW; 4 mm of water then; the other half leaves 4
    // again: never beyond.
    Waterings twice{.et_share_before = {0.0, 0.5}, .net_mm = Eigen::ArrayXXd(2, 1)};
    twice.net_mm << 2.0, 4.0;
    const Outcome split = balance(pot(0.5), {.depletion_mm = 2.0}, day.model, day.horizon, twice);
    CHECK(split.days_beyond[0] == 0);
    CHECK(split.drained_mm[0] == 0.0);
    CHECK(split.stress_days[0] == 0);
    CHECK(split.end_mm[0] == near(4.0, 1e-12));
    // From 9 mm (Ks 0.6 after the first watering) the worst is before the second: 7 + 0.6 x 4,
    // beyond by 4.4.
    const Outcome dry = balance(pot(0.5), {.depletion_mm = 9.0}, day.model, day.horizon, twice);
    CHECK(dry.days_beyond[0] == 1);
    CHECK(dry.beyond_mm[0] == near(4.4, 1e-12));
  }

  TEST_CASE("Ks is taken anew after a watering during the day") {
    const Plain day = plain({8.0}, {0.0}, 20.0);
    // Start 15, RAW 10: Ks 0.5, half a day 4 x 0.5 = 2; watered by 10 to 7: Ks 1, the other half 4.
    const BalanceTrace got =
        trace(pot(0.5), {.depletion_mm = 15.0}, day.model, day.horizon, once(1, 0, 0.5, 10.0), 0);
    CHECK(got.etc_mm[0] == near(6.0, 1e-12));
    CHECK(got.ks[0] == near(0.5, 1e-12));
    CHECK(got.end_mm[0] == near(11.0, 1e-12));
  }

  TEST_CASE("a slot without water does not split the day") {
    const Year year = random_year(8, 4, 60);
    const Waterings empty{.et_share_before = {0.2, 0.6}, .net_mm = Eigen::ArrayXXd::Zero(2, 60)};
    const Outcome with = balance(pot(0.3), {.depletion_mm = 5.0}, year.model, year.horizon, empty);
    const Outcome without = balance(pot(0.3), {.depletion_mm = 5.0}, year.model, year.horizon, {});
    CHECK((with.end_mm == without.end_mm).all());
    CHECK((with.etc_mm == without.etc_mm).all());
  }

  TEST_CASE("broken preconditions throw") {
    const Plain good = plain({5.0, 5.0}, {0.0, 0.0}, 50.0);
    const SoilState start{.depletion_mm = 5.0};
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double inf = std::numeric_limits<double>::infinity();
    const auto run = [&](const RootZone& zone, const ZoneModel& model, const Horizon& horizon,
                         const Waterings& w) { return balance(zone, start, model, horizon, w); };
    CHECK_NOTHROW((void)run(bed(0.5), good.model, good.horizon, {}));
    for (const double bad : {nan, inf}) {
      Plain p = good;
      p.horizon.et_mm(0, 1) = bad;
      CHECK_THROWS_AS((void)run(bed(0.5), p.model, p.horizon, {}), std::invalid_argument);
      p = good;
      p.horizon.rain_mm(0, 0) = bad;
      CHECK_THROWS_AS((void)run(bed(0.5), p.model, p.horizon, {}), std::invalid_argument);
      p = good;
      p.model.kc[0] = bad;
      CHECK_THROWS_AS((void)run(bed(0.5), p.model, p.horizon, {}), std::invalid_argument);
      CHECK_THROWS_AS((void)balance(bed(0.5), {.depletion_mm = bad}, good.model, good.horizon, {}),
                      std::invalid_argument);
      CHECK_THROWS_AS((void)run(bed(0.5), good.model, good.horizon, once(2, 0, 0.0, bad)),
                      std::invalid_argument);
      CHECK_THROWS_AS((void)run(bed(0.5), good.model, good.horizon, once(2, 0, bad, 1.0)),
                      std::invalid_argument);
    }
    for (const double bad : {nan, 0.0, -1.0}) {
      Plain p = good;
      p.model.taw_mm[1] = bad;
      CHECK_THROWS_AS((void)run(bed(0.5), p.model, p.horizon, {}), std::invalid_argument);
    }
    Plain p = good;
    p.model.kc = Column::Ones(3);
    CHECK_THROWS_AS((void)run(bed(0.5), p.model, p.horizon, {}), std::invalid_argument);
    p = good;
    p.horizon.rain_mm = Lanes::Zero(1, 3);
    CHECK_THROWS_AS((void)run(bed(0.5), p.model, p.horizon, {}), std::invalid_argument);
    CHECK_THROWS_AS((void)run(bed(0.5), good.model, good.horizon, once(3, 0, 0.0, 1.0)),
                    std::invalid_argument);
    const Waterings falling{.et_share_before = {0.5, 0.2}, .net_mm = Eigen::ArrayXXd::Zero(2, 2)};
    CHECK_THROWS_AS((void)run(bed(0.5), good.model, good.horizon, falling), std::invalid_argument);
    CHECK_THROWS_AS((void)run(bed(1.0), good.model, good.horizon, {}), std::invalid_argument);
    CHECK_THROWS_AS((void)run(bed(-0.1), good.model, good.horizon, {}), std::invalid_argument);
    CHECK_THROWS_AS((void)trace(bed(0.5), start, good.model, good.horizon, {}, 1),
                    std::invalid_argument);
  }
}

}  // namespace runnel
