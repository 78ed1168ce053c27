#include "audit_report.hpp"

#include <algorithm>
#include <numeric>

#include "can_map.hpp"
#include "json_writer.hpp"
#include "runnel/delivery/delivery.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

/// For each can whether it is one of the driest quarter; of equal ones the earlier.
std::vector<bool> driest_quarter(const Audit& audit) {
  const std::vector<CatchCan>& cans = audit.test.cans;
  std::vector<std::size_t> order(cans.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return cans[a].depth_mm < cans[b].depth_mm;
  });
  std::vector<bool> low(cans.size(), false);
  for (std::size_t i = 0; i < audit.result.low_cans; ++i) low[order[i]] = true;
  return low;
}

double multiplier(const Audit& audit) { return run_time_multiplier(audit.result.du); }

std::string rate_text(const Display& display, Rate rate) {
  return measure(display, Shown::rate, rate.mm_per_hour(), rate.mm_per_hour() < 10.0 ? 2 : 1);
}

std::string figure(const std::string& what, const std::string& value, const std::string& how) {
  static const TextTable table({{"", 20}, {"", 10, true}, {"", 44}});
  return "  " + table.row({what, value, how});
}

std::string figures(const Audit& audit, const Display& display) {
  const CatchCanResult& result = audit.result;
  return figure("Application rate", rate_text(display, result.rate),
                measure(display, Shown::depth, result.mean_mm, 2) +
                    " on average, net of evaporation and drift") +
         figure("Uniformity DU", fixed(result.du, 2),
                "driest " + std::to_string(result.low_cans) + " of " + std::to_string(result.cans) +
                    " cans, " + measure(display, Shown::depth, result.low_quarter_mm, 2) +
                    ", over the mean") +
         figure("Christiansen's CU", fixed(result.cu, 2), "1 - mean deviation / mean") +
         (result.du > 0.0
              ? figure("Run-time multiplier", fixed(multiplier(audit), 3), "1 / (0.4 + 0.6 DU)")
              : "");
}

std::string rating_sentence(const Audit& audit) {
  const double du = audit.result.du;
  if (!audit.rating)
    return "Usual for " + audit.type.name + " are " + fixed(audit.type.du_low, 2) + " to " +
           fixed(audit.type.du_high, 2) + ".";
  const UniformityRating& rating = *audit.rating;
  return "Of a " + rating.type + " zone this is " + std::string(rating_word(rating, du)) +
         " (excellent from " + fixed(rating.excellent, 2) + ", very good " +
         fixed(rating.very_good, 2) + ", good " + fixed(rating.good, 2) + ", fair " +
         fixed(rating.fair, 2) + ", poor " + fixed(rating.poor, 2) + "). " + rating.source + ".";
}

bool needs_work(const Audit& audit) {
  const double good = audit.rating ? audit.rating->good : audit.type.du_low;
  return audit.result.du < good;
}

/// "10 mm on average take 35 minutes."
std::string time_for_a_watering(const Audit& audit, const Display& display) {
  const bool us = display.units == UnitSystem::us;
  const double mm = (us ? 0.5 : 10.0) / converted(display, Shown::depth, 1.0);
  return std::string(us ? "Half an inch on average takes " : "10 mm on average take ") +
         fixed((Depth::mm(mm) / audit.result.rate).minutes(), 0) + " minutes.";
}

std::string meaning(const Audit& audit, const Display& display) {
  const CatchCanResult& result = audit.result;
  std::string text =
      paragraph("  ", "The driest quarter of the zone gets " + fixed(100.0 * result.du, 0) +
                          " % of what it gets on average. " + rating_sentence(audit));
  const auto& cans = audit.test.cans;
  const auto driest = std::min_element(
      cans.begin(), cans.end(),
      [](const CatchCan& a, const CatchCan& b) { return a.depth_mm < b.depth_mm; });
  text +=
      paragraph("  ", "The driest can, " + printable(driest->name) + ", caught " +
                          fixed(100.0 * driest->depth_mm / result.mean_mm, 0) + " % of the mean.");
  if (result.du > 0.0)
    text += paragraph("  ", "So that its drier half gets enough, the zone must run " +
                                fixed(multiplier(audit), 2) + " times as long as an even one.");
  if (!garden_line(audit).empty()) text += paragraph("  ", time_for_a_watering(audit, display));
  if (needs_work(audit))
    text += paragraph(
        "  ",
        "Mend before you water longer: heads upright, turning and clear of plants, like nozzles "
        "in one zone, no leak, and the pressure the heads are made for. Then test again. Shut "
        "off and bleed a line before opening it.");
  return text;
}

