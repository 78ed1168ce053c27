#include "runnel/demand/skyline.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "runnel/sky/sun.hpp"

namespace runnel {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double degrees = pi / 180.0;
constexpr int directions = static_cast<int>(Skyline::directions);

std::size_t direction(double azimuth_rad) {
  const int whole = static_cast<int>(std::floor(azimuth_rad / degrees));
  return static_cast<std::size_t>((whole % directions + directions) % directions);
}

double middle_rad(std::size_t direction) {
  return (static_cast<double>(direction) + 0.5) * degrees;
}

/// What was seen of the sun in one direction.
struct Sightings {
  int seen = 0, hidden = 0;
  double lowest_seen_rad = std::numeric_limits<double>::infinity();
  double highest_hidden_rad = 0.0;

  void add(double height_rad, bool is_seen) {
    if (is_seen) {
      ++seen;
      lowest_seen_rad = std::min(lowest_seen_rad, height_rad);
    } else {
      ++hidden;
      highest_hidden_rad = std::max(highest_hidden_rad, height_rad);
    }
  }
  [[nodiscard]] bool any() const { return seen + hidden > 0; }
  [[nodiscard]] double height_rad() const {
    const double reach_rad = std::min(highest_hidden_rad + skyline_margin_deg * degrees, pi / 2.0);
    if (hidden == 0) return 0.0;
    if (highest_hidden_rad <= lowest_seen_rad) return std::min(reach_rad, lowest_seen_rad);
    return hidden > seen ? reach_rad : 0.0;
  }
};
using AllSightings = std::array<Sightings, Skyline::directions>;

/// Degrees. Where the sun leaps further than this in a minute it passes overhead, and stands in
/// none of the directions between.
constexpr int longest_leap = 45;

/// A minute in which the sun went from one place to another: it stood as high as the higher of the
/// two where it was hidden, as low as the lower where it was seen.
void add_minute(AllSightings& all, const SunPosition& from, const SunPosition& to, bool seen) {
  const double height_rad = seen ? std::min(from.elevation_rad, to.elevation_rad)
                                 : std::max(from.elevation_rad, to.elevation_rad);
  const int first = static_cast<int>(direction(from.azimuth_rad));
  const int last = static_cast<int>(direction(to.azimuth_rad));
  const int turn = (last - first + 3 * directions / 2) % directions - directions / 2;
  if (std::abs(turn) > longest_leap) return;
  const int way = turn < 0 ? -1 : 1;
  for (int i = 0; i <= std::abs(turn); ++i)
    all[static_cast<std::size_t>((first + way * i + directions) % directions)].add(height_rad,
                                                                                   seen);
}

void add_day(AllSightings& all, double latitude_rad, const SunObservation& day) {
  const double sunset_rad = sunset_hour_angle_at_rad(latitude_rad, day.declination_rad);
  constexpr double minute_rad = pi / 720.0;
  const int minutes = static_cast<int>(std::ceil(2.0 * sunset_rad / minute_rad));
  const double step_rad = 2.0 * sunset_rad / std::max(1, minutes);
  const auto sun_at = [&](double angle_rad) {
    return sun_position(latitude_rad, day.declination_rad, angle_rad);
  };
  for (int i = 0; i < minutes; ++i) {
    const SunHours minute{.from_rad = -sunset_rad + i * step_rad,
                          .to_rad = -sunset_rad + (i + 1) * step_rad};
    add_minute(all, sun_at(minute.from_rad), sun_at(minute.to_rad),
               share_within(minute, day.seen) >= 0.5);
  }
}

}  // namespace

double Skyline::height_at_rad(double azimuth_rad) const {
  return height_rad[direction(azimuth_rad)];
}

void add_obstruction(Skyline& skyline, const Obstruction& obstruction) {
  const double from_rad = obstruction.from_deg * degrees;
  const double turn_deg = obstruction.to_deg - obstruction.from_deg;
  const double width_rad = (turn_deg < 0.0 ? turn_deg + 360.0 : turn_deg) * degrees;
  for (std::size_t i = 0; i < Skyline::directions; ++i) {
    double in_rad = middle_rad(i) - from_rad;
    if (in_rad < 0.0) in_rad += 2.0 * pi;
    if (in_rad > width_rad) continue;
    double height_rad = obstruction.height_deg * degrees;
    if (obstruction.wall)
      height_rad = std::atan(std::tan(height_rad) * std::cos(in_rad - 0.5 * width_rad));
    skyline.height_rad[i] = std::max(skyline.height_rad[i], height_rad);
  }
}

double share_within(const SunHours& stretch, const std::vector<SunHours>& hours) {
  double within_rad = 0.0;
  for (const SunHours& one : hours) {
    for (const double day : {-2.0 * pi, 0.0, 2.0 * pi}) {
      const double from_rad = std::max(stretch.from_rad, one.from_rad + day);
      const double to_rad = std::min(stretch.to_rad, one.to_rad + day);
      within_rad += std::max(0.0, to_rad - from_rad);
    }
  }
  return std::clamp(within_rad / (stretch.to_rad - stretch.from_rad), 0.0, 1.0);
}

Skyline lowest_skyline(double latitude_rad, const std::vector<SunObservation>& observations) {
  AllSightings all;
  for (const SunObservation& day : observations) add_day(all, latitude_rad, day);
  Skyline skyline;
  double sum_rad = 0.0;
  int known = 0;
  for (std::size_t i = 0; i < Skyline::directions; ++i) {
    if (!all[i].any()) continue;
    skyline.height_rad[i] = all[i].height_rad();
    sum_rad += skyline.height_rad[i];
    ++known;
  }
  if (known == 0) return skyline;
  for (std::size_t i = 0; i < Skyline::directions; ++i) {
    if (!all[i].any()) skyline.height_rad[i] = sum_rad / known;
  }
  return skyline;
}

double sky_view(const Skyline& skyline, double slope_rad, double facing_rad) {
  const double level = std::cos(slope_rad);
  const double tilt = std::sin(slope_rad);
  double sum = 0.0;
  for (std::size_t i = 0; i < Skyline::directions; ++i) {
    // Per direction the integral over height, above the skyline and the bed's own plane, of
    // (level sin e + towards cos e) cos e, twice.
    const double towards = tilt * std::cos(middle_rad(i) - facing_rad);
    const double own_rad = std::max(0.0, std::atan2(-towards, level));
    const double low_rad = std::max(skyline.height_rad[i], own_rad);
    const double cos_low = std::cos(low_rad);
    sum += level * cos_low * cos_low + towards * (pi / 2.0 - low_rad - std::sin(low_rad) * cos_low);
  }
  return std::clamp(sum / static_cast<double>(Skyline::directions), 0.0, 1.0);
}

}  // namespace runnel
