#include <algorithm>
#include <chrono>
#include <stdexcept>

#include "runnel/garden/files.hpp"
#include "runnel/garden/site_weather.hpp"
#include "runnel/units/number.hpp"
#include "runnel/weather/futures.hpp"

namespace runnel {
namespace {

using Eigen::Index;
using std::chrono::days;

constexpr Index most_recent_days = 7;
/// Long enough for ground that only rain waters to forget what it held before.
constexpr Index most_days_before = 60;

bool covers(const DailyWeather& weather, Date date) {
  return date >= weather.first_day && date <= weather.last_day();
}

/// The part of it that lies in [first, last]; without days when none does.
DailyWeather part_of(const DailyWeather& weather, Date first, Date last) {
  const Index begin = std::clamp<Index>((first - weather.first_day).count(), 0, weather.days());
  const Index end =
      std::clamp<Index>((last - weather.first_day).count() + 1, begin, weather.days());
  return days_of(weather, begin, end - begin);
}

/// Futures in the making: stretches put end to end, and the rows that each future takes.
class FutureRows {
 public:
  FutureRows(Date from, int length)
      : from_(from), length_(length), forecast_(static_cast<std::size_t>(length), none) {}

  /// @return the row of its first day.
  Index add(DailyWeather stretch) {
    const Index first = rows_;
    rows_ += stretch.days();
    stretches_.push_back(std::move(stretch));
    return first;
  }
  [[nodiscard]] Index rows() const { return rows_; }
  /// The forecast's days, the first of the stretches.
  void take_forecast(DailyWeather ahead) {
    const Index first_day = (ahead.first_day - from_).count();
    for (Index day = 0; day < ahead.days(); ++day)
      forecast_[static_cast<std::size_t>(first_day + day)] = static_cast<int>(day);
    add(std::move(ahead));
  }
  /// Days from the first on that the forecast reaches without a break.
  [[nodiscard]] int forecast_from_start() const {
    return static_cast<int>(std::find(forecast_.begin(), forecast_.end(), none) -
                            forecast_.begin());
  }
  [[nodiscard]] bool is_forecast(std::size_t day) const { return forecast_[day] != none; }

  /// A future whose day d is row `first + d` where the forecast does not reach.
  void add_future(Index first) {
    std::vector<int> rows = forecast_;
    for (std::size_t day = 0; day < rows.size(); ++day)
      if (rows[day] == none) rows[day] = static_cast<int>(first) + static_cast<int>(day);
    futures_.push_back(std::move(rows));
  }
  /// A future that is the recent mean where the forecast does not reach.
  void add_mean_future() {
    std::vector<int> rows = forecast_;
    std::replace(rows.begin(), rows.end(), none, static_cast<int>(rows_));
    futures_.push_back(std::move(rows));
  }
  [[nodiscard]] bool empty() const { return futures_.empty(); }

  void into(AssumedWeather& assumed) {
    assumed.row.resize(static_cast<Index>(futures_.size()), length_);
    for (std::size_t f = 0; f < futures_.size(); ++f)
      assumed.row.row(static_cast<Index>(f)) =
          Eigen::Map<Eigen::ArrayXi>(futures_[f].data(), length_).transpose();
    assumed.stretches = std::move(stretches_);
  }

