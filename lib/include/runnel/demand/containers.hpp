#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// What a pot is filled with: shares of the medium's volume by suction.
struct Medium {
  std::string name;
  double pore_space;                                               ///< full of water: no suction
  double air;                                                      ///< without water at 10 cm
  double easily_available;                                         ///< given up from 10 to 50 cm
  double easily_available_low = 0.0, easily_available_high = 0.0;  ///< the published range
  double buffer;                                                   ///< given up from 50 to 100 cm
  double fill;  ///< share of the pot's height, and so of its volume, that is medium
  std::string source;
};
/// The rows of data/media.csv.
using MediaTable = std::vector<Medium>;
/// Reads data/media.csv; errors as parse_soil_table.
[[nodiscard]] Read<MediaTable> parse_media_table(std::string_view csv, std::string_view name);
/// The table compiled in.
[[nodiscard]] MediaTable media_table();
/// By name, without regard to case; nullptr when there is none.
[[nodiscard]] const Medium* find_medium(const MediaTable& table, std::string_view name);
/// In the table's order.
[[nodiscard]] std::vector<std::string_view> names(const MediaTable& table);

/// How pots stand, which changes their use of water: apart from the exposure of the place.
struct PotPlace {
  std::string name;          ///< "on paving"
  double factor, low, high;  ///< on the use; taken, and published range
  std::string source;
};
/// The rows of data/pot_places.csv.
using PotPlaceTable = std::vector<PotPlace>;
/// Reads data/pot_places.csv; errors as parse_soil_table.
[[nodiscard]] Read<PotPlaceTable> parse_pot_place_table(std::string_view csv,
                                                        std::string_view name);
/// The table compiled in.
[[nodiscard]] PotPlaceTable pot_place_table();
/// By name, without regard to case; nullptr when there is none.
[[nodiscard]] const PotPlace* find_pot_place(const PotPlaceTable& table, std::string_view name);
/// In the table's order.
[[nodiscard]] std::vector<std::string_view> names(const PotPlaceTable& table);

/// Pots, all alike.
struct Containers {
  int count;
  double volume_l;  ///< of one, to the rim
  double mouth_diameter_m;
  double height_m;
  double canopy_diameter_m;  ///< across the leaves of one
};
/// A canopy is taken so much wider than its pot's mouth when nothing else is known (our own
/// assumption, shown as such).
inline constexpr double canopy_over_mouth = 1.4;
/// Bottom over mouth diameter of a pot whose height is not known: between a flower pot (0.75) and a
/// straight tub (common practice, no source).
inline constexpr double usual_taper = 0.85;

/// A round pot's bottom over mouth diameter, from pi h d2 (1 + r + r2) / 12; NaN when even a cone
/// holds more.
[[nodiscard]] double taper(double volume_l, double mouth_diameter_m, double height_m);
/// Height of a pot of that taper, m.
[[nodiscard]] double pot_height_m(double volume_l, double mouth_diameter_m,
                                  double taper = usual_taper);

/// Water that the medium keeps at a suction, share of its volume. Piecewise linear through the
/// suctions at which media are measured: 0, 10, 50 and 100 cm (De Boodt & Verdonck 1972); beyond
/// 100 cm as there.
[[nodiscard]] double water_share(const Medium& medium, double suction_cm);

/// A pot watered until it runs out below, once it has drained. Water at a height z above the bottom
/// is then under the suction z, and the bottom is full (Milks, Fonteno & Larson 1989: equilibrium),
/// so that a taller pot keeps more air and less water in the same medium. Shares of the medium's
/// volume.
struct DrainedPot {
  double medium_l;
  double water, air;
  double easily_available;  ///< water down to 50 cm suction everywhere
};
/// One of the pots, filled with the medium, drained.
[[nodiscard]] DrainedPot drained_pot(const Containers& pots, const Medium& medium);

/// Water of one pot that plants take up without effort, L. @param easily_available share of the
/// medium's volume.
[[nodiscard]] double easily_available_l(const Containers& pots, double fill,
                                        double easily_available);
/// Canopies of all pots, m2: what their water use is counted on.
[[nodiscard]] double canopy_area_m2(const Containers& pots);
/// Litres of one pot over its canopy, mm.
[[nodiscard]] double over_canopy_mm(const Containers& pots, double litres);
/// Share of the rain on the canopy's area that gets into the pots: it enters by the mouth only. At
/// most 1.
[[nodiscard]] double rain_share(const Containers& pots);

}  // namespace runnel
