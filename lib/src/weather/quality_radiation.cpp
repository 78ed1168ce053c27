#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <numbers>
#include <vector>

#include "quality_rules.hpp"
#include "runnel/sky/radiation.hpp"
#include "runnel/sky/sun.hpp"

namespace runnel {
namespace {

using Eigen::Index;
using V = Variable;
using Kind = Finding::Kind;

constexpr double degrees = std::numbers::pi / 180.0;

/// Extraterrestrial radiation of each day of the series, MJ m-2 d-1. [days]
Column ra_of(const WeatherSeries& days, const Site& site) {
  const Column of_year = extraterrestrial_radiation_of_year_mj_m2_d(site.latitude_deg * degrees);
  Column ra(days.rows());
  for (Index i = 0; i < ra.size(); ++i) ra[i] = of_year[day_of_year(days.date_of(i)) - 1];
  return ra;
}

// Below this the sun hardly rises, and ratios to clear sky say nothing. Common practice, no source.
constexpr double least_ra_mj_m2_d = 3.0;

/// Rs must not exceed Ra: a physical limit, Ra by ASCE-EWRI 2005 Eq. 21 (FAO-56 Eq. 21). Twilight
/// and rounding may give a little where the sun hardly rises: 0.1 MJ m-2 d-1, no source.
Tally above_extraterrestrial(const Column& rs, const Column& ra) {
  Tally rows;
  for (Index i = 0; i < rs.size(); ++i) {
    if (rs[i] > ra[i] + 0.1) rows.add(i);
  }
  return rows;
}

struct SkyRatios {
  Column share;  // Rs / Rso, NaN where it says nothing
  std::size_t known = 0;
};

SkyRatios sky_ratios(const Column& rs, const Column& ra, const Site& site) {
  SkyRatios ratios{rs / (clear_sky_share(site.elevation_m) * ra), 0};
  for (Index i = 0; i < rs.size(); ++i) {
    if (ra[i] < least_ra_mj_m2_d) ratios.share[i] = std::nan("");
    if (std::isfinite(ratios.share[i])) ++ratios.known;
  }
  return ratios;
}

/// A few days may break a rule about instruments; it is told when they are more than this share of
/// them, and three.
bool are_many(const Tally& rows, std::size_t known, double share) {
  return rows.count() >= 3 &&
         static_cast<double>(rows.count()) > share * static_cast<double>(known);
}

void check_envelope(const SkyRatios& sky, Report& report) {
  Tally above;
  Tally dark;
  for (Index i = 0; i < sky.share.size(); ++i) {
    if (sky.share[i] > 1.05) above.add(i);
    if (sky.share[i] < 0.1) dark.add(i);
  }
  // "Clear days touch Rso within 3 to 5 percent": ASCE-EWRI 2005 App. D; Allen 1996, J. Irrig.
  // Drain. Eng. 122(2):97-106, both from memory. They mean the Rso of App. D; FAO-56 Eq. 37, used
  // here, ignores haze and so is seldom the lower one.
  if (are_many(above, sky.known, 0.10)) {
    report.tell(Kind::doubt, above, "radiation lies more than 5 % above a clear sky's",
                "check the unit, the elevation and the calibration of the instrument");
  }
  // The darkest days have 0.2-0.3 of a clear sky's, rarely less: ASCE-EWRI 2005 App. D, from
  // memory; 0.1 stands for "far below".
  if (are_many(dark, sky.known, 0.05)) {
    report.tell(Kind::doubt, dark, "radiation is below a tenth of a clear sky's",
                "check the unit, and whether the instrument is shaded or dirty");
  }
}

/// Mean of the six largest Rs/Rso in each 60-day window: near 1 in an instrument that is in order
/// (open quality-control package, JOSS 2024, doi 10.21105/joss.06368). 0.85 leaves room for haze
/// that FAO-56 Eq. 37 does not know: no source.
void check_clear_days(const SkyRatios& sky, Report& report) {
  constexpr Index window = 60;
  constexpr std::size_t largest = 6;
  Tally low;
  for (Index from = 0; from + window <= sky.share.size(); from += window) {
    std::vector<double> known;
    for (Index i = from; i < from + window; ++i) {
      if (std::isfinite(sky.share[i])) known.push_back(sky.share[i]);
    }
    if (known.size() < static_cast<std::size_t>(window) / 2) continue;
    std::partial_sort(known.begin(), known.begin() + largest, known.end(), std::greater<>());
    double sum = 0.0;
    for (std::size_t i = 0; i < largest; ++i) sum += known[i];
    if (sum / static_cast<double>(largest) < 0.85) low.add(from);
  }
  if (low.count() == 0) return;
  report.say(Kind::doubt, low.first(),
             "no day has a clear sky's radiation in " + counted(low.count(), "span") +
                 " of 60 days, the first from " + report.when(low.first()),
             "check the unit, and whether the instrument is level, clean and unshaded");
}

void check_sunshine(const WeatherSeries& days, const Site& site, Report& report) {
  if (!days.has(V::sunshine_h)) return;
  const Column& sunshine = days[V::sunshine_h];
  Tally longer;
  for (Index i = 0; i < sunshine.size(); ++i) {
    // Refraction and rounding: a quarter of an hour, no source.
    const double possible =
        daylight_hours(site.latitude_deg * degrees, day_of_year(days.date_of(i)));  // FAO-56 Eq. 34
    if (sunshine[i] > possible + 0.25) longer.add(i);
  }
  report.tell(Kind::doubt, longer, "the sun shines longer than it is up",
              "check the unit and the site's latitude");
}

/// Where the middle of an hourly day lies, hours of the file's clock; nothing when a value is
/// missing or there is no sun.
std::optional<double> middle_h(const Column& values, Index from) {
  double sum = 0.0;
  double moment = 0.0;
  for (Index h = 0; h < 24; ++h) {
    if (std::isnan(values[from + h])) return std::nullopt;
    sum += values[from + h];
    moment += values[from + h] * (static_cast<double>(h) + 0.5);
  }
  if (sum < least_ra_mj_m2_d) return std::nullopt;
  return moment / sum;
}

}  // namespace

void check_radiation(const WeatherSeries& days, const Site& site, Report& report) {
  check_sunshine(days, site, report);
  if (!days.has(V::rs_mj_m2) || days.rows() == 0) return;
  const Column& rs = days[V::rs_mj_m2];
  const Column ra = ra_of(days, site);
  const Tally above = above_extraterrestrial(rs, ra);
  report.tell(Kind::error, above, "radiation is above what reaches the top of the atmosphere",
              "check the unit, the dates and the site's latitude");
  const SkyRatios sky = sky_ratios(rs, ra, site);
  check_envelope(sky, report);
  check_clear_days(sky, report);
}

void check_clock(const WeatherSeries& hours, const Site& site, Report& report) {
  if (!hours.has(V::rs_mj_m2)) return;
  const double offset_h = static_cast<double>(hours.utc_offset.count()) / 60.0;
  std::vector<double> late_h;
  for (Index from = 0; from + 24 <= hours.rows(); from += 24) {
    const auto middle = middle_h(hours[V::rs_mj_m2], from);
    if (!middle) continue;
    double late =
        *middle - solar_noon_h(site.longitude_deg, offset_h, day_of_year(hours.date_of(from)));
    late -= 24.0 * std::round(late / 24.0);
    late_h.push_back(late);
  }
  if (late_h.size() < 5) return;
  const auto mid = late_h.begin() + static_cast<std::ptrdiff_t>(late_h.size() / 2);
  std::nth_element(late_h.begin(), mid, late_h.end());
  // A shift of 5 to 10 minutes shows on clear days (ASCE-EWRI 2005 p. 42). Hours of all skies are
  // coarser: half an hour, the least that a wrong offset, label or daylight saving can cause.
  if (std::abs(*mid) <= 0.4) return;
  report.say(Kind::doubt, 0,
             "half of the days have the middle of their radiation " + fixed(std::abs(*mid), 1) +
                 " h " + (*mid > 0.0 ? "after" : "before") + " solar noon or further",
             "check the UTC offset of the file's clock, the site's longitude, and whether hours "
             "are labelled by their end");
}

}  // namespace runnel
