// Rules and wishes of a garden file as what a timetable must keep to. Dates are the civil
// calendar's: 31 August 2026 is a Monday, August has 31 days and September 30.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <random>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "runnel/garden/plan_garden.hpp"
#include "runnel/garden/planning_constraints.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

constexpr int week = 7;

struct Layout {
  std::string hours = "[\"04:30-08:00\", \"20:30-22:30\"]";
  std::string supply = "{flow: 16 L/min}";
  std::string timer = "{valves: 6, days: [weekdays, every n days]}";
  std::string lawn_wishes = {}, bed_wishes = {}, pots_wishes = {}, strip_wishes = {};
  std::string rules = {};
};

/// A lawn under sprays (valve 1, 12 L/min), a bed with drip (valve 2, 1 L/min), pots and a strip on
/// valve 3 (0.2 and 6 L/min).
std::string yaml_of(const Layout& layout) {
  const auto lines = [](const std::string& wishes) {
    return wishes.empty() ? wishes : "    " + wishes + "\n";
  };
  std::string yaml =
      "garden: g\nsite: {latitude: 38.72, longitude: -9.14, elevation: 95 m, timezone: "
      "Europe/Lisbon}\nweather: {observed: w.csv, forecast: f.csv}\nsupply: " +
      layout.supply + "\ntimer: " + layout.timer + "\nwatering hours: " + layout.hours +
      "\nzones:\n  - name: lawn\n    valve: 1\n" + lines(layout.lawn_wishes) +
      "    area: 24 m2\n    plants: {kind: cool-season lawn}\n    soil: {texture: loam}\n"
      "    emitters: {type: spray, total flow: 12 L/min}\n  - name: bed\n    valve: 2\n" +
      lines(layout.bed_wishes) +
      "    area: 6 m2\n    plants: {kind: mixed shrubs}\n    soil: {texture: loam}\n"
      "    emitters: {type: dripper, flow: 2 L/h, count: 30}\n"
      "  - name: pots\n    valve: 3\n    shared valve: yes\n" +
      lines(layout.pots_wishes) +
      "    containers: {count: 6, volume: 20 L, diameter: 32 cm, medium: peat mix}\n"
      "    plants: {kind: annual flowers}\n"
      "    emitters: {type: dripper, flow: 2 L/h, per container: 1}\n"
      "  - name: strip\n    valve: 3\n    shared valve: yes\n" +
      lines(layout.strip_wishes) +
      "    area: 6 m2\n    plants: {kind: ground covers}\n    soil: {texture: loam}\n"
      "    emitters: {type: spray, total flow: 6 L/min}\n";
  if (!layout.rules.empty()) yaml += "rules:\n" + layout.rules;
  return yaml;
}

