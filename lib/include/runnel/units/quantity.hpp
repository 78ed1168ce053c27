#pragma once

#include <compare>

namespace runnel {

/// Base of the few quantities whose units really meet, per zone and valve. Inside columns and
/// formulas plain doubles with the unit in their name are used instead. `Self` adds named factories
/// and accessors, so that no bare number becomes a quantity.
template <class Self>
class Quantity {
 public:
  friend constexpr auto operator<=>(Quantity, Quantity) = default;
  /// The sum.
  friend constexpr Self operator+(Self a, Self b) { return make(a.value_ + b.value_); }
  /// The difference, which may be below 0.
  friend constexpr Self operator-(Self a, Self b) { return make(a.value_ - b.value_); }
  /// k times as much.
  friend constexpr Self operator*(Self a, double k) { return make(a.value_ * k); }
  /// k times as much.
  friend constexpr Self operator*(double k, Self a) { return make(k * a.value_); }
  /// One k-th of it.
  friend constexpr Self operator/(Self a, double k) { return make(a.value_ / k); }
  /// How many times b goes into a.
  friend constexpr double operator/(Self a, Self b) { return a.value_ / b.value_; }

 protected:
  /// From a value in the one unit that `Self` keeps.
  static constexpr Self make(double value) {
    Self self;
    self.value_ = value;
    return self;
  }
  double value_ = 0.0;
};

/// A depth of water over an area; 1 mm over 1 m² is 1 L.
class Depth : public Quantity<Depth> {
 public:
  /// From millimetres.
  [[nodiscard]] static constexpr Depth mm(double depth_mm) { return make(depth_mm); }
  /// In millimetres.
  [[nodiscard]] constexpr double mm() const { return value_; }
};

/// An area of ground, of canopies or of a can's mouth.
class Area : public Quantity<Area> {
 public:
  /// From square metres.
  [[nodiscard]] static constexpr Area m2(double area_m2) { return make(area_m2); }
  /// In square metres.
  [[nodiscard]] constexpr double m2() const { return value_; }
};

/// A volume of water.
class Volume : public Quantity<Volume> {
 public:
  /// From litres.
  [[nodiscard]] static constexpr Volume litres(double volume_l) { return make(volume_l); }
  /// In litres.
  [[nodiscard]] constexpr double litres() const { return value_; }
};

/// How long water runs: fractions of a minute too, unlike what a timer takes.
class Duration : public Quantity<Duration> {
 public:
  /// From minutes.
  [[nodiscard]] static constexpr Duration minutes(double duration_min) {
    return make(duration_min);
  }
  /// In minutes.
  [[nodiscard]] constexpr double minutes() const { return value_; }
};

/// Volume per time.
class Flow : public Quantity<Flow> {
 public:
  /// From litres an hour.
  [[nodiscard]] static constexpr Flow litres_per_hour(double flow_l_h) { return make(flow_l_h); }
  /// In litres an hour.
  [[nodiscard]] constexpr double litres_per_hour() const { return value_; }
};

/// Depth per time: application rate, intake rate.
class Rate : public Quantity<Rate> {
 public:
  /// From millimetres an hour.
  [[nodiscard]] static constexpr Rate mm_per_hour(double rate_mm_h) { return make(rate_mm_h); }
  /// In millimetres an hour.
  [[nodiscard]] constexpr double mm_per_hour() const { return value_; }
};

// The combinations that mean something; anything else does not compile.
/// Water of that depth over that area.
[[nodiscard]] constexpr Volume operator*(Depth d, Area a) {
  return Volume::litres(d.mm() * a.m2());
}
/// The volume spread over the area.
[[nodiscard]] constexpr Depth operator/(Volume v, Area a) { return Depth::mm(v.litres() / a.m2()); }
/// The flow spread over the area.
[[nodiscard]] constexpr Rate operator/(Flow q, Area a) {
  return Rate::mm_per_hour(q.litres_per_hour() / a.m2());
}
/// The flow that brings that rate to the area.
[[nodiscard]] constexpr Flow operator*(Rate r, Area a) {
  return Flow::litres_per_hour(r.mm_per_hour() * a.m2());
}
/// How long the rate takes to bring the depth.
[[nodiscard]] constexpr Duration operator/(Depth d, Rate r) {
  return Duration::minutes(60.0 * d.mm() / r.mm_per_hour());
}
/// How long the flow takes to bring the volume.
[[nodiscard]] constexpr Duration operator/(Volume v, Flow q) {
  return Duration::minutes(60.0 * v.litres() / q.litres_per_hour());
}
/// What the rate brings in that time.
[[nodiscard]] constexpr Depth operator*(Rate r, Duration t) {
  return Depth::mm(r.mm_per_hour() * t.minutes() / 60.0);
}
/// What the flow brings in that time.
[[nodiscard]] constexpr Volume operator*(Flow q, Duration t) {
  return Volume::litres(q.litres_per_hour() * t.minutes() / 60.0);
}

}  // namespace runnel
