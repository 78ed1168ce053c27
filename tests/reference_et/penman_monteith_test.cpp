// The published figures are in tests/reference and asce_test.cpp; here are the properties that no
// table shows.

#include "runnel/reference_et/penman_monteith.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <stdexcept>
#include <utility>

#include "runnel/sky/psychrometrics.hpp"
#include "runnel/sky/radiation.hpp"
#include "runnel/sky/sun.hpp"
#include "support/near.hpp"

using namespace runnel;
using Eigen::Index;

namespace {

constexpr Site site{.latitude_deg = 41.4, .longitude_deg = 2.2, .elevation_m = 80.0};

Date date(int y, unsigned m, unsigned d) {
  using namespace std::chrono;
  return local_days{year{y} / month{m} / day{d}};
}

EtInputs constant_days(Date first, Index days) {
  return {.first_day = first,
          .t_max_c = Column::Constant(days, 27.0),
          .t_min_c = Column::Constant(days, 15.0),
          .ea_kpa = Column::Constant(days, 1.5),
          .u2_m_s = Column::Constant(days, 1.8),
          .rs_mj_m2_d = Column::Constant(days, 20.0),
          .estimated = std::vector<Estimates>(static_cast<std::size_t>(days), Estimates{0})};
}

EtInputs random_days(Date first, Index days, unsigned seed) {
  std::mt19937 random{seed};
  std::uniform_real_distribution<double> share{0.0, 1.0};
  EtInputs in = constant_days(first, days);
  for (Index i = 0; i < days; ++i) {
    in.t_min_c[i] = -15.0 + 40.0 * share(random);
    in.t_max_c[i] = in.t_min_c[i] + 20.0 * share(random);
    in.ea_kpa[i] = saturation_vapour_pressure_kpa(in.t_min_c[i]) * (0.4 + 0.6 * share(random));
    in.u2_m_s[i] = 6.0 * share(random);
    in.rs_mj_m2_d[i] = 30.0 * share(random);
  }
  return in;
}

/// FAO-56 Eq. 6 once more, plainly and from the sky layer's single-day functions: what the blocks
/// must agree with.
double plain_eto(const EtInputs& in, Index i, const Site& place) {
  const double t = (in.t_max_c[i] + in.t_min_c[i]) / 2.0;
  const double delta = vapour_pressure_slope_kpa_c(t);
  const double gamma = psychrometric_constant_kpa_c(atmospheric_pressure_kpa(place.elevation_m));
  const double es = mean_saturation_vapour_pressure_kpa(in.t_max_c[i], in.t_min_c[i]);
  const double ra =
      extraterrestrial_radiation_mj_m2_d(place.latitude_deg * std::numbers::pi / 180.0,
                                         day_of_year(in.first_day + std::chrono::days{i}));
  const double rso = (0.75 + 2e-5 * place.elevation_m) * ra;
  const double ratio = rso > 0.0 ? std::clamp(in.rs_mj_m2_d[i] / rso, 0.33, 1.0) : 1.0;
  const double k4 =
      (std::pow(in.t_max_c[i] + 273.16, 4) + std::pow(in.t_min_c[i] + 273.16, 4)) / 2.0;
  const double rnl =
      4.903e-9 * k4 * (0.34 - 0.14 * std::sqrt(in.ea_kpa[i])) * (1.35 * ratio - 0.35);
  const double rn = 0.77 * in.rs_mj_m2_d[i] - rnl;
  const double u2 = std::max(in.u2_m_s[i], 0.5);
  return (0.408 * delta * rn + gamma * 900.0 / (t + 273.0) * u2 * (es - in.ea_kpa[i])) /
         (delta + gamma * (1.0 + 0.34 * u2));
}

}  // namespace

