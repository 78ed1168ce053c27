#include "doubts_report.hpp"

#include <algorithm>
#include <utility>

#include "json_writer.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

/// A zone's entry without the part of the zone it stands in: "soil.slope" is "slope".
std::string short_name(const Doubt& doubt) {
  return doubt.zone.empty() ? doubt.input : doubt.input.substr(doubt.input.rfind('.') + 1);
}

/// "plants: root depth", or "depletion" where it stands in the zone itself.
std::string long_name(const Doubt& doubt) {
  const std::size_t dot = doubt.input.rfind('.');
  return dot == std::string::npos ? doubt.input
                                  : doubt.input.substr(0, dot) + ": " + doubt.input.substr(dot + 1);
}

std::string minutes(const DoubtAnswer& answer) {
  return fixed(answer.minutes, 0) + (answer.short_of ? "*" : "");
}

bool same_minutes(const Doubt& doubt) {
  return minutes(doubt.now) == minutes(doubt.low) && minutes(doubt.now) == minutes(doubt.high);
}

/// What is otherwise where the minutes are not.
std::string otherwise(const Doubt& doubt) {
  if (doubt.now.days == doubt.low.days && doubt.now.days == doubt.high.days)
    return "other start times or run lengths";
  return "waters " + doubt.now.days + "; with A " + doubt.low.days + "; with B " + doubt.high.days;
}

std::string table_of(const std::vector<Doubt>& doubts) {
  const TextTable table({{"INPUT", 19},
                         {"ZONE", 16},
                         {"A", 9},
                         {"B", 9},
                         {"NOW", 4, true},
                         {"A", 5, true},
                         {"B", 5, true}});
  const TextTable above(
      {{"", 19}, {"", 16}, {"RANGE, FROM A TO B", 20}, {"MINUTES A WEEK", 18, true}});
  std::string text = above.heading() + table.heading();
  for (const Doubt& doubt : doubts) {
    if (!doubt.matters) continue;
    text +=
        table.row({short_name(doubt), doubt.zone.empty() ? "all" : doubt.zone, doubt.low.value,
                   doubt.high.value, minutes(doubt.now), minutes(doubt.low), minutes(doubt.high)});
    if (same_minutes(doubt)) text += paragraph("    ", otherwise(doubt));
  }
  return text;
}

bool any_short(const std::vector<Doubt>& doubts) {
  return std::any_of(doubts.begin(), doubts.end(), [](const Doubt& doubt) {
    return doubt.matters && (doubt.now.short_of || doubt.low.short_of || doubt.high.short_of);
  });
}

std::string how_to_measure(const std::vector<Doubt>& doubts) {
  std::string text;
  std::vector<std::string> said;
  for (const Doubt& doubt : doubts) {
    if (!doubt.matters || std::find(said.begin(), said.end(), doubt.how) != said.end()) continue;
    said.push_back(doubt.how);
    text += paragraph("  ", "    ", long_name(doubt) + ". " + doubt.how);
    text += paragraph("    ", "Write " + doubt.write + ". Range: " + doubt.source + ".");
  }
  return text;
}

/// "slope (terrace bed, wall border), canopy (pots)".
std::string named(const std::vector<Doubt>& doubts) {
  std::vector<std::pair<std::string, std::string>> inputs;
  for (const Doubt& doubt : doubts) {
    if (doubt.matters) continue;
    const std::string zone = doubt.zone.empty() ? "all" : printable(doubt.zone);
    const auto known = std::find_if(inputs.begin(), inputs.end(), [&](const auto& input) {
      return input.first == short_name(doubt);
    });
    if (known == inputs.end())
      inputs.emplace_back(short_name(doubt), zone);
    else
      known->second += ", " + zone;
  }
  std::string text;
  for (const auto& [input, zones] : inputs) {
    if (!text.empty()) text += ", ";
    text += input;
    text += " (" + zones + ")";
  }
  return text;
}