 private:
  static constexpr int none = -1;
  Date from_;
  int length_;
  std::vector<int> forecast_;  // [days] its row, or none
  Index rows_ = 0;
  std::vector<DailyWeather> stretches_;
  std::vector<std::vector<int>> futures_;
};

/// The record's sequences that may follow the forecast, thinned evenly.
void add_record(FutureRows& rows, const std::vector<DailyWeather>& record, Date from, int length) {
  const int skipped = rows.forecast_from_start();
  std::vector<DailyWeather> before;
  std::vector<Date> starts;
  for (const DailyWeather& stretch : record) {
    before.push_back(part_of(stretch, stretch.first_day, from - days{1}));
    const DailyWeather& known = before.back();
    if (known.days() == 0) continue;
    const auto here = alike_starts(known.first_day, known.last_day(), from, length, skipped);
    starts.insert(starts.end(), here.begin(), here.end());
  }
  const std::vector<Date> chosen = thinned(std::move(starts), most_futures);
  // Sequences that overlap share one stretch: what is computed for each of its days is so once.
  for (std::size_t begin = 0; begin < chosen.size();) {
    const Date first = chosen[begin] + days{skipped};
    const auto stretch = std::find_if(
        before.begin(), before.end(),
        [first](const DailyWeather& known) { return known.days() > 0 && covers(known, first); });
    std::size_t end = begin + 1;
    while (end < chosen.size() && chosen[end] > chosen[end - 1] &&
           chosen[end] < chosen[end - 1] + days{length} &&
           covers(*stretch, chosen[end] + days{skipped}))
      ++end;
    const Index row = rows.add(part_of(*stretch, first, chosen[end - 1] + days{length - 1}));
    for (std::size_t i = begin; i < end; ++i)
      rows.add_future(row + (chosen[i] - chosen[begin]).count() - skipped);
    begin = end;
  }
}

/// The days before the plan, for what rain alone has left in the ground.
void take_days_before(const DailyWeather& observed, Index last, AssumedWeather& assumed) {
  if (last == 0 || observed.first_day + days{last} != assumed.first_day) return;
  const Index before = std::min(last, most_days_before);
  assumed.eto_before_mm = observed.eto_mm.segment(last - before, before);
  assumed.rain_before_mm = observed.rain_mm.segment(last - before, before);
}

Column rows_end_to_end(const std::vector<DailyWeather>& stretches, Column DailyWeather::*column) {
  Index rows = 0;
  for (const DailyWeather& stretch : stretches) rows += stretch.days();
  Column all(rows);
  Index row = 0;
  for (const DailyWeather& stretch : stretches) {
    all.segment(row, stretch.days()) = stretch.*column;
    row += stretch.days();
  }
  return all;
}

double recent_mean(const AssumedWeather& assumed, const Column& by_row) {
  if (assumed.recent_days == 0) return 0.0;
  return by_row.segment(assumed.recent_first, assumed.recent_days).mean();
}

/// Means over the futures, once their rows are known.
void take_means(AssumedWeather& assumed) {
  assumed.eto_mm = assumed.eto_by_future_mm().colwise().mean().transpose();
  assumed.rain_mm = assumed.rain_by_future_mm().colwise().mean().transpose();
  const auto mean_of = [&assumed](Column DailyWeather::*column) {
    const Column by_row = rows_end_to_end(assumed.stretches, column);
    return assumed.by_future(by_row, recent_mean(assumed, by_row)).mean();
  };
  assumed.u2_m_s = mean_of(&DailyWeather::u2_m_s);
  assumed.rh_min_pct = mean_of(&DailyWeather::rh_min_pct);
}

void remark(std::vector<Finding>& findings, Finding::Kind kind, const std::string& file,
            std::string says, std::string mend = {}) {
  findings.push_back(
      {.kind = kind, .at = in_file(file), .says = std::move(says), .mend = std::move(mend)});
}

[[noreturn]] void refuse_unknown(const Garden& garden, Date date, Date from,
                                 const DailyWeather& observed) {
  throw InputError(Finding{
      .kind = Finding::Kind::error,
      .at = garden.weather.observed_at,
      .says = "no weather for " + iso_date(date) + ": no forecast reaches it, and no day before " +
              iso_date(from) + " was observed",
      .mend =
          "plan --from a day after " + iso_date(observed.first_day) + ", or give a forecast file"});
}

}  // namespace

std::string_view to_text(DaySource source) {
  switch (source) {
    case DaySource::observed:
      return "observed";
    case DaySource::forecast:
      return "forecast";
    case DaySource::record:
      return "record";
    case DaySource::recent_mean:
      break;
  }
  return "recent mean";
}

DailyWeather days_of(const DailyWeather& weather, Index first, Index length) {
  DailyWeather part{.first_day = weather.first_day + days{first},
                    .eto_mm = weather.eto_mm.segment(first, length),
                    .rain_mm = weather.rain_mm.segment(first, length),
                    .u2_m_s = weather.u2_m_s.segment(first, length),
                    .rh_min_pct = weather.rh_min_pct.segment(first, length),
                    .estimated = {},
                    .inputs = std::nullopt,
                    .fitted = weather.fitted};
  const auto estimates_of = [first, length](const std::vector<Estimates>& all) {
    return std::vector<Estimates>(all.begin() + first, all.begin() + first + length);
  };
  part.estimated = estimates_of(weather.estimated);
  if (!weather.inputs) return part;
  const EtInputs& all = *weather.inputs;
  part.inputs = EtInputs{.first_day = part.first_day,
                         .t_max_c = all.t_max_c.segment(first, length),
                         .t_min_c = all.t_min_c.segment(first, length),
                         .ea_kpa = all.ea_kpa.segment(first, length),
                         .u2_m_s = all.u2_m_s.segment(first, length),
                         .rs_mj_m2_d = all.rs_mj_m2_d.segment(first, length),
                         .estimated = estimates_of(all.estimated)};
  return part;
}

Index AssumedWeather::rows() const {
  Index rows = 0;
  for (const DailyWeather& stretch : stretches) rows += stretch.days();
  return rows;
}

Lanes AssumedWeather::by_future(const Column& by_row, double of_mean) const {
  Lanes lanes(row.rows(), row.cols());
  for (Index future = 0; future < row.rows(); ++future)
    for (Index day = 0; day < row.cols(); ++day) {
      const Index at = row(future, day);
      lanes(future, day) = at < by_row.size() ? by_row[at] : of_mean;
    }
  return lanes;
}

Lanes AssumedWeather::eto_by_future_mm() const {
  if (row.size() == 0) return eto_mm.transpose();
  const Column by_row = rows_end_to_end(stretches, &DailyWeather::eto_mm);
  return by_future(by_row, recent_mean(*this, by_row));
}

Lanes AssumedWeather::rain_by_future_mm() const {
  if (row.size() == 0) return rain_mm.transpose();
  return by_future(rows_end_to_end(stretches, &DailyWeather::rain_mm), 0.0);
}

Index AssumedWeather::days_estimated(Estimate what) const {
  Index days = 0;
  for (const DailyWeather& stretch : stretches)
    days += std::count_if(stretch.estimated.begin(), stretch.estimated.end(),
                          [what](Estimates day) { return has(day, what); });
  return days;
}

const DailyWeather* AssumedWeather::forecast() const {
  const bool any = std::find(source.begin(), source.end(), DaySource::forecast) != source.end();
  return any ? &stretches.front() : nullptr;
}

AssumedWeather assume_weather(const Garden& garden, const SiteWeather& weather, Date from,
                              int length, std::vector<Finding>& findings) {
  const DailyWeather& observed = weather.observed;
  AssumedWeather assumed{.first_day = from, .eto_mm = {}, .rain_mm = {}, .source = {}};
  const Date last_day = from + days{length - 1};
  FutureRows rows(from, length);
  if (weather.forecast) {
    DailyWeather ahead = part_of(*weather.forecast, from, last_day);
    if (ahead.days() > 0) rows.take_forecast(std::move(ahead));
  }
  const Index last = std::clamp<Index>((from - observed.first_day).count(), 0, observed.days());
  const Date last_known = observed.first_day + days{last - 1};

  DaySource beyond_forecast = DaySource::record;
  if (rows.forecast_from_start() == length) {
    rows.add_future(0);
  } else {
    add_record(rows, weather.record, from, length);
  }
  if (rows.empty()) {
    beyond_forecast = DaySource::recent_mean;
    const Index recent = std::min(last, most_recent_days);
    if (recent == 0)
      refuse_unknown(garden, from + days{rows.forecast_from_start()}, from, observed);
    assumed.recent_first = rows.add(days_of(observed, last - recent, recent));
    assumed.recent_days = recent;
    rows.add_mean_future();
    if (!weather.record.empty())
      remark(findings, Finding::Kind::doubt, *garden.weather.record,
             "no year before " + iso_date(from) + " holds this time of the year",
             "give a record of several whole years");
  }
  for (std::size_t day = 0; day < static_cast<std::size_t>(length); ++day)
    assumed.source.push_back(rows.is_forecast(day) ? DaySource::forecast : beyond_forecast);
  rows.into(assumed);
  take_means(assumed);
  take_days_before(observed, last, assumed);

  if (assumed.recent_days > 0 && assumed.source.front() != DaySource::forecast &&
      last_known + days{1} < from)
    remark(findings, Finding::Kind::doubt, garden.weather.observed,
           "observed weather ends on " + iso_date(last_known) + ", days before the plan starts",
           "add the days since, or a forecast");
  if (weather.forecast && weather.forecast->last_day() < from)
    findings.push_back({.kind = Finding::Kind::doubt,
                        .at = garden.weather.forecast_at,
                        .says = "the forecast is used up: it ends on " +
                                iso_date(weather.forecast->last_day()) +
                                ", and the plan begins on " + iso_date(from),
                        .mend = "put a new one in its place"});
  if (observed.days_without_rain_value > 0)
    remark(findings, Finding::Kind::remark, garden.weather.observed,
           "rain is not known on " + std::to_string(observed.days_without_rain_value) +
               " days and counts as none");
  return assumed;
}

AssumedWeather observed_weather(const SiteWeather& weather, Date first, int length) {
  const DailyWeather& observed = weather.observed;
  const Date last = first + days{length - 1};
  if (!covers(observed, first) || !covers(observed, last))
    throw std::invalid_argument("observed_weather: days that were not observed");
  AssumedWeather assumed{.first_day = first, .eto_mm = {}, .rain_mm = {}, .source = {}};
  assumed.source.assign(static_cast<std::size_t>(length), DaySource::observed);
  FutureRows rows(first, length);
  rows.add(part_of(observed, first, last));
  rows.add_future(0);
  rows.into(assumed);
  take_means(assumed);
  take_days_before(observed, (first - observed.first_day).count(), assumed);
  return assumed;
}

}  // namespace runnel
