#include "timetable_litres.hpp"

#include <algorithm>
#include <cmath>

namespace runnel {
namespace {

constexpr int kWeek = 7;
constexpr double kNanolitres = 1e9;
constexpr std::int64_t kRounding = 500;  // nanolitres: what a limit just allows must fit
constexpr double kNoEnd = 1e18;          // nanolitres; sums stay far below

std::int64_t nanolitres(double litres) {
  return static_cast<std::int64_t>(std::llround(std::min(litres * kNanolitres, kNoEnd)));
}

bool repeats_within(const DayPattern& days, int dates) {
  if (std::holds_alternative<Weekdays>(days)) return true;
  const auto* every = std::get_if<EveryN>(&days);
  return every != nullptr && every->n > 0 && dates % every->n == 0;
}

std::vector<std::int64_t> days_in_week(std::span<const int> dates_on, int dates) {
  std::vector<std::int64_t> count(static_cast<std::size_t>(dates), 0);
  for (const int date : dates_on) {
    for (int before = 0; before < kWeek; ++before)
      ++count[static_cast<std::size_t>((date - before + dates) % dates)];
  }
  return count;
}

}  // namespace

void LitreSums::Drifting::add(std::int64_t litres_a_day, const DayPattern& days) {
  if (const auto* parity = std::get_if<DateParity>(&days)) {
    (parity->odd ? odd : even) += litres_a_day;
    return;
  }
  const int n = std::max(std::get<EveryN>(days).n, 1);
  a_day += litres_a_day;
  a_week += litres_a_day * ((kWeek + n - 1) / n);
}

std::int64_t LitreSums::Drifting::any_day() const { return a_day + std::max(odd, even); }

std::int64_t LitreSums::Drifting::any_week() const {
  return a_week + kWeek / 2 * (odd + even) + std::max(odd, even);
}

LitreSums::LitreSums(const Limits& limits, const Stocks& stocks)
    : limits_(&limits), stocks_(&stocks) {
  const auto dates = static_cast<std::size_t>(stocks.dates());
  for (const LitreCap& cap : limits.litres) {
    sums_.push_back({.valves = cap.valves,
                     .most_a_day = nanolitres(cap.a_day) + kRounding,
                     .most_a_week = nanolitres(cap.a_week) + kRounding,
                     .on_date = std::vector<std::int64_t>(dates, 0),
                     .in_week = std::vector<std::int64_t>(dates, 0),
                     .drifting = {}});
  }
  if (sums_.empty()) return;
  for (std::size_t p = 0; p < stocks.patterns(); ++p) {
    const bool exact = repeats_within(stocks.pattern(p), stocks.dates());
    certain_ = certain_ && exact;
    days_in_week_.push_back(exact ? days_in_week(stocks.dates_on(p), stocks.dates())
                                  : std::vector<std::int64_t>{});
  }
}

std::int64_t LitreSums::a_day(std::size_t valve, const Candidate& candidate) const {
  return nanolitres(limits_->litres_per_minute[valve] * minutes_a_day(candidate));
}

bool LitreSums::fits_drifting(const Sums& sums, std::int64_t a_day, const DayPattern& days) {
  const auto most = [](const std::vector<std::int64_t>& of) {
    return *std::max_element(of.begin(), of.end());
  };
  Drifting with = sums.drifting;
  with.add(a_day, days);
  return most(sums.on_date) + with.any_day() <= sums.most_a_day &&
         most(sums.in_week) + with.any_week() <= sums.most_a_week;
}

bool LitreSums::fits(const Sums& sums, std::int64_t a_day, std::size_t days) const {
  if (!dated(days)) return fits_drifting(sums, a_day, stocks_->pattern(days));
  const std::int64_t left_a_day = sums.most_a_day - sums.drifting.any_day() - a_day;
  for (const int date : stocks_->dates_on(days)) {
    if (sums.on_date[static_cast<std::size_t>(date)] > left_a_day) return false;
  }
  const std::vector<std::int64_t>& count = days_in_week_[days];
  const std::int64_t left_a_week = sums.most_a_week - sums.drifting.any_week();
  for (std::size_t date = 0; date < count.size(); ++date) {
    if (sums.in_week[date] + a_day * count[date] > left_a_week) return false;
  }
  return true;
}

bool LitreSums::fits(std::size_t valve, const Candidate& candidate, std::size_t days) const {
  if (sums_.empty()) return true;
  const std::int64_t litres = a_day(valve, candidate);
  return litres == 0 || std::all_of(sums_.begin(), sums_.end(), [&](const Sums& sums) {
           return !sums.valves.test(valve) || fits(sums, litres, days);
         });
}

void LitreSums::change(std::size_t valve, const Candidate& candidate, std::size_t days, int sign) {
  if (sums_.empty()) return;
  const std::int64_t change = sign * a_day(valve, candidate);
  if (change == 0) return;
  for (Sums& sums : sums_) {
    if (!sums.valves.test(valve)) continue;
    if (!dated(days)) {
      sums.drifting.add(change, stocks_->pattern(days));
      continue;
    }
    for (const int date : stocks_->dates_on(days))
      sums.on_date[static_cast<std::size_t>(date)] += change;
    for (std::size_t date = 0; date < sums.in_week.size(); ++date)
      sums.in_week[date] += change * days_in_week_[days][date];
  }
}

void LitreSums::clear() {
  for (Sums& sums : sums_) {
    std::fill(sums.on_date.begin(), sums.on_date.end(), 0);
    std::fill(sums.in_week.begin(), sums.in_week.end(), 0);
    sums.drifting = {};
  }
}

}  // namespace runnel