Garden garden_of(const Layout& layout) {
  Read<Garden> read = read_garden(yaml_of(layout), "g.yaml");
  for (const Finding& finding : read.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return *std::move(read.value);
}

/// Two calm, mild weeks, all of them in the forecast.
AssumedWeather calm_weeks(Date from) {
  const DailyWeather calm{.first_day = from,
                          .eto_mm = Column::Constant(horizon_days, 5.0),
                          .rain_mm = Column::Zero(horizon_days),
                          .u2_m_s = Column::Constant(horizon_days, 2.0),
                          .rh_min_pct = Column::Constant(horizon_days, 45.0),
                          .estimated = std::vector<Estimates>(horizon_days, 0),
                          .inputs = EtInputs{.first_day = from,
                                             .t_max_c = Column::Constant(horizon_days, 25.0),
                                             .t_min_c = Column::Constant(horizon_days, 12.0),
                                             .ea_kpa = Column::Constant(horizon_days, 1.2),
                                             .u2_m_s = Column::Constant(horizon_days, 2.0),
                                             .rs_mj_m2_d = Column::Constant(horizon_days, 20.0),
                                             .estimated = std::vector<Estimates>(horizon_days, 0)}};
  AssumedWeather weather = observed_weather(
      {.observed = calm, .forecast = std::nullopt, .record = {}}, from, horizon_days);
  weather.source.assign(horizon_days, DaySource::forecast);
  return weather;
}

EtInputs& forecast_of(AssumedWeather& weather) { return *weather.stretches.front().inputs; }

Date monday() { return *parse_date("2026-08-31"); }

struct Built {
  Constraints constraints;
  std::vector<Finding> findings;

  [[nodiscard]] const ValveRules& of(int valve) const { return constraints.rules.at(valve); }
  /// Findings of a kind with these words.
  [[nodiscard]] int said(Finding::Kind kind, std::string_view words) const {
    return static_cast<int>(
        std::count_if(findings.begin(), findings.end(), [&](const Finding& finding) {
          return finding.kind == kind && to_text(finding).find(words) != std::string::npos;
        }));
  }
};

std::vector<PreparedZone> prepared(const Garden& garden, const AssumedWeather& weather) {
  std::vector<Finding> unheeded;
  std::vector<PreparedZone> zones;
  for (const Zone& zone : garden.zones)
    zones.push_back(prepare_zone(garden, zone, weather, unheeded));
  return zones;
}

Built built(const Garden& garden, const AssumedWeather& weather) {
  Built result;
  result.constraints = constraints_of(garden, weather, prepared(garden, weather), weather.first_day,
                                      result.findings);
  return result;
}
Built built(const Layout& layout) { return built(garden_of(layout), calm_weeks(monday())); }

/// "04:30-06:00 06:00-08:00>", closed as "-", after the day's ET marked ">".
std::string text_of(const WateringHours& hours) {
  std::string text;
  for (const Window& window : hours) {
    if (!text.empty()) text += " ";
    text += window.opens == window.closes ? "-" : clock(window.opens) + "-" + clock(window.closes);
    if (window.after_et) text += ">";
  }
  return text;
}

}  // namespace

