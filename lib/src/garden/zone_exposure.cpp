#include <algorithm>
#include <cctype>
#include <chrono>
#include <initializer_list>
#include <numbers>
#include <string_view>
#include <utility>

#include "runnel/demand/exposure.hpp"
#include "runnel/demand/exposure_words.hpp"
#include "runnel/garden/time_zone.hpp"
#include "runnel/reference_et/method.hpp"
#include "runnel/sky/sun.hpp"
#include "runnel/units/number.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

constexpr double degrees = std::numbers::pi / 180.0;
constexpr Eigen::Index week = 7;

// Beyond these a figure is worth a second look: Costello et al. 2000 publish 0.5-1.4, and computed
// deep shade lies lower. On days of little ET the ratio says nothing: below 1 mm/d it is not looked
// at (no source).
constexpr double least_usual_factor = 0.4;
constexpr double most_usual_factor = 1.4;
constexpr double least_telling_et_mm_d = 1.0;

double week_mean(const Column& factor, const Column& eto_mm) {
  const Eigen::Index days = std::min(week, factor.size());
  const double open_mm = eto_mm.head(days).sum();
  return open_mm > 0.0 ? (factor * eto_mm).head(days).sum() / open_mm : factor.head(days).mean();
}

ZoneExposure constant(const ZoneContext& context, double factor) {
  return {.factor = Column::Constant(context.days(), factor),
          .at_open_wind = Column::Constant(context.days(), factor),
          .et_mm = context.weather.eto_by_future_mm() * factor,
          .week_factor = factor};
}

std::string in_words(const Display& display, const std::vector<Window>& hours) {
  std::string text;
  for (const Window& window : hours) {
    if (!text.empty()) text += ", ";
    text += clock_span(display, window.opens, window.closes);
  }
  return text.empty() ? "none" : text;
}

[[noreturn]] void refuse(const Place& at, std::string says, std::string mend) {
  throw InputError(Finding{
      .kind = Finding::Kind::error, .at = at, .says = std::move(says), .mend = std::move(mend)});
}

/// From the site's clock to the sun's.
SunObservation observation(const ZoneContext& context, const ObservedSun& seen, Date date) {
  const Site& site = context.garden.site;
  const int day = day_of_year(date);
  const double offset_h =
      static_cast<double>(utc_offset_at_noon(context.garden.timezone, date).count()) / 60.0;
  const double sunset_rad = sunset_hour_angle_rad(site.latitude_deg * degrees, day);
  if (!(sunset_rad > 0.0))
    refuse(seen.at, "the sun does not rise on " + iso_date(date) + " at this latitude",
           "give hours of sun seen in another season");
  const auto angle_rad = [&](WallTime time) {
    return solar_time_angle_rad(static_cast<double>(time.count()) / 60.0, site.longitude_deg,
                                offset_h, day);
  };
  SunObservation observed{.declination_rad = declination_rad(day), .seen = {}};
  for (const Window& window : seen.hours) {
    const SunHours hours{.from_rad = angle_rad(window.opens), .to_rad = angle_rad(window.closes)};
    if (share_within({-sunset_rad, sunset_rad}, {hours}) <= 0.0)
      refuse(seen.at,
             "the sun is down between " + in_words(context.garden.display, {window}) + " on " +
                 iso_date(date),
             "write the hours by the clock on the wall, and the day on which they were seen");
    observed.seen.push_back(hours);
  }
  return observed;
}

/// Where the sun climbs higher than on any day on which it was seen, what hid it may hide it still;
/// the lowest skyline lets it through.
void doubt_higher_sun(const ZoneContext& context, const std::vector<SunObservation>& observed) {
  const double towards = context.garden.site.latitude_deg < 0.0 ? -1.0 : 1.0;
  double highest_rad = -10.0;
  bool always_sun = true;
  for (const SunObservation& day : observed) {
    highest_rad = std::max(highest_rad, towards * day.declination_rad);
    const double sunset_rad =
        sunset_hour_angle_at_rad(context.garden.site.latitude_deg * degrees, day.declination_rad);
    always_sun = always_sun && share_within({-sunset_rad, sunset_rad}, day.seen) >= 1.0;
  }
  const double now_rad = towards * declination_rad(day_of_year(context.weather.first_day));
  if (always_sun || now_rad <= highest_rad + skyline_margin_deg * degrees) return;
  context.say(Finding::Kind::doubt, context.zone.exposure.sun.front().at,
              "the sun now climbs " + fixed((now_rad - highest_rad) / degrees, 0) +
                  " deg higher than on the day on which it was seen, and is taken to shine over "
                  "what hid it then",
              "look again at what hours it shines, and write them with also:");
}