std::string map_of(const Audit& audit) {
  const std::vector<bool> low = driest_quarter(audit);
  std::vector<MapLabel> labels;
  for (std::size_t i = 0; i < audit.test.cans.size(); ++i) {
    const CatchCan& can = audit.test.cans[i];
    const std::string share = fixed(100.0 * can.depth_mm / audit.result.mean_mm, 0);
    labels.push_back(
        {.x_m = *can.x_m, .y_m = *can.y_m, .text = low[i] ? "[" + share + "]" : " " + share + " "});
  }
  return can_map(labels, sheet_width);
}

void write_cans(JsonWriter& json, const Audit& audit) {
  const std::vector<bool> low = driest_quarter(audit);
  json.begin_array("by_can");
  for (std::size_t i = 0; i < audit.test.cans.size(); ++i) {
    const CatchCan& can = audit.test.cans[i];
    json.begin_object();
    json.value("can", can.name);
    if (can.x_m) json.value("x_m", *can.x_m);
    if (can.y_m) json.value("y_m", *can.y_m);
    json.value("depth_mm", can.depth_mm);
    json.value("share_of_mean", can.depth_mm / audit.result.mean_mm);
    json.value("driest_quarter", static_cast<bool>(low[i]));
    json.end();
  }
  json.end();
}

}  // namespace

std::string garden_line(const Audit& audit, const Display& display) {
  // What the garden file takes; it rounds no less than the test is good for.
  constexpr double least_uniformity = 0.1;
  constexpr double least_rate_mm_h = 0.1;
  constexpr double most_rate_mm_h = 1000.0;
  const double rate_mm_h = audit.result.rate.mm_per_hour();
  if (audit.result.du < least_uniformity || rate_mm_h < least_rate_mm_h ||
      rate_mm_h > most_rate_mm_h)
    return {};
  return "emitters: {type: " + audit.type.name +
         ", rate: " + rate_text(display, audit.result.rate) +
         ", uniformity: " + fixed(audit.result.du, 2) + "}";
}

std::string audit_text(const Audit& audit, const Display& display) {
  std::string text = "Catch-can test " + printable(audit.file) + ", valve open " +
                     shortest(audit.test.run.minutes()) + " min\n\n" + figures(audit, display) +
                     "\nWHAT IT MEANS\n" + meaning(audit, display);
  if (audit.test.has_positions())
    text += "\nWHERE IT FELL (% of the mean; the driest quarter in brackets)\n" + map_of(audit);
  const std::string line = garden_line(audit, display);
  text += "\nINTO THE GARDEN FILE, in place of the zone's emitters\n";
  text += line.empty()
              ? paragraph("  ", "Nothing: such a test says that the zone needs mending first.")
              : "    " + line + "\n";
  // Wind: Irrigation Association, Recommended Audit Guidelines, 2009. Cans and minutes: University
  // of Minnesota Extension; of sprays common practice, no source.
  const bool us = display.units == UnitSystem::us;
  text +=
      "\nA TEST TO RELY ON\n" +
      paragraph("  ", "At least 20 cans in a zone, " +
                          std::string(us ? "5 to 8 ft apart for sprays, 10 to 20 ft for rotors"
                                         : "1.5 to 2.5 m apart for sprays, 3 to 6 m for rotors") +
                          "; 30 to 60 minutes, sprays 10 to 15 before it runs off; wind below " +
                          (us ? "5 mph" : "8 km/h") +
                          " (Irrigation Association; University of Minnesota Extension).");
  return text;
}

std::string audit_csv(const Audit& audit) {
  const std::vector<bool> low = driest_quarter(audit);
  std::string text = "can,depth_mm,share_of_mean,driest_quarter\n";
  for (std::size_t i = 0; i < audit.test.cans.size(); ++i) {
    const CatchCan& can = audit.test.cans[i];
    text += csv_cell(can.name) + "," + shortest(can.depth_mm) + "," +
            shortest(can.depth_mm / audit.result.mean_mm) + "," + (low[i] ? "yes" : "no") + "\n";
  }
  return text;
}

std::string audit_json(const Audit& audit) {
  const CatchCanResult& result = audit.result;
  JsonWriter json;
  json.begin_object();
  json.value("file", audit.file);
  json.value("type", audit.type.name);
  json.value("cans", static_cast<int>(result.cans));
  json.value("cans_in_driest_quarter", static_cast<int>(result.low_cans));
  json.value("run_min", audit.test.run.minutes());
  json.value("mean_mm", result.mean_mm);
  json.value("driest_quarter_mm", result.low_quarter_mm);
  json.value("rate_mm_h", result.rate.mm_per_hour());
  json.value("uniformity", result.du);
  json.value("christiansen", result.cu);
  if (result.du > 0.0) json.value("run_time_multiplier", multiplier(audit));
  if (audit.rating) json.value("rating", rating_word(*audit.rating, result.du));
  json.value("garden_line", garden_line(audit));
  write_cans(json, audit);
  json.end();
  return json.text();
}

}  // namespace runnel::cli
