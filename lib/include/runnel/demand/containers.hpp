#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// What a pot is filled with.
struct Medium {
  std::string name;
  double easily_available;  ///< share of the medium's volume (10 to 50 cm suction)
  double fill;              ///< share of the pot's volume that is medium
  std::string source;
};
using MediaTable = std::vector<Medium>;
/// Reads data/media.csv; errors as parse_soil_table.
[[nodiscard]] Read<MediaTable> parse_media_table(std::string_view csv, std::string_view name);
/// The table compiled in.
[[nodiscard]] MediaTable media_table();
[[nodiscard]] const Medium* find_medium(const MediaTable& table, std::string_view name);
[[nodiscard]] std::vector<std::string_view> names(const MediaTable& table);

/// Pots, all alike.
struct Containers {
  int count;
  double volume_l;  ///< of one, to the rim
  double mouth_diameter_m;
  double canopy_diameter_m;  ///< across the leaves of one
};
/// A canopy is taken so much wider than its pot's mouth when nothing else is known (our own
/// assumption, shown as such).
inline constexpr double canopy_over_mouth = 1.4;

/// Water of one pot that plants take up without effort, L.
[[nodiscard]] double easily_available_l(const Containers& pots, const Medium& medium);
/// Canopies of all pots, m2: what their water use is counted on.
[[nodiscard]] double canopy_area_m2(const Containers& pots);
/// Easily available water over the canopy, mm.
[[nodiscard]] double easily_available_mm(const Containers& pots, const Medium& medium);
/// Share of the rain on the canopy's area that gets into the pots: it enters by the mouth only. At
/// most 1.
[[nodiscard]] double rain_share(const Containers& pots);

}  // namespace runnel
