#include "advice_report.hpp"

#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

std::string zone_names(const GardenPlan& planned, const WateringAdvice& advice) {
  std::vector<std::string> names;
  for (const std::size_t z : advice.zones) names.push_back(planned.plan.zones[z].name);
  return printable(joined(names));
}

std::string rain_seen(const Display& display, const WateringAdvice& advice) {
  std::string text;
  if (advice.rained_mm > 0.0)
    text = "It rained " + measure(display, Shown::depth, advice.rained_mm, 1) +
           " over the last 7 days";
  if (advice.rain_expected_mm > 0.0)
    text += (text.empty() ? "The forecast has " : " and the forecast has ") +
            measure(display, Shown::depth, advice.rain_expected_mm, 1);
  return text + ": ";
}

std::string advised(const Display& display, const GardenPlan& planned,
                    const WateringAdvice& advice) {
  const std::string which =
      "the watering on " + short_date(advice.date) + " of " + zone_names(planned, advice);
  const std::string litres = measure(display, Shown::volume, advice.litres, 0);
  if (!advice.leave_out)
    return which + " (" + litres +
           ") is needed: give it by hand when the ground has thawed and the day stays above "
           "freezing";
  std::string text = "leave out " + which + " (" + litres + " less): within the limit without it";
  if (advice.start_assumed) text += ", if the ground is as moist as taken; feel it first";
  return text;
}

std::string sentence(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 32);
  return text + ".";
}

}  // namespace

std::string frost_caution(const Display& display, const std::vector<FrostDay>& frost) {
  std::string text = "Frost by the forecast: ";
  for (std::size_t i = 0; i < frost.size(); ++i)
    text += (i > 0 ? ", " : "") + short_date(frost[i].date) + " " +
            measure(display, Shown::temperature, frost[i].lowest_c, 1);
  return text +
         ". Stop the water and drain the lines before it: water on paving is ice, and a full line "
         "or backflow preventer bursts.";
}

std::string advice_line(const Display& display, const GardenPlan& planned,
                        const WateringAdvice& advice) {
  const std::string seen =
      advice.why == WateringAdvice::Why::rain ? rain_seen(display, advice) : "";
  return sentence(seen + advised(display, planned, advice));
}

std::vector<std::string> advice_lines(const Display& display, const GardenPlan& planned) {
  std::vector<std::string> lines;
  if (!planned.advice.frost.empty()) lines.push_back(frost_caution(display, planned.advice.frost));
  for (const WateringAdvice& advice : planned.advice.waterings)
    lines.push_back(advice_line(display, planned, advice));
  return lines;
}

std::string advice_text(const Display& display, const GardenPlan& planned) {
  std::string text;
  for (const std::string& line : advice_lines(display, planned))
    text += paragraph("  ", "    ", line);
  return text.empty() ? text : "\nADVICE\n" + text;
}

void write_advice(JsonWriter& json, const GardenPlan& planned) {
  json.begin_array("advice");
  for (const FrostDay& frost : planned.advice.frost) {
    json.begin_object();
    json.value("advice", "stop and drain");
    json.value("why", "frost");
    json.value("date", iso_date(frost.date));
    json.value("lowest_c", frost.lowest_c);
    json.end();
  }
  for (const WateringAdvice& advice : planned.advice.waterings) {
    json.begin_object();
    json.value("advice", advice.leave_out ? "leave out" : "needed");
    json.value("why", advice.why == WateringAdvice::Why::frost ? "frost" : "rain");
    json.value("date", iso_date(advice.date));
    json.value("valve", advice.valve);
    json.begin_array("zones");
    for (const std::size_t z : advice.zones) json.element(planned.plan.zones[z].name);
    json.end();
    json.value("litres", advice.litres);
    json.value("rained_mm", advice.rained_mm);
    json.value("rain_expected_mm", advice.rain_expected_mm);
    json.value("start_assumed", advice.start_assumed);
    json.end();
  }
  json.end();
}

}  // namespace runnel::cli
