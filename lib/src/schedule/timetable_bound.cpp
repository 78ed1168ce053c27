#include "timetable_bound.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace runnel {
namespace {

using std::chrono::days;

constexpr int kWeek = 7;
/// Sets of weekdays and intervals up to eight days have met in every way by then: lcm(1..8).
constexpr int kMostDates = 840;
constexpr std::size_t kMostRows = 300;

/// Values stay below this, so that the sum over all valves cannot overflow.
constexpr std::int64_t kMostValue = std::int64_t{1} << 50;

// Polyak's rule: a step of `reach` times the distance to the best known, halved when some steps in
// a row have not raised the bound.
constexpr double kFirstReach = 1.0;
constexpr double kLeastReach = 0.01;
constexpr int kPatience = 6;

/// Any Monday will do.
const Date kFirstDate = std::chrono::local_days{std::chrono::year{2024} / 1 / 1};

}  // namespace

HoursRoom::HoursRoom(const WateringHours& hours, const Timer& timer)
    : pause_(std::max(timer.pause_minutes, 0)), one_at_a_time_(timer.together <= 1) {
  for (const Window& window : hours) {
    room_min_.push_back((window.closes - window.opens + std::chrono::minutes{pause_}).count() *
                        std::max(timer.together, 1));
  }
}

Option HoursRoom::option(std::size_t index, const Candidate& candidate) {
  auto known = std::find(patterns_.begin(), patterns_.end(), candidate.days);
  if (known == patterns_.end()) known = patterns_.insert(known, candidate.days);
  Option option{.index = index,
                .cost = candidate.cost,
                .days = static_cast<std::size_t>(known - patterns_.begin()),
                .held_min = {}};
  for (std::size_t w = 0; w < room_min_.size(); ++w) {
    option.held_min.push_back(held_minutes(candidate, w, pause_));
  }
  return option;
}

void HoursRoom::close() {
  for (const DayPattern& pattern : patterns_) {
    if (const auto* every = std::get_if<EveryN>(&pattern); every != nullptr && every->n > 0) {
      dates_ = std::min(std::lcm(dates_, std::min(every->n, kMostDates)), kMostDates);
    }
  }
  for (const DayPattern& pattern : patterns_) {
    std::vector<int> on;
    if (!std::holds_alternative<DateParity>(pattern)) {
      for (int date = 0; date < dates_; ++date) {
        if (waters_on(pattern, kFirstDate + days{date})) on.push_back(date);
      }
    }
    dates_on_.push_back(std::move(on));
  }
  for (int date = 0; date < dates_; ++date) {
    odd_.push_back(waters_on(DateParity{.odd = true}, kFirstDate + days{date}));
  }
}

bool HoursRoom::holds(std::size_t pattern, const Row& row) const {
  if (const auto* parity = std::get_if<DateParity>(&patterns_[pattern])) {
    return parity->odd == row.odd;
  }
  return std::binary_search(dates_on_[pattern].begin(), dates_on_[pattern].end(), row.date);
}

std::vector<HoursRoom::Row> HoursRoom::overfilled(std::span<const Option* const> picked) const {
  std::vector<Row> rows;
  std::vector<std::int64_t> held(static_cast<std::size_t>(dates_));
  for (std::size_t w = 0; w < room_min_.size(); ++w) {
    std::fill(held.begin(), held.end(), 0);
    std::int64_t on_odd = 0;
    std::int64_t on_even = 0;
    for (const Option* option : picked) {
      const std::int64_t minutes = option->held_min[w];
      if (minutes == 0) continue;
      if (const auto* parity = std::get_if<DateParity>(&patterns_[option->days])) {
        (parity->odd ? on_odd : on_even) += minutes;
      }
      for (const int date : dates_on_[option->days])
        held[static_cast<std::size_t>(date)] += minutes;
    }
    for (int weekday = 0; weekday < kWeek; ++weekday) {
      Row worst{};
      std::int64_t most = room_min_[w];
      for (int date = weekday; date < dates_; date += kWeek) {
        const bool odd = one_at_a_time_ ? on_odd > on_even : odd_[static_cast<std::size_t>(date)];
        const std::int64_t now = held[static_cast<std::size_t>(date)] + (odd ? on_odd : on_even);
        if (now <= most) continue;
        most = now;
        worst = {.window = w, .date = date, .odd = odd};
      }
      if (most > room_min_[w]) rows.push_back(worst);
    }
  }
  return rows;
}

Relaxation::Relaxation(const HoursRoom& room, Part part, std::int64_t most_harm_um)
    : room_(&room), part_(part) {
  const auto rooms = room.room_min();
  const std::int64_t total_min = std::accumulate(rooms.begin(), rooms.end(), std::int64_t{1});
  most_minute_price_ = kMostValue / (total_min * static_cast<std::int64_t>(kMostRows));
  most_harm_price_ = kMostValue / std::max<std::int64_t>(most_harm_um, 1);
  set({});
}

void Relaxation::set(Prices prices) {
  prices_ = std::move(prices);
  const std::size_t windows = room_->room_min().size();
  minutes_free_ = std::all_of(prices_.of_minute.begin(), prices_.of_minute.end(),
                              [](std::int64_t price) { return price == 0; });
  of_days_.assign(room_->patterns() * windows, 0);
  for (std::size_t r = 0; r < prices_.of_minute.size(); ++r) {
    const std::int64_t price = prices_.of_minute[r];
    if (price == 0) continue;
    const std::size_t window = rows_[r].window;
    for (std::size_t pattern = 0; pattern < room_->patterns(); ++pattern) {
      if (holds_[r][pattern]) of_days_[pattern * windows + window] += price;
    }
  }
}