TEST_CASE(
    "reference ET - blocks agree with the equation day by day, whatever the length and the start") {
  for (const Index days : {0, 1, 2, 7, 8, 9, 15, 16, 17, 400, 1500}) {
    for (const Date first :
         {date(2023, 1, 1), date(2023, 12, 28), date(2024, 2, 27), date(2024, 12, 30)}) {
      for (const double latitude : {-75.0, -34.0, 0.0, 52.0, 78.0}) {
        const Site place{.latitude_deg = latitude, .longitude_deg = 0.0, .elevation_m = 250.0};
        const EtInputs in = random_days(first, days, 7);
        const Column eto = eto_mm_d(in, place, fao56_daily());
        REQUIRE(eto.size() == days);
        for (Index i = 0; i < days; ++i) REQUIRE(eto[i] == near(plain_eto(in, i, place), 1e-11));
      }
    }
  }
}

TEST_CASE("reference ET - the steps are those of the result, bit for bit") {
  const EtInputs in = random_days(date(2024, 2, 20), 99, 11);
  for (const Method* method : {&fao56_daily(), &asce_short_daily(), &asce_tall_daily()}) {
    const DailySteps steps = daily_steps(in, site, *method);
    CHECK((steps.eto_mm_d == eto_mm_d(in, site, *method)).all());
    CHECK((steps.rn_mj_m2_d == steps.rns_mj_m2_d - steps.rnl_mj_m2_d).all());
    CHECK((steps.u2_m_s >= method->least_wind_m_s).all());
  }
}

TEST_CASE("reference ET - more radiation never means less") {
  const double ra =
      extraterrestrial_radiation_mj_m2_d(site.latitude_deg * std::numbers::pi / 180.0, 182);
  EtInputs in = constant_days(date(2027, 7, 1), 1);
  for (const Method* method : {&fao56_daily(), &asce_short_daily(), &asce_tall_daily()}) {
    double previous = -1.0;
    for (double share = 0.0; share <= 0.8; share += 0.01) {
      in.rs_mj_m2_d[0] = share * ra;
      const double eto = eto_mm_d(in, site, *method)[0];
      CHECK(eto > previous);
      previous = eto;
    }
  }
}

TEST_CASE("reference ET - the southern summer is as strong as the northern, half a year apart") {
  // The same weather in both: only the clear-sky radiation differs, by the distance of the sun.
  const Site south{.latitude_deg = -41.4, .longitude_deg = 2.2, .elevation_m = 80.0};
  const EtInputs in = constant_days(date(2027, 1, 1), 365);
  const DailySteps at_north = daily_steps(in, site, fao56_daily());
  const DailySteps at_south = daily_steps(in, south, fao56_daily());
  Index most_north = 0;
  Index most_south = 0;
  at_north.ra_mj_m2_d.maxCoeff(&most_north);
  at_south.ra_mj_m2_d.maxCoeff(&most_south);
  CHECK(std::abs(most_north - 171) < 5);                                   // late June
  CHECK((most_south > 349 || most_south < 5));                             // late December
  CHECK(at_south.ra_mj_m2_d.maxCoeff() > at_north.ra_mj_m2_d.maxCoeff());  // nearer to the sun
  CHECK(at_south.eto_mm_d.isFinite().all());
}

TEST_CASE("reference ET - polar day and polar night") {
  const Site north{.latitude_deg = 78.2, .longitude_deg = 15.6, .elevation_m = 10.0};
  EtInputs in = constant_days(date(2027, 1, 1), 365);
  in.t_max_c.setConstant(-8.0);
  in.t_min_c.setConstant(-14.0);
  in.ea_kpa.setConstant(0.2);
  in.rs_mj_m2_d.setConstant(0.0);
  const DailySteps steps = daily_steps(in, north, fao56_daily());
  CHECK(steps.eto_mm_d.isFinite().all());
  CHECK(steps.ra_mj_m2_d[0] == 0.0);
  CHECK(steps.ra_mj_m2_d[171] > 40.0);
  // Without any sun the clear ratio is taken as 1 (row E06 of the ASCE table): the largest
  // long-wave loss.
  CHECK(steps.rnl_mj_m2_d[0] == steps.rnl_mj_m2_d.maxCoeff());
  CHECK(steps.rnl_mj_m2_d[171] < steps.rnl_mj_m2_d[0]);
}