/// The lowest skyline that fits the hours of sun.
Skyline observed_skyline(const ZoneContext& context) {
  std::vector<SunObservation> observations;
  for (const ObservedSun& seen : context.zone.exposure.sun) {
    const Date date = seen.on.value_or(midsummer(context.garden, context.weather.first_day));
    observations.push_back(observation(context, seen, date));
    context.fact("direct sun", in_words(context.garden.display, seen.hours),
                 (seen.on ? "seen on " : "taken as of midsummer, ") + iso_date(date));
    if (!seen.on)
      context.say(Finding::Kind::remark, seen.at,
                  "the day on which the sun was seen is not stated: midsummer, " + iso_date(date) +
                      ", is taken",
                  "write observed: with the date");
  }
  doubt_higher_sun(context, observations);
  const Skyline skyline = lowest_skyline(context.garden.site.latitude_deg * degrees, observations);
  const auto [low, high] =
      std::minmax_element(skyline.height_rad.begin(), skyline.height_rad.end());
  context.fact("skyline", fixed(*low / degrees, 0) + " to " + fixed(*high / degrees, 0) + " deg",
               "assumed: the lowest that fits the hours of sun; where the sun does not stand, "
               "its mean");
  return skyline;
}

bool can_compute(const AssumedWeather& weather) {
  return !weather.stretches.empty() &&
         std::all_of(weather.stretches.begin(), weather.stretches.end(),
                     [](const DailyWeather& stretch) { return stretch.inputs.has_value(); });
}

/// Of one place under the weather assumed.
struct Computed {
  Lanes et_mm;          ///< [futures, days]
  Column factor, beam;  ///< [days] means of the futures
};

double mean_of(const Column& by_row, const AssumedWeather& weather) {
  if (weather.recent_days == 0) return 0.0;
  return by_row.segment(weather.recent_first, weather.recent_days).mean();
}

/// Each day by its own weather; where the recent mean stands, by the mean of the recent days.
Computed computed(const ZoneContext& context, const Exposure& exposure) {
  const AssumedWeather& weather = context.weather;
  Column et_mm(weather.rows());
  Column beam(weather.rows());
  Eigen::Index row = 0;
  for (const DailyWeather& stretch : weather.stretches) {
    const ExposureSteps steps =
        zone_et_steps(*stretch.inputs, context.garden.site, exposure, fao56_daily());
    et_mm.segment(row, stretch.days()) = steps.et_mm_d.max(0.0);
    beam.segment(row, stretch.days()) = steps.beam_share;
    row += stretch.days();
  }
  Computed place{.et_mm = weather.by_future(et_mm, mean_of(et_mm, weather)),
                 .factor = {},
                 .beam = weather.by_future(beam, mean_of(beam, weather)).colwise().mean()};
  place.factor = exposure_factor(place.et_mm.colwise().mean(), weather.eto_mm);
  return place;
}

void doubt_unusual(const ZoneContext& context, double factor) {
  if (factor >= least_usual_factor && factor <= most_usual_factor) return;
  const Eigen::Index days = std::min(week, context.days());
  if (context.weather.eto_mm.head(days).mean() < least_telling_et_mm_d) return;
  context.say(Finding::Kind::doubt, context.zone.exposure.at,
              "its computed exposure factor is " + fixed(factor, 2) +
                  ", outside the 0.5 to 1.4 of published tables",
              factor < 1.0 ? "deep shade computes so; check the hours of sun and the sky seen"
                           : "check the surroundings and the wind");
}

/// The published factor of the words, where the weather brings no radiation to compute one from.
ZoneExposure published(const ZoneContext& context, const ExposureWords& words) {
  context.fact("exposure factor", fixed(words.factor, 2), words.source);
  context.say(Finding::Kind::doubt, context.zone.exposure.at,
              "the weather gives reference ET alone, from which no exposure can be computed: the "
              "published factor " +
                  fixed(words.factor, 2) + " is taken for " + quoted(words.words),
              "give temperatures as well, or the factor itself");
  return constant(context, words.factor);
}

/// What stands in the way, in figures.
void note(const ZoneContext& context, const Exposure& exposure, double beam,
          const std::string& source) {
  const double sky = sky_share(exposure);
  const bool from_skyline = !exposure.sky_share;
  context.fact("sky seen", fixed(100.0 * sky, 0) + " %",
               from_skyline ? "mean of cos2 of the skyline's height" : source);
  if (exposure.canopy_share < 1.0)
    context.fact("light through the canopy", fixed(100.0 * exposure.canopy_share, 0) + " %",
                 source);
  context.fact("direct light let in", fixed(100.0 * beam, 0) + " %",
               "the sun's path in steps of 5 minutes, Erbs et al. 1982");
  if (sky < 1.0) context.fact("albedo around", fixed(exposure.albedo, 2), source);
  context.fact("wind", fixed(100.0 * exposure.wind_share, 0) + " %", source);
}

