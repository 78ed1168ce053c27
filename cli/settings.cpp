#include "settings.hpp"

#include <algorithm>
#include <functional>
#include <vector>

#include "plan_days.hpp"
#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

constexpr double days_summed = 7.0;  // in a zone's demand, rain and litres, whatever is planned

/// Minutes a week that the zone's own use asks for, rain taken off.
double minutes_needed(const ZonePlan& zone) {
  return (zone.demand_mm - zone.rain_mm) / zone.delivery.net_mm_per_minute();
}

constexpr std::string_view below = "       ";  // what stands below a row begins under its zone

/// A line of the table breaks between times alone: a no-break space holds "4:30 am" together.
std::string whole_times(std::string starts) {
  for (const std::string_view half : {" am", " pm"})
    for (std::size_t at = 0; (at = starts.find(half, at)) != std::string::npos;)
      starts.replace(at, 1, no_break_space);
  return starts;
}

/// The zones of a valve, each with its reasons.
class Rows {
 public:
  Rows(const Garden& garden, const GardenPlan& planned)
      : garden_(garden),
        planned_(planned),
        table_({{"VALVE", 5, true},
                {"ZONE", 20},
                {"DAYS", 15},
                {"START TIMES", 17},
                {"MINUTES", 7, true},
                {garden.display.units == UnitSystem::us ? "US GAL" : "LITRES", 6, true}}) {}

  /// @param in_programme its days and starts stand above already.
  void add(int valve, bool in_programme = false) {
    Setting setting = setting_of(planned_.plan, garden_, valve);
    if (in_programme) setting.days = setting.starts = "";
    for (std::size_t z = 0; z < planned_.plan.zones.size(); ++z) {
      const ZonePlan& zone = planned_.plan.zones[z];
      if (zone.valve != valve) continue;
      litres_ += zone.gross_litres;
      const bool shut = setting.starts == "-";
      text_ += "\n" + table_.row({std::to_string(valve), zone.name, shut ? "off" : setting.days,
                                  whole_times(setting.starts), setting.minutes,
                                  volume(zone.gross_litres)});
      text_ += paragraph(below, why(planned_.zones[z], zone, garden_.display));
      for (const std::string& line : {shared_valve_line(planned_.plan, zone, garden_.display),
                                      drain_line(planned_.plan, zone, garden_.display)})
        if (!line.empty()) text_ += paragraph(below, line);
    }
  }
  void say(const std::string& line) { text_ += "\n" + line + "\n"; }

  [[nodiscard]] std::string text() const {
    return table_.heading() + text_ + "\n" +
           table_.row({"", "all valves, the week", "", "", "", volume(litres_)});
  }

 private:
  [[nodiscard]] std::string volume(double litres) const {
    return number(garden_.display, Shown::volume, litres, 0);
  }

  const Garden& garden_;
  const GardenPlan& planned_;
  TextTable table_;
  std::string text_;
  double litres_ = 0.0;
};

/// Days and starts once for each programme, then its valves.
void add_programmes(Rows& rows, const Garden& garden, const Plan& plan) {
  int number = 0;
  for (const Programme& programme : plan.programmes) {
    if (programme.starts.empty()) continue;
    rows.say("PROGRAMME " + std::to_string(++number) + ": " +
             to_text(as_of(programme.days, plan.from)) + " at " +
             starts_text(programme.starts, {}, garden.display) + ", valves one after the other");
    for (const Run& run : programme.runs) rows.add(run.valve, true);
  }
  const auto shut = [&plan](const ValveTimes& times) {
    return programme_of(plan, times.valve) == nullptr;
  };
  if (std::any_of(plan.valves.begin(), plan.valves.end(), shut)) rows.say("IN NO PROGRAMME");
  for (const ValveTimes& times : plan.valves)
    if (shut(times)) rows.add(times.valve);
}

}  // namespace

int number_of(const Plan& plan, const Programme* programme) {
  if (programme == nullptr) return 0;
  return 1 + static_cast<int>(
                 std::count_if(plan.programmes.data(), programme,
                               [](const Programme& before) { return !before.starts.empty(); }));
}

const Programme* programme_of(const Plan& plan, int valve) {
  const auto has_valve = [valve](const Programme& programme) {
    return std::any_of(programme.runs.begin(), programme.runs.end(),
                       [valve](const Run& run) { return run.valve == valve; });
  };
  const auto found = std::find_if(plan.programmes.begin(), plan.programmes.end(), has_valve);
  return found == plan.programmes.end() || found->starts.empty() ? nullptr : &*found;
}

std::string starts_text(const std::vector<WallTime>& starts, const Timer& timer,
                        const Display& display) {
  if (!timer.repeat_hours.empty() && starts.size() > 1) {
    const auto apart = std::chrono::duration_cast<std::chrono::hours>(starts[1] - starts[0]);
    return clock(display, starts[0]) + ", every " + std::to_string(apart.count()) + " h";
  }
  std::vector<std::string> times;
  for (const WallTime start : starts) times.push_back(clock(display, start));
  return joined(times, " ");
}

std::string zone_names(const Garden& garden, int valve) {
  std::vector<std::string> names;
  for (const Zone& zone : garden.zones)
    if (zone.valve == valve) names.push_back(zone.name);
  return printable(joined(names));
}

std::string valve_name(const Garden& garden, int valve) {
  const std::string zones = zone_names(garden, valve);
  return "valve " + std::to_string(valve) + ", " +
         (zones.empty() ? "on which the garden has no zone any more" : zones);
}

