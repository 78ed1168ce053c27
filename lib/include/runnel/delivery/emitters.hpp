#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "runnel/units/finding.hpp"
#include "runnel/units/quantity.hpp"

namespace runnel {

/// Single drippers, wherever they stand.
struct Drippers {
  Flow each;
  int count;
};
/// Lines of emitters at equal spacing, laid in rows over the whole bed.
struct Dripline {
  Flow each;
  double spacing_m;
  double row_spacing_m;
};
/// A hose that lets water out along its whole length.
struct SoakerHose {
  Flow per_metre;
  double length_m;
};
/// Sprays or rotors of one nozzle and one arc.
struct Head {
  double arc_deg;  ///< > 0 to 360
  Flow each;
  int count;
  std::optional<double> radius_m;  ///< of throw
};
/// All heads of a zone, of one arc or several.
struct Heads {
  std::vector<Head> heads;
};
/// Read off a water meter while the valve was open.
struct MeasuredFlow {
  Flow total;
};
/// A catch-can test's mean: already net of evaporation and drift.
struct MeasuredRate {
  Rate rate;
};
/// How a zone is watered, and what is known of its flow.
using EmitterSpec = std::variant<Drippers, Dripline, SoakerHose, Heads, MeasuredFlow, MeasuredRate>;

/// Flow of the whole zone. A dripline's follows from its rate: flow of one emitter over the ground
/// it stands for.
/// @throws std::invalid_argument unless every figure of the spec, and the area, is finite and > 0,
/// and there is a head where heads are meant.
[[nodiscard]] Flow zone_flow(const EmitterSpec& spec, Area area);

/// Whether the spec states what one emitter gives, which pressure changes; the measured ones hold
/// at the pressure there was.
[[nodiscard]] bool is_rated(const EmitterSpec& spec);

/// What is usual for one way of bringing water; figures of data/emitters.csv.
struct EmitterType {
  std::string name;
  bool drip;  ///< wets the ground only where it stands: no drops that seal the surface
  double du;  ///< typical low-quarter distribution uniformity, 0-1
  double du_low, du_high;
  double rate_low_mm_h, rate_high_mm_h;  ///< usual application rates
  double fw, fw_low, fw_high;            ///< share of the ground whose surface a watering wets, for
                                         ///< evaporation (FAO-56 Table 20), above 0
  std::string source;
};

/// From the CSV text of the table.
/// @throws InputError when the table cannot be used, with every finding.
[[nodiscard]] std::vector<EmitterType> emitter_types(std::string_view csv);

/// By name, without regard to case; nullptr when there is none.
[[nodiscard]] const EmitterType* find_emitter_type(std::span<const EmitterType> types,
                                                   std::string_view name);

}  // namespace runnel
