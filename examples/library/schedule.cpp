// A week's programme for one bed on a small timer, without rain, twice the same week of weather.
// Wednesday, 101 minutes: worked by hand in data/docs/method.md ("Checked by hand").
#include <iostream>

#include "runnel/schedule/plan.hpp"
#include "runnel/soil/root_zone.hpp"
#include "runnel/units/number.hpp"

int main() {
  using namespace runnel;
  Lanes et_mm(1, horizon_days);
  et_mm << 7.35, 7.67, 8.12, 8.26, 8.21, 7.81, 7.22, 7.35, 7.67, 8.12, 8.26, 8.21, 7.81, 7.22;
  const double taw_mm = available_water_mm(0.23, 0.10, 0.5);
  const ZoneTask bed{
      .name = "terrace bed",
      .valve = 1,
      .root_zone = {.p = 0.5, .adjust_p = false, .aim_ks = 1.0, .surplus = Surplus::end_of_day},
      .start = {.depletion_mm = 0.5 * readily_available_water_mm(taw_mm, 0.5)},
      .model = {.kc = Column::Constant(horizon_days, 0.50),
                .taw_mm = Column::Constant(horizon_days, taw_mm)},
      .horizon = {.et_mm = 0.98 * et_mm, .rain_mm = Lanes::Zero(1, horizon_days)},
      .delivery = {.flow = Rate::mm_per_hour(17.5) * Area::m2(18.0),
                   .area = Area::m2(18.0),
                   .multiplier = run_time_multiplier(0.85),
                   .leaching_share = 0.0},
      .intake = {.basic_rate = Rate::mm_per_hour(25.0), .surface_storage = Depth::mm(5.0)},
      .et_share_before = {}};
  const Constraints constraints{
      .hours = {{.opens = *parse_clock("04:30"), .closes = *parse_clock("08:00")}}, .timer = {}};
  const Plan plan = plan_week({&bed, 1}, constraints, *parse_date("2026-07-13"), {});
  const Programme& programme = plan.programmes.front();
  std::cout << to_text(programme.days) << " at " << clock(programme.starts.front()) << ", "
            << programme.runs.front().typed_min.front() << " minutes, "
            << fixed(plan.zones.front().gross_litres, 0) << " L\n";
}
