#include "changed_settings.hpp"

#include <algorithm>
#include <cstddef>
#include <set>
#include <utility>

#include "runnel/schedule/changes.hpp"
#include "settings.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

const std::vector<int>& lengths_of(const Programme& programme, int valve) {
  return std::find_if(programme.runs.begin(), programme.runs.end(),
                      [valve](const Run& run) { return run.valve == valve; })
      ->typed_min;
}

std::string at(const Programme& programme, const Timer& timer, const Display& display) {
  return to_text(programme.days) + " at " + starts_text(programme.starts, timer, display);
}

void add(ChangedSetting& change, const std::string& what, const std::string& now,
         const std::string& was, int settings) {
  change.says += (change.says.empty() ? "" : "; ") + what + " " + now + " (was " + was + ")";
  change.settings += settings;
}

void compare_times(ChangedSetting& change, const Programme& now, const Programme& was,
                   const Timer& timer, const Display& display) {
  if (!same_days(now.days, was.days)) add(change, "days", to_text(now.days), to_text(was.days), 1);
  if (const int starts = starts_changed(was.starts, now.starts); starts > 0)
    add(change, "start times", starts_text(now.starts, timer, display),
        starts_text(was.starts, timer, display), starts);
}

void compare_lengths(ChangedSetting& change, const std::vector<int>& now,
                     const std::vector<int>& was) {
  if (const int lengths = lengths_changed(was, now); lengths > 0)
    add(change, "minutes", minutes_text(now), minutes_text(was), lengths);
}

const Programme* numbered(const Plan& plan, int number) {
  for (const Programme& programme : plan.programmes)
    if (!programme.starts.empty() && --number == 0) return &programme;
  return nullptr;
}

/// Days that are counted, counted from the first of them that is still to come.
std::vector<Programme> as_of(std::vector<Programme> programmes, Date from) {
  for (Programme& programme : programmes) programme.days = runnel::as_of(programme.days, from);
  return programmes;
}

class Comparison {
 public:
  Comparison(const Garden& garden, const Plan& plan, const SavedPlan* before)
      : garden_(garden), fresh_(before == nullptr) {
    plan_.programmes = as_of(plan.programmes, plan.from);
    if (before == nullptr) return;
    before_.programmes = as_of(before->programmes, plan.from);
    percentage_ = before->percentage;
  }

  [[nodiscard]] std::vector<ChangedSetting> changes() {
    compare_percentage();
    const bool shared = garden_.timer.programmes > 0;
    if (shared) compare_programmes();
    for (const int valve : valves()) {
      ChangedSetting change{.where = valve_name(garden_, valve), .valves = {valve}, .says = {}};
      const Programme* now = programme_of(plan_, valve);
      const Programme* was = programme_of(before_, valve);
      if (now != nullptr && was != nullptr) {
        compare_both(change, *now, *was);
      } else if (now != nullptr) {
        change.says = in_full(plan_, *now, valve) + (fresh_ ? "" : " (was off)");
        change.settings = shared ? 1 : 2 + static_cast<int>(now->starts.size());
      } else if (was != nullptr) {
        change.says = "off (was " + in_full(before_, *was, valve) + ")";
        change.settings = shared ? 1 : static_cast<int>(was->starts.size());
      }
      keep(std::move(change));
    }
    return std::move(changes_);
  }

 private:
  [[nodiscard]] std::set<int> valves() const {
    std::set<int> all;
    for (const Plan* plan : {&plan_, &before_})
      for (const Programme& programme : plan->programmes)
        for (const Run& run : programme.runs) all.insert(run.valve);
    return all;
  }

  [[nodiscard]] std::string in_full(const Plan& plan, const Programme& programme, int valve) const {
    const std::string minutes = minutes_text(lengths_of(programme, valve)) + " min";
    if (garden_.timer.programmes == 0)
      return at(programme, garden_.timer, garden_.display) + ", " + minutes;
    return "programme " + std::to_string(number_of(plan, &programme)) + ", " + minutes;
  }

  void compare_both(ChangedSetting& change, const Programme& now, const Programme& was) const {
    if (garden_.timer.programmes == 0) {
      compare_times(change, now, was, garden_.timer, garden_.display);
    } else if (number_of(plan_, &now) != number_of(before_, &was)) {
      add(change, "programme", std::to_string(number_of(plan_, &now)),
          std::to_string(number_of(before_, &was)), 1);
    }
    const int valve = change.valves.front();
    compare_lengths(change, lengths_of(now, valve), lengths_of(was, valve));
  }

  /// Days and starts of the programmes that valves share.
  void compare_programmes() {
    for (int number = 1;; ++number) {
      const Programme* now = numbered(plan_, number);
      const Programme* was = numbered(before_, number);
      if (now == nullptr && was == nullptr) return;
      ChangedSetting change{
          .where = "programme " + std::to_string(number), .valves = {}, .says = {}};
      for (const Run& run : (now != nullptr ? now : was)->runs) change.valves.push_back(run.valve);
      if (now != nullptr && was != nullptr) {
        compare_times(change, *now, *was, {}, garden_.display);
      } else if (now != nullptr) {
        change.says = at(*now, {}, garden_.display) + (fresh_ ? "" : " (was off)");
        change.settings = 1 + static_cast<int>(now->starts.size());
      } else {
        change.says = "off (was " + at(*was, {}, garden_.display) + ")";
        change.settings = static_cast<int>(was->starts.size());
      }
      keep(std::move(change));
    }
  }

  void compare_percentage() {
    if (garden_.timer.percentage == percentage_) return;
    ChangedSetting change{.where = "timer", .valves = {}, .says = {}, .settings = 1};
    for (const int valve : valves()) change.valves.push_back(valve);
    change.says = "percentage " + std::to_string(garden_.timer.percentage) + " %" +
                  (fresh_ ? "" : " (was " + std::to_string(percentage_) + " %)");
    keep(std::move(change));
  }

  void keep(ChangedSetting change) {
    if (change.settings > 0) changes_.push_back(std::move(change));
  }

  const Garden& garden_;
  bool fresh_;
  Plan plan_, before_;  ///< their programmes alone
  int percentage_ = 100;
  std::vector<ChangedSetting> changes_;
};

}  // namespace

std::vector<ChangedSetting> changed_settings(const Garden& garden, const Plan& plan,
                                             const SavedPlan* before) {
  return Comparison(garden, plan, before).changes();
}

}  // namespace runnel::cli