std::string minutes_text(const std::vector<int>& typed_min) {
  const bool alike = std::adjacent_find(typed_min.begin(), typed_min.end(),
                                        std::not_equal_to<>()) == typed_min.end();
  std::string text;
  for (std::size_t i = 0; i < (alike ? 1 : typed_min.size()); ++i)
    text += (i == 0 ? "" : " ") + std::to_string(typed_min[i]);
  return text;
}

const ValveTimes& times_of(const Plan& plan, int valve) { return *find_times(plan.valves, valve); }

Setting setting_of(const Plan& plan, const Garden& garden, int valve) {
  const Programme* programme = programme_of(plan, valve);
  if (programme == nullptr) return {.days = "-", .starts = "-", .minutes = "-"};
  const auto run = std::find_if(programme->runs.begin(), programme->runs.end(),
                                [valve](const Run& one) { return one.valve == valve; });
  Setting setting{.days = to_text(as_of(programme->days, plan.from)),
                  .starts = starts_text(programme->starts, garden.timer, garden.display),
                  .minutes = minutes_text(run->typed_min)};
  if (garden.timer.programmes > 0) setting.programme = number_of(plan, programme);
  return setting;
}

Spare spare_of(const ZonePlan& zone) {
  const double area_m2 = zone.delivery.area.m2();
  const double mm = zone.limit_mm * zone.wetted_share;
  return {.mm = mm,
          .litres = zone.limit_mm * area_m2,
          .use_l_a_day = zone.demand_mm * area_m2 / days_summed};
}

std::vector<std::size_t> zones_by_valve(const Plan& plan) {
  std::vector<std::size_t> order(plan.zones.size());
  for (std::size_t z = 0; z < order.size(); ++z) order[z] = z;
  std::stable_sort(order.begin(), order.end(), [&plan](std::size_t a, std::size_t b) {
    return plan.zones[a].valve < plan.zones[b].valve;
  });
  return order;
}

std::string shared_valve_line(const Plan& plan, const ZonePlan& zone, const Display& display) {
  const ZonePlan* neediest = &zone;
  int sharing = 0;
  for (const ZonePlan& other : plan.zones) {
    if (other.valve != zone.valve) continue;
    ++sharing;
    if (minutes_needed(other) > minutes_needed(*neediest)) neediest = &other;
  }
  if (sharing < 2 || zone.waterings == 0) return {};
  if (neediest == &zone) return "Shares the valve and decides its minutes.";
  return "Shares the valve: " + printable(neediest->name) + " decides, and " +
         measure(display, Shown::volume, zone.drained_mm * zone.delivery.area.m2(), 0) +
         " of the week's water run through here.";
}

std::string drain_line(const Plan& plan, const ZonePlan& zone, const Display& display) {
  constexpr double worth_saying = 0.1;
  const auto sharing =
      std::count_if(plan.zones.begin(), plan.zones.end(),
                    [&zone](const ZonePlan& other) { return other.valve == zone.valve; });
  if (sharing > 1 || zone.gross_mm <= 0.0 || zone.drained_mm < worth_saying * zone.gross_mm)
    return {};
  return measure(display, Shown::volume, zone.drained_mm * zone.delivery.area.m2(), 0) +
         " drain away.";
}

std::string why(const PreparedZone& prepared, const ZonePlan& zone, const Display& display) {
  const auto mm = [&display](double depth_mm) {
    return measure(display, Shown::depth, depth_mm, 1);
  };
  const auto litres = [&display](double volume_l) {
    return measure(display, Shown::volume, volume_l, 1);
  };
  std::string falls_short;
  if (zone.days_beyond > 0)
    falls_short = "FALLS SHORT: too dry on " + std::to_string(zone.days_beyond) + " of " +
                  std::to_string(zone.days_judged) + " days; see below. ";
  if (prepared.containers) {
    const double area_m2 = zone.delivery.area.m2();
    return falls_short + "Use " + litres(zone.demand_mm * area_m2 / days_summed) +
           " a day, can spare " + litres(zone.limit_mm * area_m2) + " before they must be watered.";
  }
  return falls_short + "Uses " + mm(zone.demand_mm) + " over the week, rain brings " +
         mm(zone.rain_mm) + "; can spare " + mm(zone.limit_mm * zone.wetted_share) +
         (zone.waterings == 0 ? ": no need." : ".");
}

std::string set_by_text(const Garden& garden, const Plan& plan) {
  const auto first = first_start(plan);
  if (!first) return {};
  if (*first == WallTime{0})
    return "Set it in the evening of " + short_date(plan.from - std::chrono::days{1}) +
           ": the first valve opens at midnight.";
  return "Set it before " + short_date(plan.from) + ", " + clock(garden.display, *first) +
         ", when the first valve opens.";
}

std::string settings_table(const Garden& garden, const GardenPlan& planned) {
  Rows rows(garden, planned);
  if (garden.timer.percentage != 100)
    rows.say("The timer's percentage stands at " + std::to_string(garden.timer.percentage) +
             " %: leave it there.");
  if (garden.timer.programmes > 0) {
    add_programmes(rows, garden, planned.plan);
  } else {
    for (const ValveTimes& times : planned.plan.valves) rows.add(times.valve);
  }
  return rows.text();
}

}  // namespace runnel::cli
