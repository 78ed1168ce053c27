#include "timetable_bound.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace runnel {
namespace {

constexpr std::size_t kMostRows = 300;

/// Values stay below this, so that the sum over all valves cannot overflow.
constexpr std::int64_t kMostValue = std::int64_t{1} << 50;

// Polyak's rule: a step of `reach` times the distance to the best known, halved when some steps in
// a row have not raised the bound.
constexpr double kFirstReach = 1.0;
constexpr double kLeastReach = 0.01;
constexpr int kPatience = 6;

}  // namespace

Relaxation::Relaxation(const Stocks& stocks, Part part, std::int64_t most_harm_um)
    : stocks_(&stocks), part_(part) {
  const auto rooms = stocks.rooms();
  const std::int64_t total = std::accumulate(rooms.begin(), rooms.end(), std::int64_t{1});
  most_row_price_ = kMostValue / (total * static_cast<std::int64_t>(kMostRows));
  most_harm_price_ = kMostValue / std::max<std::int64_t>(most_harm_um, 1);
  set({});
}

void Relaxation::set(Prices prices) {
  prices_ = std::move(prices);
  const std::size_t stocks = stocks_->rooms().size();
  rows_free_ = std::all_of(prices_.of_row.begin(), prices_.of_row.end(),
                           [](std::int64_t price) { return price == 0; });
  of_days_.assign(stocks_->patterns() * stocks, 0);
  for (std::size_t r = 0; r < prices_.of_row.size(); ++r) {
    const std::int64_t price = prices_.of_row[r];
    if (price == 0) continue;
    const std::size_t stock = rows_[r].stock;
    for (std::size_t pattern = 0; pattern < stocks_->patterns(); ++pattern) {
      of_days_[pattern * stocks + stock] += times_[r][pattern] * price;
    }
  }
}

void Relaxation::restore(Prices prices) {
  prices.of_row.resize(rows_.size(), 0);
  if (prices.of_row != prices_.of_row || prices.of_harm != prices_.of_harm) {
    set(std::move(prices));
  }
}

std::int64_t Relaxation::value(const Option& option) const {
  const std::size_t stocks = option.takes.size();
  std::int64_t value = part_ == Part::harm
                           ? unit * option.cost.harm_um
                           : unit * option.cost.price_cl + prices_.of_harm * option.cost.harm_um;
  if (rows_free_) return value;
  for (std::size_t s = 0; s < stocks; ++s) {
    value += option.takes[s] * of_days_[option.days * stocks + s];
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
  for (std::size_t r = 0; r < prices_.of_row.size(); ++r) {
    sum += stocks_->rooms()[rows_[r].stock] * prices_.of_row[r];
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
  for (const Stocks::Row& row : stocks_->overfilled(picked_)) {
    if (rows_.size() == kMostRows || std::find(rows_.begin(), rows_.end(), row) != rows_.end()) {
      continue;
    }
    rows_.push_back(row);
    prices_.of_row.push_back(0);
    std::vector<std::int64_t> times;
    for (std::size_t pattern = 0; pattern < stocks_->patterns(); ++pattern) {
      times.push_back(stocks_->times(pattern, row));
    }
    times_.push_back(std::move(times));
  }
}

/// Windows count by their minutes, all else as if it had the room of the first.
double Relaxation::scale(std::size_t stock) const {
  if (stock < stocks_->windows()) return 1.0;
  return static_cast<double>(stocks_->rooms()[0]) / static_cast<double>(stocks_->rooms()[stock]);
}

void Relaxation::step(const Cost& best, double reach, std::int64_t distance) {
  std::vector<double> overfill;  // scaled
  double square = 0.0;
  for (std::size_t r = 0; r < rows_.size(); ++r) {
    const std::size_t stock = rows_[r].stock;
    std::int64_t beyond = -stocks_->rooms()[stock];
    for (const Option* option : picked_) beyond += times_[r][option->days] * option->takes[stock];
    if (beyond < 0 && prices_.of_row[r] == 0) beyond = 0;
    overfill.push_back(scale(stock) * static_cast<double>(beyond));
    square += overfill.back() * overfill.back();
  }
  // The harm allowed and the room of a window count alike.
  double harm_overfill = 0.0;
  double harm_scale = 0.0;
  if (part_ == Part::price && !stocks_->rooms().empty()) {
    std::int64_t harm = -best.harm_um;
    for (const Option* option : picked_) harm += option->cost.harm_um;
    if (harm < 0 && prices_.of_harm == 0) harm = 0;
    harm_scale = static_cast<double>(stocks_->rooms()[0]) /
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
    const double by = length * scale(rows_[r].stock) * overfill[r];
    prices.of_row[r] = moved(prices.of_row[r], by, most_row_price_);
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
