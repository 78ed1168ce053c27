#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace runnel {

/// How many of n catches make the low quarter: n / 4 to the nearest whole number, at least 1.
[[nodiscard]] std::size_t low_quarter_count(std::size_t n);

/// Low-quarter distribution uniformity, 0-1: mean of the lowest quarter over the mean of all. US
/// EPA WaterSense, Guidelines for Irrigation Audits on New Homes. Of emitter flows instead of
/// catches it is the emission uniformity found in the field (Keller & Karmeli 1974).
/// @param catches volumes or depths of equal cans, or flows of emitters.
/// @throws std::invalid_argument unless there is one, all are finite and >= 0, and one is > 0.
[[nodiscard]] double low_quarter_uniformity(std::span<const double> catches);

/// Christiansen's coefficient, as a share: 1 - mean deviation from the mean / mean. Christiansen
/// 1942 (from memory).
/// @throws std::invalid_argument as low_quarter_uniformity.
[[nodiscard]] double christiansen_uniformity(std::span<const double> catches);

/// Emission uniformity expected of a drip design, 0-1: (1 - 1.27 Cv / sqrt(n)) q_min / q_mean.
/// Keller & Karmeli 1974, Trans. ASAE 17 (from memory).
struct EmissionDesign {
  double manufacturing_variation;  ///< Cv, 0 to 0.5
  int emitters_per_plant;          ///< n, >= 1
  double least_over_mean;          ///< q_min / q_mean by pressure alone, > 0 to 1
};
/// @throws std::invalid_argument when a figure lies outside its limits.
[[nodiscard]] double emission_uniformity(const EmissionDesign& design);

/// From which uniformity on a kind of sprinkler earns a word.
struct UniformityRating {
  std::string type;  ///< "spray", "rotor", "impact"
  double excellent, very_good, good, fair, poor;
  std::string source;
};

/// From the CSV text of data/uniformity_ratings.csv.
/// @throws InputError when the table cannot be used, with every finding.
[[nodiscard]] std::vector<UniformityRating> uniformity_ratings(std::string_view csv);

/// "excellent", "very good", "good", "fair", "poor", or "worse than poor".
[[nodiscard]] std::string_view rating_word(const UniformityRating& rating, double du);

}  // namespace runnel