std::string text_of(const Garden& garden, const GardenPlan& planned,
                    const std::vector<Doubt>& doubts) {
  std::string text = printable(garden.name) + "\nWhat to measure first, for the plan of " +
                     short_date(planned.plan.from) + " to " + short_date(planned.plan.until) + " " +
                     std::to_string(year_of(planned.plan.until)) + "\n\n";
  if (doubts.empty()) return text + "Nothing: all that has a range is measured.\n";
  const bool any = doubts.front().matters;
  if (any) {
    text += paragraph("", "",
                      "Each input that was not measured, alone at both ends of its range, A and B, "
                      "and what its valve would then run in a week, planned by itself. What "
                      "changes most stands first.") +
            "\n" + table_of(doubts);
    if (any_short(doubts)) text += "* goes beyond its limit on some day whatever is set\n";
    text += "\nHOW TO MEASURE\n" + how_to_measure(doubts);
  }
  const std::string rest = named(doubts);
  if (!rest.empty())
    text +=
        std::string(any ? "\n" : "") + paragraph("", "  ", "Makes no difference: " + rest + ".");
  return text;
}

std::string csv_of(const std::vector<Doubt>& doubts) {
  std::string text =
      "input,zone,taken,from,to,minutes,minutes_from,minutes_to,change_minutes,days,days_from,"
      "days_to,short,short_from,short_to,matters,how,write,source\n";
  for (const Doubt& doubt : doubts) {
    const auto yes_no = [](bool truth) { return truth ? ",yes" : ",no"; };
    text += csv_cell(doubt.input) + "," + csv_cell(doubt.zone);
    for (const DoubtAnswer* answer : {&doubt.now, &doubt.low, &doubt.high})
      text += "," + csv_cell(answer->value);
    for (const DoubtAnswer* answer : {&doubt.now, &doubt.low, &doubt.high})
      text += "," + shortest(answer->minutes);
    text += "," + shortest(doubt.change_minutes());
    for (const DoubtAnswer* answer : {&doubt.now, &doubt.low, &doubt.high})
      text += "," + csv_cell(answer->days);
    for (const DoubtAnswer* answer : {&doubt.now, &doubt.low, &doubt.high})
      text += yes_no(answer->short_of);
    text += yes_no(doubt.matters);
    for (const std::string& words : {doubt.how, doubt.write, doubt.source})
      text += "," + csv_cell(words);
    text += "\n";
  }
  return text;
}

void write_answer(JsonWriter& json, const char* name, const DoubtAnswer& answer) {
  json.begin_object(name);
  json.value("value", answer.value);
  json.value("minutes", answer.minutes);
  json.value("days", answer.days);
  json.value("short", answer.short_of);
  json.end();
}

std::string json_of(const Garden& garden, const GardenPlan& planned,
                    const std::vector<Doubt>& doubts) {
  JsonWriter json;
  json.begin_object();
  json.value("garden", garden.name);
  json.value("from", iso_date(planned.plan.from));
  json.value("until", iso_date(planned.plan.until));
  json.begin_array("doubts");
  for (const Doubt& doubt : doubts) {
    json.begin_object();
    json.value("input", doubt.input);
    json.value("zone", doubt.zone);
    json.value("matters", doubt.matters);
    json.value("change_minutes", doubt.change_minutes());
    write_answer(json, "taken", doubt.now);
    write_answer(json, "from", doubt.low);
    write_answer(json, "to", doubt.high);
    json.value("how", doubt.how);
    json.value("write", doubt.write);
    json.value("source", doubt.source);
    json.end();
  }
  json.end();
  json.end();
  return json.text();
}

}  // namespace

std::string doubts_report(const Garden& garden, const GardenPlan& planned,
                          const std::vector<Doubt>& doubts, const std::string& format) {
  if (format == "csv") return csv_of(doubts);
  return format == "json" ? json_of(garden, planned, doubts) : text_of(garden, planned, doubts);
}

}  // namespace runnel::cli
