#include "runnel/delivery/heads.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace runnel {
namespace {

constexpr double full_circle_deg = 360.0;

bool radii_known(std::span<const Head> heads) {
  return std::all_of(heads.begin(), heads.end(), [](const Head& head) {
    return head.radius_m && std::isfinite(*head.radius_m) && *head.radius_m > 0.0;
  });
}

Flow full_circle_flow(const Head& head) {
  if (!(head.arc_deg > 0.0 && head.arc_deg <= full_circle_deg)) {
    throw std::invalid_argument("heads: the arc must lie in (0, 360] degrees");
  }
  const double each_l_h = head.each.litres_per_hour();
  if (!(std::isfinite(each_l_h) && each_l_h > 0.0)) {
    throw std::invalid_argument("heads: the flow must be > 0");
  }
  return head.each * (full_circle_deg / head.arc_deg);
}

}  // namespace

Rate head_rate(const Head& head, const HeadSpacing& spacing) {
  const double ground_m2 = spacing.along_row_m * spacing.between_rows_m;
  if (!(spacing.along_row_m > 0.0 && spacing.between_rows_m > 0.0 && std::isfinite(ground_m2))) {
    throw std::invalid_argument("head_rate: the spacing must be > 0");
  }
  return full_circle_flow(head) / Area::m2(ground_m2);
}

RateSpread rate_spread(std::span<const Head> heads) {
  if (heads.empty()) throw std::invalid_argument("rate_spread: there must be a head");
  const bool by_radius = radii_known(heads);
  const auto square = [by_radius](const Head& head) {
    return by_radius ? *head.radius_m * *head.radius_m : 1.0;
  };
  const auto rate = [&](const Head& head) {
    return full_circle_flow(head).litres_per_hour() / square(head);
  };
  const Head* lowest = &heads.front();
  const Head* highest = &heads.front();
  double flow = 0.0;
  double ground = 0.0;
  for (const Head& head : heads) {
    if (rate(head) < rate(*lowest)) lowest = &head;
    if (rate(head) > rate(*highest)) highest = &head;
    flow += head.count * head.each.litres_per_hour();
    ground += head.count * head.arc_deg / full_circle_deg * square(head);
  }
  return {.lowest_arc_deg = lowest->arc_deg,
          .highest_arc_deg = highest->arc_deg,
          .lowest = rate(*lowest) * ground / flow,
          .highest = rate(*highest) * ground / flow};
}

std::optional<Area> reached(std::span<const Head> heads) {
  if (!radii_known(heads)) return std::nullopt;
  double area_m2 = 0.0;
  for (const Head& head : heads) {
    area_m2 += head.count * head.arc_deg / full_circle_deg * std::numbers::pi * *head.radius_m *
               *head.radius_m;
  }
  return Area::m2(area_m2);
}

}  // namespace runnel
