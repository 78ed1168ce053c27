// The published hours are in asce_test.cpp and, for FAO-56 Example 19, in tests/reference.

#include "runnel/reference_et/hourly.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "runnel/reference_et/penman_monteith.hpp"
#include "support/near.hpp"

using namespace runnel;
using Eigen::Index;

namespace {

constexpr Site site{.latitude_deg = 38.7, .longitude_deg = 0.0, .elevation_m = 50.0};

/// Days in July whose radiation is a share of the clear sky's, given by hour. With longitude and
/// offset 0, hour 12 holds noon.
HourlyEtInputs july(Index hours, double clear_share) {
  using namespace std::chrono;
  HourlyEtInputs in{
      .first_day = local_days{year{2027} / July / 1},
      .utc_offset = minutes{0},
      .t_c = Column::Constant(hours, 20.0),
      .ea_kpa = Column::Constant(hours, 1.6),
      .u2_m_s = Column::Constant(hours, 2.0),
      .rs_mj_m2_h = Column::Zero(hours),
      .estimated = std::vector<Estimates>(static_cast<std::size_t>(hours), Estimates{0})};
  in.rs_mj_m2_h = clear_share * hourly_steps(in, site, fao56_hourly()).rso_mj_m2_h;
  return in;
}

}  // namespace

TEST_CASE(
    "hourly ET - FAO-56 carries the ratio of the hour 2 to 3 h before sunset into the night") {
  // On 1 July at 38.7 N the sun sets at 19.3 h: the hour with omega in [omega_s - 0.79, omega_s -
  // 0.52] is 16-17 h.
  HourlyEtInputs in = july(48, 0.8);
  in.rs_mj_m2_h[16] *= 0.5 / 0.8;
  in.rs_mj_m2_h[17] *= 0.7 / 0.8;
  const HourlySteps steps = hourly_steps(in, site, fao56_hourly());
  CHECK(steps.clear_ratio[15] == near(0.8, 1e-12));
  CHECK(steps.clear_ratio[16] == near(0.5, 1e-12));
  CHECK(steps.clear_ratio[17] == near(0.7, 1e-12));
  for (Index i = 20; i < 28; ++i) CHECK(steps.clear_ratio[i] == near(0.5, 1e-12));
  CHECK(steps.clear_ratio[30] == near(0.8, 1e-12));
  // The first night has no evening before it: the first such hour to come serves.
  CHECK(steps.clear_ratio[0] == near(0.5, 1e-12));
}

TEST_CASE("hourly ET - ASCE carries the last ratio with the sun above 0.3 rad") {
  // The sun's middle-of-hour height passes 0.3 rad between 17.5 h (0.35) and 18.5 h (0.16) on that
  // day.
  HourlyEtInputs in = july(36, 0.8);
  in.rs_mj_m2_h[17] *= 0.5 / 0.8;
  in.rs_mj_m2_h[18] *= 0.9 / 0.8;
  const HourlySteps steps = hourly_steps(in, site, asce_short_hourly());
  CHECK(steps.clear_ratio[16] == near(0.8, 1e-12));
  for (Index i = 17; i < 30; ++i) CHECK(steps.clear_ratio[i] == near(0.5, 1e-12));
  CHECK(steps.clear_ratio[32] == near(0.8, 1e-12));
}

TEST_CASE("hourly ET - a piece of night by itself takes the assumed ratio") {
  const HourlySteps steps = hourly_steps(july(3, 0.0), site, fao56_hourly());
  CHECK((steps.clear_ratio == clear_ratio_when_unknown).all());
  CHECK((steps.ra_mj_m2_h == 0.0).all());
}

TEST_CASE("hourly ET - day and night of the soil heat flux") {
  const HourlyEtInputs in = july(24, 0.8);
  const HourlySteps fao = hourly_steps(in, site, fao56_hourly());
  CHECK(fao.g_mj_m2_h[12] == near(0.1 * fao.rn_mj_m2_h[12], 1e-15));  // Eq. 45
  CHECK(fao.g_mj_m2_h[1] == near(0.5 * fao.rn_mj_m2_h[1], 1e-15));    // Eq. 46
  // ASCE goes by the sign of Rn: the hour after sunrise may still lose energy.
  const HourlySteps asce = hourly_steps(in, site, asce_tall_hourly());
  for (Index i = 0; i < 24; ++i) {
    const double share = asce.rn_mj_m2_h[i] > 0.0 ? 0.04 : 0.2;
    CHECK(asce.g_mj_m2_h[i] == near(share * asce.rn_mj_m2_h[i], 1e-15));
  }
}

TEST_CASE("hourly ET - the hours' Ra add up to the day's, in the polar summer too") {
  for (const double latitude : {-35.0, 38.7, 66.0, 75.0}) {
    const Site place{.latitude_deg = latitude, .longitude_deg = 11.0, .elevation_m = 0.0};
    HourlyEtInputs in = july(24, 0.0);
    in.utc_offset = std::chrono::minutes{60};
    const HourlySteps steps = hourly_steps(in, place, fao56_hourly());
    const EtInputs day{.first_day = in.first_day,
                       .t_max_c = Column::Constant(1, 20.0),
                       .t_min_c = Column::Constant(1, 10.0),
                       .ea_kpa = Column::Constant(1, 1.0),
                       .u2_m_s = Column::Constant(1, 2.0),
                       .rs_mj_m2_d = Column::Constant(1, 10.0),
                       .estimated = {Estimates{0}}};
    CAPTURE(latitude);
    CHECK(steps.ra_mj_m2_h.sum() ==
          near(daily_steps(day, place, fao56_daily()).ra_mj_m2_d[0], 1e-9));
  }
}

TEST_CASE("hourly ET - a clock of another offset sees the same sun") {
  HourlyEtInputs in = july(48, 0.7);
  const HourlySteps here = hourly_steps(in, site, fao56_hourly());
  in.utc_offset = std::chrono::minutes{330};
  Site east = site;
  east.longitude_deg = 82.5;
  const HourlySteps there = hourly_steps(in, east, fao56_hourly());
  CHECK((here.eto_mm_h - there.eto_mm_h).abs().maxCoeff() < 1e-12);
}

TEST_CASE("hourly ET - refuses values not finite") {
  HourlyEtInputs in = july(24, 0.5);
  in.u2_m_s[3] = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(static_cast<void>(hourly_steps(in, site, fao56_hourly())), std::invalid_argument);
  in = july(24, 0.5);
  in.ea_kpa[3] = -0.2;
  CHECK_THROWS_AS(static_cast<void>(hourly_steps(in, site, fao56_hourly())), std::invalid_argument);
  in = july(24, 0.5);
  in.t_c.conservativeResize(23);
  CHECK_THROWS_AS(static_cast<void>(hourly_steps(in, site, fao56_hourly())), std::invalid_argument);
}
