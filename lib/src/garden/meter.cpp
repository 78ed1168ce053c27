#include "runnel/garden/meter.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "runnel/units/number.hpp"

namespace runnel {
namespace {

/// On the days from..until; both within `taken`.
double expected_litres(const WaterTaken& taken, std::span<const Delivery> deliveries, Date from,
                       Date until) {
  const auto first = static_cast<Eigen::Index>((from - taken.first_day).count());
  const auto days = static_cast<Eigen::Index>((until - from).count()) + 1;
  const Lanes open_min = taken.valve_min();
  double litres = 0.0;
  for (std::size_t zone = 0; zone < deliveries.size(); ++zone) {
    const auto row = static_cast<Eigen::Index>(zone);
    const Delivery& delivery = deliveries[zone];
    const double valve_min = open_min.row(row).segment(first, days).sum();
    const double by_hand_mm = taken.by_hand_mm.row(row).segment(first, days).sum();
    litres += (delivery.flow * Duration::minutes(valve_min)).litres() +
              (Depth::mm(by_hand_mm) * delivery.area).litres();
  }
  return litres;
}

MeterCheck::Says judge(double expected_l, double counted_l) {
  const double off_l = counted_l - expected_l;
  const bool usual =
      std::abs(off_l) <= meter_tolerance * expected_l || std::abs(off_l) <= meter_tolerance_l;
  if (usual) return MeterCheck::Says::as_expected;
  return off_l > 0.0 ? MeterCheck::Says::leak : MeterCheck::Says::blocked;
}

}  // namespace

std::vector<MeterCheck> check_meter(const WaterLog& log, const WaterTaken& taken,
                                    std::span<const Delivery> deliveries) {
  if (taken.timer_min.rows() != static_cast<Eigen::Index>(deliveries.size()))
    throw std::invalid_argument("check_meter: as many deliveries as zones are needed");
  const Date end = taken.first_day + std::chrono::days(taken.timer_min.cols());
  std::vector<MeterCheck> checks;
  const LogEntry* before = nullptr;
  for (const LogEntry& entry : log.entries) {
    if (entry.what != LogWhat::meter) continue;
    const LogEntry* first = before;
    before = &entry;
    if (first == nullptr) continue;
    const Date from = first->date + std::chrono::days(1);
    const double counted_l =
        (std::get<Volume>(entry.amount) - std::get<Volume>(first->amount)).litres();
    if (from < taken.first_day || entry.date >= end || counted_l < 0.0) continue;
    const double expected_l = expected_litres(taken, deliveries, from, entry.date);
    checks.push_back({.after = first->date,
                      .until = entry.date,
                      .expected_l = expected_l,
                      .counted_l = counted_l,
                      .says = judge(expected_l, counted_l),
                      .at = entry.at});
  }
  return checks;
}

Finding meter_finding(const MeterCheck& check, const Display& display) {
  const auto litres = [&display](double volume_l) {
    return measure(display, Shown::volume, volume_l, 0);
  };
  const bool usual = check.says == MeterCheck::Says::as_expected;
  const double off_l = std::abs(check.counted_l - check.expected_l);
  std::string says = "the meter counted " + litres(check.counted_l) + " from " +
                     short_date(check.after + std::chrono::days(1)) + " to " +
                     short_date(check.until) + ", expected were " + litres(check.expected_l);
  Finding finding{.kind = usual ? Finding::Kind::remark : Finding::Kind::doubt,
                  .at = check.at,
                  .says = {},
                  .mend = {}};
  if (!usual) {
    const bool more = check.says == MeterCheck::Says::leak;
    says += ": " + litres(off_l);
    if (check.expected_l > 0.0) says += " or " + fixed(100.0 * off_l / check.expected_l, 0) + " %";
    says += more ? " more, a leak is likely" : " less, a blocked line is likely";
    finding.mend =
        more
            ? "close every valve and tap and see whether the meter still turns; if so look for "
              "wet ground along the pipes and for a valve that does not shut; else run one zone at "
              "a time, looking for burst or pulled-off fittings; and log what was taken by hand"
            : "clean the filter, see that the tap is fully open, then run one zone at a time: a "
              "valve that stays shut, a kinked hose, blocked emitters; and log what did not run";
  }
  finding.says = std::move(says);
  return finding;
}

}  // namespace runnel
