#include "plan_calendar.hpp"

#include <algorithm>
#include <cstddef>
#include <map>
#include <utility>
#include <vector>

#include "advice_report.hpp"
#include "away_report.hpp"
#include "calendar_writer.hpp"
#include "changed_settings.hpp"
#include "plan_days.hpp"
#include "plan_report.hpp"
#include "remedy_report.hpp"
#include "runnel/garden/digest.hpp"
#include "runnel/garden/time_zone.hpp"
#include "runnel/units/number.hpp"
#include "settings.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

using std::chrono::days;

/// A day on which a person must act.
struct DayToAct {
  std::string uid;
  Date date{};
  std::string what;  ///< in a few words
  std::string how;
};

/// One opening of a valve.
struct Watering {
  Date date{};
  int valve = 0;
  std::size_t cycle = 0;  ///< of the valve's, on that day
  ValveTimes::Opening opening{};
  bool cancelled = false;  ///< was planned before
};

/// The same for each plan of a garden, and unlike for all else. `.invalid` is nobody's (RFC 2606).
std::string uid_of(const Garden& garden, const std::string& about) {
  return about + "-" +
         digest(garden.name + " " + shortest(garden.site.latitude_deg) + " " +
                shortest(garden.site.longitude_deg)) +
         "@runnel.invalid";
}
std::string uid_of(const Garden& garden, const std::string& about, Date date) {
  return uid_of(garden, about + "-" + calendar_date(date));
}
std::string uid_of(const Garden& garden, const std::string& about, Date date, int valve) {
  return uid_of(garden, about + "-" + calendar_date(date) + "-valve-" + std::to_string(valve));
}

std::string settings_lines(const std::vector<ChangedSetting>& settings) {
  std::string lines;
  for (const ChangedSetting& setting : settings)
    lines += "- " + setting.where + ": " + setting.says + "\n";
  return lines;
}

/// All that the timer is set to, whatever stands there already.
std::string all_settings(const Garden& garden, const Plan& plan) {
  std::string lines = settings_lines(changed_settings(garden, plan, nullptr));
  for (const ValveTimes& times : plan.valves)
    if (programme_of(plan, times.valve) == nullptr)
      lines += "- " + valve_name(garden, times.valve) + ": off\n";
  return lines;
}

std::optional<DayToAct> day_to_set(const Garden& garden, const GardenPlan& planned,
                                   const SavedPlan* before) {
  const Plan& plan = planned.plan;
  const std::vector<ChangedSetting> changed = changed_settings(garden, plan, before);
  if (before != nullptr && changed.empty()) return std::nullopt;
  const auto first = first_start(plan);
  std::string how = "For " + short_date(plan.from) + " to " + short_date(plan.until) + ".\n";
  if (first) how += "The first watering is at " + clock(garden.display, *first) + " that day.\n";
  if (before != nullptr) how += "\nTo change:\n" + settings_lines(changed);
  how += std::string("\n") + (before != nullptr ? "All settings then" : "To set") + ":\n" +
         all_settings(garden, plan);
  how += std::string("\n") + (planned.away ? away_caution() : caution_text());
  return DayToAct{.uid = uid_of(garden, "set-timer", plan.from),
                  .date = plan.from,
                  .what = std::string(before != nullptr ? "change" : "set") + " the timer" +
                          (first ? " before " + clock(garden.display, *first) : ""),
                  .how = how};
}

DayToAct day_for_hand_run(const Garden& garden, const Plan& plan, const HandRun& run) {
  return {.uid = uid_of(garden, "by-hand", plan.from, run.valve),
          .date = plan.from,
          .what = "run valve " + std::to_string(run.valve) + " by hand, " +
                  std::to_string(run.minutes) + " min",
          .how = "Open " + valve_name(garden, run.valve) + ", once for " +
                 std::to_string(run.minutes) +
                 " min, the evening before or early in the morning. The plan takes it as done: "
                 "should it not be, say so in the water log."};
}

DayToAct day_of_frost(const Garden& garden, const FrostDay& frost) {
  return {.uid = uid_of(garden, "frost", frost.date),
          .date = frost.date,
          .what = "frost in sight, stop and drain before it",
          .how = frost_caution(garden.display, {frost})};
}

DayToAct day_of_advice(const Garden& garden, const GardenPlan& planned,
                       const WateringAdvice& advice) {
  const std::string valve = "valve " + std::to_string(advice.valve);
  // One after the other for one watering: a plan that finds otherwise takes the place of this.
  return {.uid = uid_of(garden, "advice", advice.date, advice.valve),
          .date = advice.date,
          .what = advice.leave_out ? "leave out the watering of " + valve
                                   : "give " + valve + " its water by hand, after the frost",
          .how = advice_line(garden.display, planned, advice) +
                 (advice.leave_out ? " Say so in the water log (did not run)." : "")};
}