TEST_SUITE("zone rules") {
  TEST_CASE("zone rules - without any all valves have all hours and every day") {
    const Built plain = built(Layout{});
    CHECK(text_of(plain.constraints.hours) == "04:30-08:00 20:30-22:30>");
    for (const int valve : {1, 2, 3}) {
      CHECK(text_of(plain.of(valve).hours) == text_of(plain.constraints.hours));
      for (int d = 0; d < 2 * week; ++d)
        CHECK(allowed_on(plain.of(valve), monday() + std::chrono::days{d}));
    }
    CHECK(plain.findings.empty());
  }

  TEST_CASE("zone rules - two pieces of a window cut it for all valves") {
    const Built cut = built({.rules = "  - {not between: [\"05:30-06:00\"], for: [bed]}\n"});
    CHECK(text_of(cut.constraints.hours) == "04:30-06:00 06:00-08:00 20:30-22:30>");
    CHECK(text_of(cut.of(1).hours) == "04:30-06:00 06:00-08:00 20:30-22:30>");
    CHECK(text_of(cut.of(2).hours) == "04:30-05:30 06:00-08:00 20:30-22:30>");
  }

  TEST_CASE("zone rules - one cut serves gaps that overlap") {
    const Built cut = built({.rules = "  - {not between: [\"05:30-06:30\"], for: [bed]}\n"
                                      "  - {not between: [\"06:00-07:00\"], for: [lawn]}\n"});
    CHECK(text_of(cut.constraints.hours) == "04:30-06:30 06:30-08:00 20:30-22:30>");
    CHECK(text_of(cut.of(1).hours) == "04:30-06:00 07:00-08:00 20:30-22:30>");
    CHECK(text_of(cut.of(2).hours) == "04:30-05:30 06:30-08:00 20:30-22:30>");
  }

  // Solar noon at 9.14 W in summer time, end of August: about 13:37.
  TEST_CASE("zone rules - hours over midnight keep what comes before and after the day's ET") {
    const Built night = built(
        {.hours = "[\"00:00-24:00\"]", .rules = "  - {hours: [\"18:00-10:00\"], for: sprays}\n"});
    REQUIRE(night.constraints.hours.size() == 2);
    CHECK(text_of(night.of(1).hours) == "00:00-10:00 18:00-00:00>");
    CHECK(night.of(1).hours.back().closes == WallTime{24 * 60});
    CHECK(text_of(night.of(2).hours) == text_of(night.constraints.hours));
    CHECK(text_of(night.of(3).hours) == "00:00-10:00 18:00-00:00>");  // for the strip's sake
  }

  TEST_CASE("zone rules - finish by shuts what comes later on that day") {
    const Built early =
        built({.bed_wishes = "finish by: \"07:00\"", .pots_wishes = "hours: [\"21:00-22:00\"]"});
    CHECK(text_of(early.of(2).hours) == "04:30-07:00 ->");
    CHECK(text_of(early.of(3).hours) == "- 21:00-22:00>");
    CHECK(text_of(early.of(1).hours) == "04:30-08:00 20:30-22:30>");
  }

  // Each minute of the day looked at by itself, as the entries say it.
  TEST_CASE("zone rules - any hours leave each valve exactly the minutes that they say") {
    std::mt19937 random(7);  // NOLINT(cert-msc32-c,cert-msc51-cpp)
    std::uniform_int_distribution<int> quarter(0, 95);
    for (int trial = 0; trial < 40; ++trial) {
      const auto at = [](int quarters) { return clock(WallTime{15 * quarters}); };
      std::vector<std::pair<int, int>> shut;
      std::string rules;
      const std::vector<std::string> whom = {"[lawn]", "[bed]", "[pots]", "drip"};
      for (std::size_t r = 0; r < whom.size(); ++r) {
        const int opens = quarter(random);
        const int closes = (opens + 1 + quarter(random) / 8) % 96;
        shut.emplace_back(opens, closes);
        rules +=
            "  - {not between: [\"" + at(opens) + "-" + at(closes) + "\"], for: " + whom[r] + "}\n";
      }
      CAPTURE(rules);
      const Built cut = built({.hours = "[\"20:00-09:00\", \"12:00-15:00\"]", .rules = rules});
      const std::map<int, std::vector<std::size_t>> rules_on = {{1, {0}}, {2, {1, 3}}, {3, {2, 3}}};
      for (const auto& [valve, on_valve] : rules_on) {
        const WateringHours& hours = cut.of(valve).hours;
        REQUIRE(hours.size() == cut.constraints.hours.size());
        for (int m = 0; m < 24 * 60; ++m) {
          bool allowed = m >= 20 * 60 || m < 9 * 60 || (m >= 12 * 60 && m < 15 * 60);
          for (const std::size_t r : on_valve) {
            const int from = 15 * shut[r].first;
            const int to = 15 * shut[r].second;
            const bool within = from < to ? m >= from && m < to : m >= from || m < to;
            allowed = allowed && !within;
          }
          const WallTime time{m};
          const auto in = std::count_if(hours.begin(), hours.end(), [&](const Window& window) {
            return window.opens <= time && time < window.closes;
          });
          REQUIRE(in == (allowed ? 1 : 0));
        }
        for (std::size_t w = 0; w < hours.size(); ++w) {
          CHECK(hours[w].opens >= cut.constraints.hours[w].opens);
          CHECK(hours[w].closes <= cut.constraints.hours[w].closes);
          CHECK(hours[w].after_et == cut.constraints.hours[w].after_et);
        }
      }
    }
  }

  TEST_CASE("zone rules - odd dates over the end of August") {
    const Garden garden = garden_of({.rules = "  - {dates: odd}\n"});
    const Built odd = built(garden, calm_weeks(monday()));
    std::vector<std::string> days;
    for (int d = 0; d < week; ++d)
      if (allowed_on(odd.of(1), monday() + std::chrono::days{d}))
        days.push_back(iso_date(monday() + std::chrono::days{d}));
    CHECK(days == std::vector<std::string>{"2026-08-31", "2026-09-01", "2026-09-03", "2026-09-05"});

    const auto anew = [&](const DayPattern& pattern) {
      const std::vector<ValveTimes> valves = {
          {.valve = 1,
           .days = pattern,
           .openings = {{.start = WallTime{300}, .length = std::chrono::minutes{10}}}}};
      const std::vector<Finding> doubts =
          days_to_set_anew(garden, odd.constraints, valves, monday());
      REQUIRE(doubts.size() <= 1);
      return doubts.empty() ? std::string() : doubts[0].mend;
    };
    // Monday 7 September is odd again, Tuesday the 8th is not.
    CHECK(anew(Weekdays{0b0101011}) == "set the days anew before Tue 8 Sep");
    // 1, 3, ... 29 September, 1 ... 31 October: the next is the 2nd.
    CHECK(anew(EveryN{.n = 2, .first = *parse_date("2026-09-01")}) ==
          "set the days anew before Mon 2 Nov");
    CHECK(anew(DateParity{.odd = true}).empty());
  }

  TEST_CASE("zone rules - a windy Tuesday in the forecast") {
    const Garden garden = garden_of({.rules = "  - {not in wind above: 5 m/s, for: sprays}\n"});
    AssumedWeather weather = calm_weeks(monday());
    forecast_of(weather).u2_m_s[1] = 6.2;
    forecast_of(weather).u2_m_s[2] = 5.0;  // not above
    forecast_of(weather).u2_m_s[9] = 9.0;  // not in the week planned
    const Built windy = built(garden, weather);
    const std::vector<Date> tuesday = {*parse_date("2026-09-01")};
    CHECK(windy.of(1).shut_on == tuesday);
    CHECK(windy.of(2).shut_on.empty());
    CHECK(windy.of(3).shut_on == tuesday);
    CHECK(windy.said(Finding::Kind::doubt, "mean wind of 6.2 m/s at 2 m on Tue 1 Sep") == 1);

    forecast_of(weather).estimated[3] = static_cast<Estimates>(Estimate::wind_assumed);
    CHECK(
        built(garden, weather).said(Finding::Kind::remark, "waits for a forecast on 1 of 7 days") ==
        1);
  }

  TEST_CASE("zone rules - frost in the forecast and no forecast at all") {
    const Garden garden = garden_of({.rules = "  - {not below: 2 degC}\n"});
    AssumedWeather weather = calm_weeks(monday());
    forecast_of(weather).t_min_c.head(week).setConstant(-1.0);
    const Built frost = built(garden, weather);
    CHECK(frost.of(2).shut_on.size() == week);
    CHECK(frost.said(Finding::Kind::doubt, "no day from Mon 31 Aug to Sun 6 Sep") == 3);
    weather.source.assign(horizon_days, DaySource::recent_mean);
    const Built blind = built(garden, weather);
    CHECK(blind.of(2).shut_on.empty());
    CHECK(blind.said(Finding::Kind::remark, "waits for a forecast on 7 of 7 days") == 1);
  }

  TEST_CASE("zone rules - a shared valve keeps to the strictest of its zones") {
    const Built shared = built({.pots_wishes = "not on: [Sat]",
                                .strip_wishes = "hours: [\"05:00-07:00\"]",
                                .rules = "  - {days: [Wed, Fri, Sat], for: [strip]}\n"
                                         "  - {most a day: 30 min, most a week: 2 h, for: [pots]}\n"
                                         "  - {most a day: 20 min, for: [strip]}\n"});
    CHECK(to_text(Weekdays{shared.of(3).weekdays}) == "Wed Fri");
    CHECK(text_of(shared.of(3).hours) == "05:00-07:00 ->");
    CHECK(shared.of(3).most_minutes_a_day == 20);
    CHECK(shared.of(3).most_minutes_a_week == 120);
    CHECK(shared.of(1).weekdays.all());
    CHECK_FALSE(shared.of(1).most_minutes_a_day);
  }

  TEST_CASE("zone rules - litres of the zones named are limited together") {
    const Built named = built({.rules = "  - {most a day: 60 L, for: [Strip, lawn]}\n"
                                        "  - {most a week: 0.5 m3}\n"});
    REQUIRE(named.constraints.litres.size() == 2);
    CHECK(named.constraints.litres[0].valves == std::vector<int>{1, 3});
    CHECK(named.constraints.litres[0].a_day == 60.0);
    CHECK_FALSE(named.constraints.litres[0].a_week);
    CHECK(named.constraints.litres[1].valves == std::vector<int>{1, 2, 3});
    CHECK(named.constraints.litres[1].a_week == 500.0);
    CHECK(named.constraints.litres_per_minute(1) == near(12.0, 1e-9));
    CHECK(named.constraints.litres_per_minute(2) == near(1.0, 1e-9));
    CHECK(named.constraints.litres_per_minute(3) == near(6.2, 1e-9));
  }

  TEST_CASE("zone rules - more than the supply gives is said by valve") {
    const Built enough = built({.supply = "{flow: 12 L/min}"});
    CHECK(enough.said(Finding::Kind::doubt, "supply") == 0);
    const Built small = built({.supply = "{flow: 6.1 L/min}"});
    CHECK(small.said(Finding::Kind::doubt,
                     "lawn: needs 12.0 L/min, more than the supply's 6.1 L/min") == 1);
    CHECK(small.said(Finding::Kind::doubt,
                     "valve 3: its zones together need 6.2 L/min, more than the supply's 6.1 "
                     "L/min (pots 0.2 L/min, strip 6.0 L/min)") == 1);
    // It brings no more than there is.
    CHECK(small.constraints.litres_per_minute(1) == near(6.1, 1e-9));
    CHECK_FALSE(built({.supply = "{pressure: 2 bar}"}).constraints.supply);
  }

  // 12 + 6.2 = 18.2, 12 + 6.2 + 1 = 19.2 L/min.
  TEST_CASE("zone rules - how many valves the supply feeds at once is remarked") {
    const std::string three = "{valves: 6, together: 3}";
    const auto remarks = [&](const std::string& flow, const std::string& words) {
      return built({.supply = "{flow: " + flow + " L/min}", .timer = three})
          .said(Finding::Kind::remark, words);
    };
    CHECK(remarks("19.3", "at once") == 0);
    CHECK(remarks("19", "feeds any 2 of them") == 1);
    CHECK(remarks("18", "feeds any 1 of them") == 1);
  }

  TEST_CASE("zone rules - sprays wet leaves unless their evening is fine") {
    const Garden garden = garden_of({.strip_wishes = "evening: fine"});
    const std::vector<PreparedZone> zones = prepared(garden, calm_weeks(monday()));
    CHECK(zones[0].task.overhead);
    CHECK_FALSE(zones[1].task.overhead);
    CHECK_FALSE(zones[2].task.overhead);
    CHECK_FALSE(zones[3].task.overhead);
  }

  TEST_CASE("zone rules - hours beyond the garden's and rules for nobody are doubted") {
    const auto doubts = [](const Layout& layout) {
      std::string text;
      for (const Finding& finding : read_garden(yaml_of(layout), "g.yaml").findings)
        if (finding.kind == Finding::Kind::doubt) text += to_text(finding) + "\n";
      return text;
    };
    CHECK(doubts({.lawn_wishes = "hours: [\"04:00-07:00\"]"}).find("g.yaml:10:12: doubt") == 0);
    CHECK(doubts({.lawn_wishes = "hours: [\"04:30-07:00\"]"}).empty());
    CHECK(doubts({.rules = "  - {days: [Sat], for: drip}\n"}).empty());
  }
}

}  // namespace runnel
