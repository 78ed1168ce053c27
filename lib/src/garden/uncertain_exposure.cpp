#include "runnel/demand/exposure_words.hpp"
#include "runnel/units/calendar.hpp"
#include "uncertain_inputs.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

void put_factor(Zone& zone, double factor) {
  zone.exposure = {.factor = factor, .words = {}, .sun = {}, .at = zone.exposure.at};
}

/// Hours of sun without a date are taken as of midsummer; they may be those of now.
void add_observed(const UncertainZone& of) {
  const std::vector<ObservedSun>& sun = of.zone().exposure.sun;
  if (sun.empty() || sun.front().on) return;
  const Date now = of.planned().weather.first_day;
  const Date taken = midsummer(of.garden(), now);
  const auto put = [index = of.index()](Date date) {
    return [=](Garden& garden) { garden.zones[index].exposure.sun.front().on = date; };
  };
  of.add({.row = &doubt_row("observed"),
          .zone = of.index(),
          .taken = short_date(taken),
          .low = short_date(taken),
          .high = short_date(now),
          .put_low = put(taken),
          .put_high = put(now)});
}

/// Hours of sun say nothing of what is hidden where the sun does not stand.
void add_sky(const UncertainZone& of) {
  const ExposureEntry& entry = of.zone().exposure;
  if (entry.sun.empty() || entry.geometry.sky_share) return;
  const double taken = of.prepared().sky_seen;
  const DoubtRow& row = doubt_row("sky");
  of.add("sky", taken, row.low.value() * taken, row.high.value() * taken, in_percent,
         [](Zone& zone, double share) { zone.exposure.geometry.sky_share = share; });
}

}  // namespace

void add_uncertain_exposure(const UncertainZone& of) {
  const ExposureEntry& entry = of.zone().exposure;
  if (entry.factor) return;
  if (!of.states("exposure"))
    return of.add("exposure", of.prepared().exposure_factor, as_factor, put_factor);
  if (!entry.words.empty()) {
    const ExposureTable table = exposure_table();
    const ExposureWords& words = *find_exposure(table, entry.words);
    return of.add("exposure in words", of.prepared().exposure_factor, words.low, words.high,
                  as_factor, put_factor);
  }
  add_observed(of);
  add_sky(of);
  if (!of.states("exposure.wind"))
    of.add("wind", entry.geometry.wind_share, in_percent,
           [](Zone& zone, double share) { zone.exposure.geometry.wind_share = share; });
}

}  // namespace runnel
