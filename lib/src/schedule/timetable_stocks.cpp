#include "timetable_stocks.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace runnel {
namespace {

using std::chrono::days;

constexpr int kWeek = 7;
/// Sets of weekdays and intervals up to eight days have met in every way by then: lcm(1..8).
constexpr int kMostDates = 840;
/// Litres count in parts of the stock, rounded down, so that the sums are whole numbers and no
/// timetable that fits is ruled out.
constexpr std::int64_t kParts = 10'000;

/// Any Monday will do.
const Date kFirstDate = std::chrono::local_days{std::chrono::year{2024} / 1 / 1};

}  // namespace

Stocks::Stocks(const Limits& limits) : limits_(&limits) {
  const auto open_min = [&](std::size_t w) {
    return std::max<std::int64_t>((limits.hours[w].closes - limits.hours[w].opens).count(), 0);
  };
  for (std::size_t w = 0; w < limits.hours.size(); ++w) {
    add({.kind = Kind::window, .which = w, .whole = 0.0},
        (open_min(w) + limits.pause_min) * limits.together);
  }
  if (limits.supply_counts()) {
    for (std::size_t w = 0; w < limits.hours.size(); ++w) {
      add({.kind = Kind::supply,
           .which = w,
           .whole = limits.supply_l_min * static_cast<double>(open_min(w))},
          kParts);
    }
  }
  for (std::size_t l = 0; l < limits.litres.size(); ++l) {
    const LitreCap& cap = limits.litres[l];
    add({.kind = Kind::day_litres, .which = l, .whole = cap.a_day}, kParts);
    add({.kind = Kind::week_litres, .which = l, .whole = cap.a_week}, kParts);
  }
}

/// What has no end, or holds nothing at all, bounds nothing here.
void Stocks::add(const Stock& stock, std::int64_t room) {
  if (stock.kind != Kind::window && (!std::isfinite(stock.whole) || stock.whole <= 0.0)) return;
  stocks_.push_back(stock);
  rooms_.push_back(room);
}

std::int64_t Stocks::taken_by(std::size_t valve, const Candidate& candidate,
                              const Stock& stock) const {
  if (stock.kind == Kind::window) return held_minutes(candidate, stock.which, limits_->pause_min);
  double litres = 0.0;
  if (stock.kind == Kind::supply) {
    // A valve that needs more than the supply brings is alone with it.
    litres = std::min(limits_->litres_per_minute[valve], limits_->supply_l_min) *
             cycles_of(candidate, stock.which) * run_minutes(candidate, stock.which);
  } else if (limits_->litres[stock.which].valves.test(valve)) {
    litres = limits_->litres_per_minute[valve] * minutes_a_day(candidate);
  }
  return static_cast<std::int64_t>(
      std::floor(static_cast<double>(kParts) * std::min(litres / stock.whole, 2.0)));
}

Option Stocks::option(std::size_t valve, std::size_t index, const Candidate& candidate) {
  auto known = std::find(patterns_.begin(), patterns_.end(), candidate.days);
  if (known == patterns_.end()) known = patterns_.insert(known, candidate.days);
  Option option{.index = index,
                .cost = candidate.cost,
                .days = static_cast<std::size_t>(known - patterns_.begin()),
                .takes = {}};
  for (const Stock& stock : stocks_) option.takes.push_back(taken_by(valve, candidate, stock));
  return option;
}

void Stocks::close() {
  if (!odd_.empty()) return;
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

std::int64_t Stocks::times(std::size_t pattern, const Row& row) const {
  const std::vector<int>& on = dates_on_[pattern];
  const auto* parity = std::get_if<DateParity>(&patterns_[pattern]);
  if (stocks_[row.stock].kind != Kind::week_litres) {
    if (parity != nullptr) return parity->odd == row.odd ? 1 : 0;
    return std::binary_search(on.begin(), on.end(), row.date) ? 1 : 0;
  }
  if (parity == nullptr) {
    return std::lower_bound(on.begin(), on.end(), row.date + kWeek) -
           std::lower_bound(on.begin(), on.end(), row.date);
  }
  const auto first = odd_.begin() + row.date;
  return std::count(first, first + kWeek, parity->odd);
}

Stocks::Taken Stocks::taken_by(std::span<const Option* const> picked, std::size_t stock) const {
  Taken taken{.on_date = std::vector<std::int64_t>(static_cast<std::size_t>(dates_), 0)};
  for (const Option* option : picked) {
    const std::int64_t takes = option->takes[stock];
    if (takes == 0) continue;
    if (const auto* parity = std::get_if<DateParity>(&patterns_[option->days])) {
      (parity->odd ? taken.odd : taken.even) += takes;
    }
    for (const int date : dates_on_[option->days])
      taken.on_date[static_cast<std::size_t>(date)] += takes;
  }
  return taken;
}

/// Whether a row may take odd or even dates along, whatever its date is.
bool Stocks::any_parity(std::size_t stock) const {
  return stocks_[stock].kind == Kind::window && limits_->together <= 1;
}

std::vector<Stocks::Row> Stocks::overfilled(std::span<const Option* const> picked) const {
  std::vector<Row> rows;
  for (std::size_t s = 0; s < stocks_.size(); ++s) {
    const Taken taken = taken_by(picked, s);
    const bool week = stocks_[s].kind == Kind::week_litres;
    const auto on_date = [&](int date) {
      const bool odd =
          any_parity(s) ? taken.odd > taken.even : odd_[static_cast<std::size_t>(date)];
      return std::pair{
          taken.on_date[static_cast<std::size_t>(date)] + (odd ? taken.odd : taken.even), odd};
    };
    for (int weekday = 0; weekday < kWeek; ++weekday) {
      Row worst{};
      std::int64_t most = rooms_[s];
      for (int date = weekday; date < (week ? dates_ - kWeek + 1 : dates_); date += kWeek) {
        auto [now, odd] = on_date(date);
        for (int later = 1; week && later < kWeek; ++later) now += on_date(date + later).first;
        if (now <= most) continue;
        most = now;
        worst = {.stock = s, .date = date, .odd = odd};
      }
      if (most > rooms_[s]) rows.push_back(worst);
    }
  }
  return rows;
}

}  // namespace runnel