TEST_CASE("reference ET - a leap day and the days after it") {
  // 29 February is day 60, 1 March then day 61; in a common year 1 March is day 60.
  const auto ra_on = [](Date day) {
    return daily_steps(constant_days(day, 1), site, fao56_daily()).ra_mj_m2_d[0];
  };
  CHECK(ra_on(date(2024, 2, 29)) == ra_on(date(2023, 3, 1)));
  CHECK(ra_on(date(2024, 12, 31)) != ra_on(date(2023, 12, 31)));  // day 366
  const DailySteps across = daily_steps(constant_days(date(2024, 2, 27), 5), site, fao56_daily());
  CHECK(across.ra_mj_m2_d[2] == ra_on(date(2024, 2, 29)));
  CHECK(across.ra_mj_m2_d[3] == ra_on(date(2024, 3, 1)));
}

TEST_CASE("reference ET - floors of wind and of the clear ratio") {
  EtInputs calm = constant_days(date(2027, 7, 1), 1);
  calm.u2_m_s[0] = 0.1;
  CHECK(daily_steps(calm, site, fao56_daily()).u2_m_s[0] == 0.5);  // FAO-56 chapter 3
  CHECK(daily_steps(calm, site, asce_short_daily()).u2_m_s[0] == 0.1);
  // Radiation above clear sky counts as a clear sky: Rs/Rso <= 1 (Eq. 39).
  EtInputs bright = constant_days(date(2027, 7, 1), 1);
  bright.rs_mj_m2_d[0] = 35.0;
  EtInputs brighter = bright;
  brighter.rs_mj_m2_d[0] = 38.0;
  CHECK(daily_steps(bright, site, fao56_daily()).rnl_mj_m2_d[0] ==
        daily_steps(brighter, site, fao56_daily()).rnl_mj_m2_d[0]);
}

TEST_CASE("reference ET - below sea level") {
  const Site low{.latitude_deg = 33.0, .longitude_deg = -115.5, .elevation_m = -60.0};
  const EtInputs in = constant_days(date(2027, 7, 1), 3);
  CHECK(eto_mm_d(in, low, fao56_daily())[2] == near(plain_eto(in, 2, low), 1e-12));
}

TEST_CASE("reference ET - a value not finite or a column too short is refused") {
  const std::pair<Column EtInputs::*, double> faults[] = {
      {&EtInputs::t_max_c, std::numeric_limits<double>::quiet_NaN()},
      {&EtInputs::t_min_c, std::numeric_limits<double>::infinity()},
      {&EtInputs::ea_kpa, std::numeric_limits<double>::quiet_NaN()},
      {&EtInputs::ea_kpa, -0.1},
      {&EtInputs::u2_m_s, std::numeric_limits<double>::quiet_NaN()},
      {&EtInputs::u2_m_s, std::numeric_limits<double>::infinity()},
      {&EtInputs::rs_mj_m2_d, std::numeric_limits<double>::quiet_NaN()},
      {&EtInputs::rs_mj_m2_d, -std::numeric_limits<double>::infinity()}};
  for (const auto& [column, value] : faults) {
    for (const Index row : {0, 5, 18}) {
      EtInputs in = constant_days(date(2027, 7, 1), 19);
      (in.*column)[row] = value;
      CAPTURE(value);
      CAPTURE(row);
      CHECK_THROWS_AS(static_cast<void>(eto_mm_d(in, site, fao56_daily())), std::invalid_argument);
      CHECK_THROWS_AS(static_cast<void>(daily_steps(in, site, asce_tall_daily())),
                      std::invalid_argument);
    }
  }
  EtInputs uneven = constant_days(date(2027, 7, 1), 19);
  uneven.u2_m_s.conservativeResize(18);
  CHECK_THROWS_AS(static_cast<void>(eto_mm_d(uneven, site, fao56_daily())), std::invalid_argument);
}