ZoneExposure from_geometry(const ZoneContext& context, const Exposure& exposure,
                           const std::string& source) {
  const Column& eto_mm = context.weather.eto_mm;
  Computed by_day = computed(context, exposure);
  note(context, exposure, by_day.beam.head(std::min(week, context.days())).mean(), source);
  Exposure unsheltered = exposure;
  unsheltered.wind_share = 1.0;
  ZoneExposure zone{.factor = by_day.factor,
                    .at_open_wind = computed(context, unsheltered).factor,
                    .et_mm = std::move(by_day.et_mm),
                    .week_factor = week_mean(by_day.factor, eto_mm),
                    .sky_seen = sky_share(exposure)};
  context.fact("exposure factor", fixed(zone.week_factor, 2),
               "FAO-56 Eq. 6 again with the zone's light and wind, over that of open ground");
  doubt_unusual(context, zone.week_factor);
  return zone;
}

ZoneExposure open_ground(const ZoneContext& context) {
  context.fact("exposure factor", fixed(1.0, 2), "open ground");
  return constant(context, 1.0);
}

/// Whether these words stand in the text, whole and in any case.
bool says_word(const std::string& text, std::string_view word) {
  const std::string folded = lower(text);
  const auto letter = [&folded](std::size_t at) {
    return at < folded.size() && std::isalpha(static_cast<unsigned char>(folded[at])) != 0;
  };
  for (std::size_t at = folded.find(word); at != std::string::npos; at = folded.find(word, at + 1))
    if ((at == 0 || !letter(at - 1)) && !letter(at + word.size())) return true;
  return false;
}

/// What a zone is called is the gardener's own word for its place.
void doubt_name(const ZoneContext& context, double factor) {
  const std::string& name = context.zone.name;
  const auto any = [&name](std::initializer_list<std::string_view> words) {
    return std::any_of(words.begin(), words.end(),
                       [&name](std::string_view word) { return says_word(name, word); });
  };
  const bool shady = any({"shade", "shaded", "shady"});
  const bool sunny = any({"sunny", "full sun"});
  // Costello et al. 2000: shaded places 0.5-0.9, open ones 1. Of sunny places: no source.
  constexpr double most_in_shade = 0.9;
  constexpr double least_in_sun = 0.7;
  if (shady == sunny || (shady ? factor <= most_in_shade : factor >= least_in_sun)) return;
  context.say(Finding::Kind::doubt, context.zone.exposure.at,
              std::string("is called ") + (shady ? "shady" : "sunny") +
                  ", but its exposure leaves it " + fixed(100.0 * factor, 0) +
                  " % of open ground's ET",
              shady ? "write exposure: part shade, or the hours of direct sun; or another name"
                    : "check the hours of direct sun and the sky seen; or another name");
}

ZoneExposure exposure_as_stated(const ZoneContext& context) {
  const ExposureEntry& entry = context.zone.exposure;
  if (entry.factor) {
    context.fact("exposure factor", fixed(*entry.factor, 2), own_figure);
    return constant(context, *entry.factor);
  }
  const bool computes = can_compute(context.weather);
  if (!entry.words.empty()) {
    const ExposureTable table = exposure_table();
    // The garden's reader has checked the words.
    const ExposureWords& words = *find_exposure(table, entry.words);
    if (is_open(words.exposure)) return open_ground(context);
    if (!computes) return published(context, words);
    context.fact("place", words.words, words.meaning);
    return from_geometry(context, words.exposure, "as the place's");
  }
  if (entry.sun.empty() && is_open(entry.geometry)) return open_ground(context);
  if (!computes)
    refuse(entry.at,
           context.zone.name +
               ": the weather gives reference ET alone, from which no exposure can be computed",
           "give temperatures in the weather files, or write words or a factor here");
  Exposure exposure = entry.geometry;
  if (!entry.sun.empty()) exposure.skyline = observed_skyline(context);
  return from_geometry(context, exposure, own_figure);
}

}  // namespace

Date midsummer(const Garden& garden, Date first_day) {
  const auto month = garden.site.latitude_deg < 0.0 ? std::chrono::December : std::chrono::June;
  return std::chrono::local_days{std::chrono::year{year_of(first_day)} / month / 21};
}

ZoneExposure zone_exposure(const ZoneContext& context) {
  ZoneExposure exposure = exposure_as_stated(context);
  doubt_name(context, exposure.week_factor);
  return exposure;
}

}  // namespace runnel
