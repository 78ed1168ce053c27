#include "runnel/garden/water_taken.hpp"

#include <algorithm>
#include <set>
#include <stdexcept>
#include <utility>

namespace runnel {
namespace {

using Index = Eigen::Index;

Index row_of(std::size_t zone) { return static_cast<Index>(zone); }

/// The day's column, or nothing outside the days.
std::optional<Index> column_of(Date date, Date first_day, Index days) {
  const auto day = static_cast<Index>((date - first_day).count());
  return day >= 0 && day < days ? std::optional(day) : std::nullopt;
}

/// How long the valve takes for it.
double minutes(const LogAmount& amount, const Delivery& delivery) {
  if (const auto* run = std::get_if<Duration>(&amount)) return run->minutes();
  if (const auto* volume = std::get_if<Volume>(&amount)) return (*volume / delivery.flow).minutes();
  return (std::get<Depth>(amount) / delivery.rate()).minutes();
}

void add_by_hand(const LogAmount& amount, const Delivery& delivery, Index zone, Index day,
                 WaterTaken& taken) {
  if (const auto* run = std::get_if<Duration>(&amount)) {
    taken.by_hand_min(zone, day) += run->minutes();
  } else if (const auto* volume = std::get_if<Volume>(&amount)) {
    taken.by_hand_mm(zone, day) += (*volume / delivery.area).mm();
  } else {
    taken.by_hand_mm(zone, day) += std::get<Depth>(amount).mm();
  }
}

/// Minutes of the valve that bring as much to the root zone.
double by_hand_minutes(const LogAmount& amount, const Delivery& delivery) {
  if (const auto* run = std::get_if<Duration>(&amount)) return run->minutes();
  const auto* volume = std::get_if<Volume>(&amount);
  const Depth depth = volume != nullptr ? *volume / delivery.area : std::get<Depth>(amount);
  return depth.mm() / delivery.net_mm_per_minute();
}

bool instead_of_timer(const LogEntry& entry) {
  return entry.what == LogWhat::did_not_run || entry.what == LogWhat::ran;
}

bool concerns(const LogEntry& entry, std::size_t zone) {
  return std::binary_search(entry.zones.begin(), entry.zones.end(), zone);
}

void require_zones(const WaterLog& log, const WaterTaken& planned, std::size_t zones) {
  const auto shaped = [&](const Lanes& lanes) {
    return lanes.rows() == row_of(zones) && lanes.cols() == planned.timer_min.cols();
  };
  if (!shaped(planned.timer_min) || !shaped(planned.by_hand_min) || !shaped(planned.by_hand_mm))
    throw std::invalid_argument("what_really_ran: zones and days do not match");
  for (const LogEntry& entry : log.entries)
    if (!entry.zones.empty() && entry.zones.back() >= zones)
      throw std::invalid_argument("what_really_ran: the log is of another garden");
}

}  // namespace

WaterTaken WaterTaken::none(Date first_day, std::size_t zones, Index days) {
  const Lanes zero = Lanes::Zero(row_of(zones), days);
  return {.first_day = first_day, .timer_min = zero, .by_hand_min = zero, .by_hand_mm = zero};
}

Column WaterTaken::net_mm(std::size_t zone, const Delivery& delivery) const {
  return (valve_min().row(row_of(zone)) * delivery.net_mm_per_minute() +
          by_hand_mm.row(row_of(zone)))
      .transpose();
}

WaterTaken by_day(std::span<const PastRun> runs, std::span<const int> valves, Date first_day,
                  Index days) {
  WaterTaken taken = WaterTaken::none(first_day, valves.size(), days);
  for (const PastRun& run : runs) {
    const auto day = column_of(run.date, first_day, days);
    if (!day) continue;
    Lanes& run_min = run.by_hand ? taken.by_hand_min : taken.timer_min;
    for (std::size_t zone = 0; zone < valves.size(); ++zone)
      if (valves[zone] == run.valve) run_min(row_of(zone), *day) += run.minutes;
  }
  return taken;
}

WaterTaken what_really_ran(const WaterLog& log, WaterTaken planned,
                           std::span<const Delivery> deliveries) {
  require_zones(log, planned, deliveries.size());
  WaterTaken taken = std::move(planned);
  const auto each = [&](auto&& does) {
    for (const LogEntry& entry : log.entries)
      if (const auto day = column_of(entry.date, taken.first_day, taken.timer_min.cols()))
        for (const std::size_t zone : entry.zones) does(entry, zone, *day);
  };
  // First all that falls out: rows of a day may stand in any order.
  each([&](const LogEntry& entry, std::size_t zone, Index day) {
    if (instead_of_timer(entry)) taken.timer_min(row_of(zone), day) = 0.0;
    if (entry.what == LogWhat::by_hand) taken.by_hand_min(row_of(zone), day) = 0.0;
  });
  each([&](const LogEntry& entry, std::size_t zone, Index day) {
    const Delivery& delivery = deliveries[zone];
    if (entry.what == LogWhat::ran)
      taken.timer_min(row_of(zone), day) += minutes(entry.amount, delivery);
    if (entry.what == LogWhat::by_hand)
      add_by_hand(entry.amount, delivery, row_of(zone), day, taken);
  });
  return taken;
}

std::vector<PastRun> runs_of_zone(const WaterLog& log, std::size_t zone, int valve,
                                  std::span<const PastRun> planned, const Delivery& delivery) {
  std::map<Date, WallTime> replaced;  // when the timer's first run of the day would have begun
  std::set<Date> replaced_by_hand;
  std::vector<const LogEntry*> mine;
  for (const LogEntry& entry : log.entries) {
    if (!concerns(entry, zone)) continue;
    mine.push_back(&entry);
    if (instead_of_timer(entry)) replaced.emplace(entry.date, WallTime::max());
    if (entry.what == LogWhat::by_hand) replaced_by_hand.insert(entry.date);
  }
  std::vector<PastRun> runs;
  for (const PastRun& run : planned) {
    if (run.valve != valve) continue;
    const auto day = replaced.find(run.date);
    const bool as_planned =
        run.by_hand ? !replaced_by_hand.contains(run.date) : day == replaced.end();
    if (as_planned) {
      runs.push_back(run);
    } else if (!run.by_hand) {
      day->second = std::min(day->second, run.start);
    }
  }
  for (const LogEntry* entry : mine) {
    if (entry->what == LogWhat::ran) {
      const WallTime start = replaced.at(entry->date);
      runs.push_back({.date = entry->date,
                      .valve = valve,
                      .start = start == WallTime::max() ? WallTime{0} : start,
                      .minutes = minutes(entry->amount, delivery)});
    } else if (entry->what == LogWhat::by_hand) {
      runs.push_back({.date = entry->date,
                      .valve = valve,
                      .start = WallTime{0},
                      .minutes = by_hand_minutes(entry->amount, delivery),
                      .by_hand = true});
    }
  }
  return runs;
}

std::map<Date, double> garden_rain_mm(const WaterLog& log) {
  std::map<Date, double> rain_mm;
  for (const LogEntry& entry : log.entries)
    if (entry.what == LogWhat::rain && entry.zones.empty())
      rain_mm[entry.date] = std::get<Depth>(entry.amount).mm();
  return rain_mm;
}

void take_gauge(const WaterLog& log, DailyWeather& weather) {
  for (const auto& [date, depth_mm] : garden_rain_mm(log))
    if (const auto day = column_of(date, weather.first_day, weather.days()))
      weather.rain_mm[*day] = depth_mm;
}

SiteWeather read_weather_with_gauge(const Garden& garden, const WaterLog& log,
                                    std::vector<Finding>& findings) {
  SiteWeather weather = read_site_weather(garden, findings);
  take_gauge(log, weather.observed);
  return weather;
}

Column rain_with_gauges(const WaterLog& log, std::size_t zone, double rain_reaches, Date first_day,
                        Column rain_mm) {
  const auto apply = [&](bool in_zone) {
    for (const LogEntry& entry : log.entries) {
      if (entry.what != LogWhat::rain || entry.zones.empty() == in_zone) continue;
      if (in_zone && !(concerns(entry, zone) && rain_reaches > 0.0)) continue;
      const auto day = column_of(entry.date, first_day, rain_mm.size());
      if (!day) continue;
      rain_mm[*day] = std::get<Depth>(entry.amount).mm() / (in_zone ? rain_reaches : 1.0);
    }
  };
  apply(false);
  apply(true);
  return rain_mm;
}

}  // namespace runnel