DayToAct day_of_shortfall(const Garden& garden, const ZonePlan& zone) {
  return {.uid = uid_of(garden, "falls-short-" + digest(zone.name)),
          .date = *zone.first_beyond,
          .what = printable(zone.name) + " gets too little, water it by hand",
          .how = shortfall(garden.display, zone) + " runnel plan " + printable(garden.file) +
                 " says what would mend it."};
}

/// One for each garden, which every plan moves.
DayToAct day_to_plan_again(const Garden& garden, const GardenPlan& planned) {
  const Outlook& outlook = planned.outlook;
  DayToAct day{.uid = uid_of(garden, "plan-again"),
               .date = std::max(outlook.holds_until, planned.plan.from),
               .what = "plan again",
               .how = ""};
  if (planned.away) {
    day.date = planned.plan.until + days{1};
    day.how =
        "The first day after the absence that was planned for: look at the plants and at the "
        "timer's clock.";
  } else if (outlook.further) {
    day.how = "No harm was in sight up to this day; further was not looked.";
  } else {
    day.how = std::string("The last day on which the programme can stay unchanged") +
              (planned.plan.unharmed() ? "." : ", but for what falls short.");
  }
  return day;
}

std::optional<DayToAct> day_of_clock_change(const Garden& garden, const GardenPlan& planned) {
  const Plan& plan = planned.plan;
  const auto length = static_cast<int>((plan.until - plan.from).count()) + 1;
  const auto date = clock_change(garden.timezone, plan.from, length);
  if (!date || planned.away) return std::nullopt;  // when back: day_to_plan_again
  const auto change = clock_change_on(garden.timezone, *date);
  if (!change) return std::nullopt;
  return DayToAct{
      .uid = uid_of(garden, "clock-change", *date),
      .date = *date,
      .what = "the clocks change, set the timer's",
      .how = clock(garden.display, change->from) + " to " + clock(garden.display, change->to) +
             " on " + short_date(change->date) +
             (change->left_out ? " is left out" : " comes twice") +
             ". Start times are by the clock on the wall: set the timer's clock, if it does not do "
             "so by itself."};
}

std::vector<DayToAct> days_to_act(const Garden& garden, const GardenPlan& planned,
                                  const SavedPlan* before) {
  const Plan& plan = planned.plan;
  std::vector<DayToAct> all;
  const auto add = [&all](std::optional<DayToAct> day) {
    if (day) all.push_back(std::move(*day));
  };
  add(day_to_set(garden, planned, before));
  for (const HandRun& run : plan.by_hand) add(day_for_hand_run(garden, plan, run));
  for (const FrostDay& frost : planned.advice.frost) add(day_of_frost(garden, frost));
  for (const WateringAdvice& advice : planned.advice.waterings)
    add(day_of_advice(garden, planned, advice));
  for (const ZonePlan& zone : plan.zones)
    if (zone.days_beyond > 0) add(day_of_shortfall(garden, zone));
  add(day_of_clock_change(garden, planned));
  add(day_to_plan_again(garden, planned));
  return all;
}

/// The stretch of the clock that a change leaves out and in which the watering would begin.
std::optional<ClockChange> left_out_at(const Garden& garden, const Watering& watering) {
  const auto begins = watering.date + watering.opening.start;
  for (const Date date : {watering.date, watering.date + days{1}}) {
    const auto change = clock_change_on(garden.timezone, date);
    if (change && change->left_out && begins >= change->date + change->from &&
        begins < change->date + change->to)
      return change;
  }
  return std::nullopt;
}

using ByPlace = std::map<std::pair<Date, std::pair<int, std::size_t>>, Watering>;

void add_waterings(ByPlace& all, const std::vector<ValveTimes>& valves, Date from, Date until,
                   bool cancelled) {
  for (Date date = from; date <= until; date += days{1})
    for (const ValveTimes& times : valves) {
      if (times.openings.empty() || !waters_on(times.days, date)) continue;
      for (std::size_t cycle = 0; cycle < times.openings.size(); ++cycle)
        all.insert_or_assign({date, {times.valve, cycle}},
                             Watering{.date = date,
                                      .valve = times.valve,
                                      .cycle = cycle,
                                      .opening = times.openings[cycle],
                                      .cancelled = cancelled});
    }
}

/// By date, valve and cycle; with those that the plan before had in the days since, and this one
/// has not.
std::vector<Watering> waterings(const Garden& garden, const Plan& plan, const SavedPlan* before) {
  ByPlace by_place;
  if (before != nullptr)
    add_waterings(by_place, times_in_force(garden, *before), std::max(plan.from, before->from),
                  before->until, true);
  add_waterings(by_place, plan.valves, plan.from, plan.until, false);
  std::vector<Watering> all;
  for (auto& [place, watering] : by_place) all.push_back(watering);
  return all;
}

