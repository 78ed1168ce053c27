#include "sheet/dryness_section.hpp"

#include <algorithm>
#include <optional>

#include "sheet/html.hpp"
#include "sheet/svg.hpp"

namespace runnel::cli::sheet {
namespace {

constexpr double limit_share = 0.8;  // of the bar's width; what is beyond stands behind
constexpr double height_px = 14.0;

/// Where a depletion stands on the bar, 0 to 1.
double place(double depletion_mm, double limit_mm) {
  return limit_mm > 0.0 ? std::clamp(limit_share * depletion_mm / limit_mm, 0.0, 1.0) : 1.0;
}

std::string bar(const ZonePlan& zone, const std::optional<double>& expected_mm, std::size_t z) {
  const double now = place(zone.start_depletion_mm, zone.limit_mm);
  std::string text =
      svg_begin("dry-" + std::to_string(z), height_px, "How dry " + zone.name + " is",
                "Filled as far as it is dry now; a stroke where that was expected; a dashed line "
                "at the limit. The figures stand beside it.") +
      rect("spare", 0.0, 1.0, limit_share, height_px - 2.0) +
      rect("run", 0.0, 3.0, std::min(now, limit_share), height_px - 6.0);
  if (now > limit_share) text += rect("dry", limit_share, 1.0, now - limit_share, height_px - 2.0);
  text += vertical("limit", limit_share, 0.0, height_px);
  if (expected_mm) text += vertical("expected", place(*expected_mm, zone.limit_mm), 0.0, height_px);
  return text + "</svg>\n";
}

std::string zone_row(const Display& display, const Replan& again, std::size_t z) {
  const ZonePlan& zone = again.planned.plan.zones[z];
  const std::optional<double>& expected_mm = again.expected_mm[z];
  const auto at = [z](std::string_view key) { return pointer("looked_at", z, key); };
  const auto depth = [&](std::string_view key, double depth_mm) {
    return figure(display, Shown::depth, at(key), depth_mm, 1);
  };
  return "<tr><th scope=\"row\"><span class=\"lid small\">" + figure(at("valve"), zone.valve, 0) +
         "</span> " + own_words(zone.name) + "</th><td class=\"bar\">" + bar(zone, expected_mm, z) +
         "</td><td>" + depth("depletion_mm", zone.start_depletion_mm) + "</td><td>" +
         (expected_mm ? depth("expected_mm", *expected_mm) : "-") + "</td><td>" +
         depth("limit_mm", zone.limit_mm) + "</td></tr>\n";
}

}  // namespace

std::string dryness_content(const Display& display, const Replan& again) {
  std::string rows;
  for (std::size_t z = 0; z < again.planned.plan.zones.size(); ++z)
    rows += zone_row(display, again, z);
  return "<table class=\"figures dryness\">\n<caption>" + depth_name(display) +
         " missing to a full root zone on the morning of " + day(again.planned.plan.from) +
         "; the stroke is what was expected, the dashed line the limit</caption>\n<thead>\n<tr><th "
         "scope=\"col\">Zone</th><td class=\"bar\"></td><th scope=\"col\">Now</th><th "
         "scope=\"col\">Expected</th><th scope=\"col\">Limit</th></tr>\n</thead>\n<tbody>\n" +
         rows + "</tbody>\n</table>\n";
}

}  // namespace runnel::cli::sheet