void Relaxation::restore(Prices prices) {
  prices.of_minute.resize(rows_.size(), 0);
  if (prices.of_minute != prices_.of_minute || prices.of_harm != prices_.of_harm) {
    set(std::move(prices));
  }
}

std::int64_t Relaxation::value(const Option& option) const {
  const std::size_t windows = option.held_min.size();
  std::int64_t value = part_ == Part::harm
                           ? unit * option.cost.harm_um
                           : unit * option.cost.price_cl + prices_.of_harm * option.cost.harm_um;
  if (minutes_free_) return value;
  for (std::size_t w = 0; w < windows; ++w) {
    value += option.held_min[w] * of_days_[option.days * windows + w];
  }
  return value;
}

std::int64_t Relaxation::least_value(const Options& list) const {
  std::int64_t least = std::numeric_limits<std::int64_t>::max();
  for (const Option* option : list) least = std::min(least, value(*option));
  return least;
}

std::int64_t Relaxation::fetched(const Cost& best) const {
  std::int64_t sum = prices_.of_harm * best.harm_um;
  for (std::size_t r = 0; r < prices_.of_minute.size(); ++r) {
    sum += room_->room_min()[rows_[r].window] * prices_.of_minute[r];
  }
  return sum;
}

std::int64_t Relaxation::bound(std::span<const Options> lists, const Cost& best) const {
  std::int64_t sum = -fetched(best);
  for (const Options& list : lists) sum += least_value(list);
  return sum;
}

std::int64_t Relaxation::rounded_up(std::int64_t value) {
  return value / unit + (value % unit > 0 ? 1 : 0);
}

void Relaxation::pick(std::span<const Options> lists) {
  picked_.clear();
  for (const Options& list : lists) {
    const Option* picked = nullptr;
    std::int64_t least = std::numeric_limits<std::int64_t>::max();
    for (const Option* option : list) {
      const std::int64_t now = value(*option);
      if (now >= least) continue;
      least = now;
      picked = option;
    }
    picked_.push_back(picked);
  }
}

std::int64_t Relaxation::picked_bound(const Cost& best) const {
  std::int64_t sum = -fetched(best);
  for (const Option* option : picked_) sum += value(*option);
  return sum;
}

void Relaxation::add_rows() {
  for (const HoursRoom::Row& row : room_->overfilled(picked_)) {
    if (rows_.size() == kMostRows || std::find(rows_.begin(), rows_.end(), row) != rows_.end()) {
      continue;
    }
    rows_.push_back(row);
    prices_.of_minute.push_back(0);
    std::vector<bool> holds;
    for (std::size_t pattern = 0; pattern < room_->patterns(); ++pattern) {
      holds.push_back(room_->holds(pattern, row));
    }
    holds_.push_back(std::move(holds));
  }
}

void Relaxation::step(const Cost& best, double reach, std::int64_t distance) {
  std::vector<double> overfill;
  double square = 0.0;
  for (std::size_t r = 0; r < rows_.size(); ++r) {
    std::int64_t minutes = -room_->room_min()[rows_[r].window];
    for (const Option* option : picked_) {
      if (holds_[r][option->days]) minutes += option->held_min[rows_[r].window];
    }
    if (minutes < 0 && prices_.of_minute[r] == 0) minutes = 0;
    overfill.push_back(static_cast<double>(minutes));
    square += overfill.back() * overfill.back();
  }
  // The harm allowed and the room of a window count alike.
  double harm_overfill = 0.0;
  double harm_scale = 0.0;
  if (part_ == Part::price && !room_->room_min().empty()) {
    std::int64_t harm = -best.harm_um;
    for (const Option* option : picked_) harm += option->cost.harm_um;
    if (harm < 0 && prices_.of_harm == 0) harm = 0;
    harm_scale = static_cast<double>(room_->room_min()[0]) /
                 static_cast<double>(std::max<std::int64_t>(best.harm_um, 1));
    harm_overfill = harm_scale * static_cast<double>(harm);
    square += harm_overfill * harm_overfill;
  }
  if (square == 0.0) return;
  const double length = reach * static_cast<double>(distance) / square;
  const auto moved = [](std::int64_t price, double by, std::int64_t most) {
    return static_cast<std::int64_t>(
        std::clamp(static_cast<double>(price) + by, 0.0, static_cast<double>(most)));
  };
  Prices prices = prices_;
  for (std::size_t r = 0; r < rows_.size(); ++r) {
    prices.of_minute[r] = moved(prices.of_minute[r], length * overfill[r], most_minute_price_);
  }
  prices.of_harm = moved(prices.of_harm, length * harm_scale * harm_overfill, most_harm_price_);
  set(std::move(prices));
}

void Relaxation::tighten(std::span<const Options> lists, const Cost& best, int steps) {
  const std::int64_t aim = unit * (part_ == Part::harm ? best.harm_um : best.price_cl);
  pick(lists);
  std::int64_t now = picked_bound(best);
  Prices highest_at = prices_;
  std::int64_t highest = now;
  double reach = kFirstReach;
  int since_better = 0;
  for (int i = 0; i < steps && reach > kLeastReach; ++i) {
    if (rounded_up(highest) * unit >= aim) break;
    add_rows();
    step(best, reach, aim - now);
    pick(lists);
    now = picked_bound(best);
    if (now > highest) {
      highest = now;
      highest_at = prices_;
      since_better = 0;
    } else if (++since_better == kPatience) {
      reach /= 2.0;
      since_better = 0;
    }
  }
  restore(std::move(highest_at));
}

}  // namespace runnel
