#include <string>
#include <string_view>
#include <vector>

#include "read_garden_parts.hpp"

namespace runnel {
namespace {

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_coefficient{.least = 0.01, .most = 2.0};
constexpr int longest_stage_days = 400;

}  // namespace

std::optional<StageLengths> read_stage_lengths(const YamlField& field) {
  if (!field.written()) return std::nullopt;
  std::vector<int> lengths;
  const std::vector<YamlField> items = field.list();
  for (const YamlField& item : items) {
    const auto length = item.whole_number(0, longest_stage_days);
    if (length) lengths.push_back(*length);
  }
  if (field.is_list() && items.size() != 4)
    field.error("a crop has four stages, not " + std::to_string(items.size()),
                "write their days, stages: [30, 40, 40, 25]");
  if (lengths.size() != 4) return std::nullopt;
  const StageLengths all{
      .ini = lengths[0], .dev = lengths[1], .mid = lengths[2], .late = lengths[3]};
  constexpr int longest_season = 400;  // FAO-56 Table 11's longest: 390 days
  if (all.total() < 1 || all.total() > longest_season)
    field.error("the stages make " + std::to_string(all.total()) + " days",
                "a season lasts 1 to " + std::to_string(longest_season) + " days");
  return all;
}

std::optional<StageValues> read_stage_coefficients(const YamlField& field) {
  if (!field.written()) return std::nullopt;
  YamlMap map = field.map();
  const auto value = [&](std::string_view key, std::string_view example) {
    return map.field(key).needed(example).number(any_coefficient).value_or(1.0);
  };
  const StageValues values{.ini = value("initial", "initial: 0.5"),
                           .mid = value("middle", "middle: 1.05"),
                           .end = value("end", "end: 0.8")};
  map.refuse_others();
  return values;
}

}  // namespace runnel