class PlanCalendar {
 public:
  PlanCalendar(const Garden& garden, const Plan& plan, std::optional<int> alarm_min)
      : garden_(garden), plan_(plan), alarm_min_(alarm_min) {
    writer_.begin("VCALENDAR");
    writer_.property("VERSION", "2.0");
    writer_.text("PRODID", "-//Runnel//runnel plan//EN");
    writer_.property("CALSCALE", "GREGORIAN");
    writer_.text("NAME", printable(garden.name));  // RFC 7986
  }

  void add_time_zone(Date from, Date until) {
    writer_.begin("VTIMEZONE");
    writer_.text("TZID", garden_.timezone);
    for (const UtcOffset& offset : utc_offsets(garden_.timezone, from, until)) {
      writer_.begin(offset.summer ? "DAYLIGHT" : "STANDARD");
      writer_.property("DTSTART", calendar_time(offset.begins));
      writer_.property("TZOFFSETFROM", calendar_offset(offset.before));
      writer_.property("TZOFFSETTO", calendar_offset(offset.offset));
      writer_.text("TZNAME", offset.abbreviation);
      writer_.end();
    }
    writer_.end();
  }

  void add(const DayToAct& day) {
    begin_event(day.uid, printable(garden_.name) + ": " + day.what, day.how);
    writer_.property("DTSTART;VALUE=DATE", calendar_date(day.date));
    writer_.property("DTEND;VALUE=DATE", calendar_date(day.date + days{1}));
    writer_.property("CATEGORIES", "To do");
    if (alarm_min_) {
      writer_.begin("VALARM");
      writer_.property("ACTION", "DISPLAY");
      writer_.property("TRIGGER", "-" + calendar_duration(std::chrono::minutes{*alarm_min_}));
      writer_.text("DESCRIPTION", printable(garden_.name) + ": " + day.what);
      writer_.end();
    }
    writer_.end();
  }

  void add(const Watering& watering) {
    const ValveTimes::Opening& opening = watering.opening;
    std::string how = "Valve " + std::to_string(watering.valve) + ", by the timer.";
    std::chrono::local_seconds begins = watering.date + opening.start;
    // RFC 5545 section 3.3.5 means the same by a time left out; some readers do not.
    if (const auto gap = left_out_at(garden_, watering)) {
      begins += gap->to - gap->from;
      how += " The clocks leave out its start at " + clock(garden_.display, opening.start) +
             ": should it not come, run it by hand.";
    }
    begin_event(uid_of(garden_, "watering-" + std::to_string(watering.cycle + 1), watering.date,
                       watering.valve),
                zone_names(garden_, watering.valve) + ", " +
                    std::to_string(opening.length.count()) + " min",
                how);
    writer_.property("DTSTART;TZID=" + garden_.timezone, calendar_time(begins));
    // Not an end by the wall's clock: that would be an hour off through a change of the clocks.
    writer_.property("DURATION", calendar_duration(opening.length));
    writer_.property("CATEGORIES", "Watering");
    if (watering.cancelled) writer_.property("STATUS", "CANCELLED");
    writer_.end();
  }

  [[nodiscard]] std::string text() {
    writer_.end();
    return writer_.written();
  }

 private:
  void begin_event(const std::string& uid, const std::string& summary,
                   const std::string& description) {
    static constexpr Date epoch{std::chrono::year{2000} / 1 / 1};
    writer_.begin("VEVENT");
    writer_.text("UID", uid);
    writer_.property("DTSTAMP", calendar_time(plan_.from) + "Z");
    writer_.property("SEQUENCE", std::to_string((plan_.from - epoch).count()));
    writer_.text("SUMMARY", summary);
    writer_.text("DESCRIPTION", description);
    writer_.text("LOCATION", printable(garden_.name));
    writer_.property("TRANSP", "TRANSPARENT");
  }

  const Garden& garden_;
  const Plan& plan_;
  std::optional<int> alarm_min_;
  CalendarWriter writer_;
};

}  // namespace

std::string plan_calendar(const Garden& garden, const GardenPlan& planned,
                          const std::optional<SavedPlan>& before, const PlanOptions& options) {
  const Plan& plan = planned.plan;
  const SavedPlan* const in_force = before ? &*before : nullptr;
  PlanCalendar calendar(garden, plan, options.alarm_min);
  std::vector<Watering> each;
  if (options.every_watering) each = waterings(garden, plan, in_force);
  if (!each.empty()) calendar.add_time_zone(each.front().date, each.back().date);
  for (const DayToAct& day : days_to_act(garden, planned, in_force)) calendar.add(day);
  for (const Watering& watering : each) calendar.add(watering);
  return calendar.text();
}

std::string calendar_fault(const PlanOptions& options) {
  if (options.format == "ics") {
    if (options.doubts)
      return "a calendar holds the programme alone (leave out --format ics, or --doubts)";
    return {};
  }
  if (options.every_watering) return "--every-watering is for a calendar (add --format ics)";
  if (options.alarm_min) return "--alarm is for a calendar (add --format ics)";
  return {};
}

}  // namespace runnel::cli
