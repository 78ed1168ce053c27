#pragma once

#include "runnel/sky/site.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/column.hpp"

namespace runnel {

/// Reference evapotranspiration from temperatures alone, mm/d. FAO-56 Eq. 52 (Hargreaves); not
/// below 0. [days]
[[nodiscard]] Column temperature_eto_mm_d(Date first_day, const Column& t_max_c,
                                          const Column& t_min_c, const Site& site);

}  // namespace runnel
