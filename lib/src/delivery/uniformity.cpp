#include "runnel/delivery/uniformity.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "runnel/demand/table_reader.hpp"

namespace runnel {
namespace {

double mean(std::span<const double> values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

void require_catches(std::span<const double> catches) {
  double most = 0.0;
  for (const double one : catches) {
    if (!(std::isfinite(one) && one >= 0.0)) {
      throw std::invalid_argument("uniformity: every catch must be finite and >= 0");
    }
    most = std::max(most, one);
  }
  if (!(most > 0.0)) throw std::invalid_argument("uniformity: there must be a catch above 0");
}

}  // namespace

std::size_t low_quarter_count(std::size_t n) { return std::max<std::size_t>(1, (n + 2) / 4); }

double low_quarter_uniformity(std::span<const double> catches) {
  require_catches(catches);
  std::vector<double> sorted(catches.begin(), catches.end());
  std::sort(sorted.begin(), sorted.end());
  return mean(std::span(sorted).first(low_quarter_count(sorted.size()))) / mean(sorted);
}

double christiansen_uniformity(std::span<const double> catches) {
  require_catches(catches);
  const double middle = mean(catches);
  double deviation = 0.0;
  for (const double one : catches) deviation += std::abs(one - middle);
  return 1.0 - deviation / static_cast<double>(catches.size()) / middle;
}

double emission_uniformity(const EmissionDesign& design) {
  constexpr double any_variation = 0.5;
  if (!(design.manufacturing_variation >= 0.0 && design.manufacturing_variation <= any_variation)) {
    throw std::invalid_argument("emission_uniformity: Cv must lie between 0 and 0.5");
  }
  if (design.emitters_per_plant < 1) {
    throw std::invalid_argument("emission_uniformity: a plant has at least one emitter");
  }
  if (!(design.least_over_mean > 0.0 && design.least_over_mean <= 1.0)) {
    throw std::invalid_argument("emission_uniformity: q_min / q_mean must lie in (0, 1]");
  }
  return (1.0 - 1.27 * design.manufacturing_variation / std::sqrt(design.emitters_per_plant)) *
         design.least_over_mean;
}

std::vector<UniformityRating> uniformity_ratings(std::string_view csv) {
  TableReader reader(csv, "uniformity_ratings.csv",
                     {"type", "excellent", "very_good", "good", "fair", "poor", "source"});
  std::vector<UniformityRating> ratings;
  while (reader.next()) {
    ratings.push_back({.type = reader.text("type"),
                       .excellent = reader.number("excellent"),
                       .very_good = reader.number_within("very_good", "good", "excellent"),
                       .good = reader.number_within("good", "fair", "very_good"),
                       .fair = reader.number_within("fair", "poor", "good"),
                       .poor = reader.number("poor"),
                       .source = reader.text("source")});
  }
  std::vector<Finding> findings;
  return value_or_throw(finish(reader, std::move(ratings)), findings);
}

std::string_view rating_word(const UniformityRating& rating, double du) {
  // A catch-can figure is good to two places: what prints as 0.75 is not below 0.75.
  constexpr double half_a_digit = 0.005;
  const double shown = du + half_a_digit;
  if (shown >= rating.excellent) return "excellent";
  if (shown >= rating.very_good) return "very good";
  if (shown >= rating.good) return "good";
  if (shown >= rating.fair) return "fair";
  return shown >= rating.poor ? "poor" : "worse than poor";
}

}  // namespace runnel
