#include <algorithm>
#include <ostream>
#include <set>

#include "commands.hpp"
#include "runnel/demand/plants.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/nearest.hpp"
#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

constexpr int label_width = 20;

/// What the list and the CSV say of every plant alike.
struct PlantLine {
  std::string type, name, group, season;
  std::vector<std::string> also;
  double coefficient;  ///< mid-season, usual factor, or mean of the months
  Span coefficients;
  double root_depth_m, root_depth_most_m, p, height_m;
  std::string source;
  Plant plant;
};

const char* season_name(Season season) {
  return season == Season::annual      ? "annual"
         : season == Season::perennial ? "perennial"
                                       : "evergreen";
}

PlantLine line_of(const Crop& crop) {
  return {.type = "crop",
          .name = crop.name,
          .group = crop.group,
          .season = season_name(crop.season),
          .also = crop.also,
          .coefficient = crop.kc.mid,
          .coefficients = crop.kc_mid,
          .root_depth_m = crop.root_depth_m,
          .root_depth_most_m = crop.root_depth_most_m,
          .p = crop.p,
          .height_m = crop.height_m,
          .source = crop.source,
          .plant = crop};
}

PlantLine line_of(const Landscape& planting) {
  Span span = planting.published;
  if (const auto& classes = planting.factor_by_need)
    span = {.low = std::min(span.low, classes->front()),
            .high = std::max(span.high, classes->back())};
  return {.type = "kind",
          .name = planting.name,
          .group = "landscape",
          .season = "evergreen",
          .also = planting.also,
          .coefficient = planting.factor,
          .coefficients = span,
          .root_depth_m = planting.root_depth_m,
          .root_depth_most_m = planting.root_depth_m,
          .p = planting.p,
          .height_m = planting.height_m,
          .source = planting.source,
          .plant = planting};
}

PlantLine line_of(const Turf& turf) {
  const auto& kc = turf.kc_by_month;
  const auto [low, high] = std::minmax_element(kc.begin(), kc.end());
  double sum = 0.0;
  for (const double month : kc) sum += month;
  return {.type = "kind",
          .name = turf.name,
          .group = "lawn",
          .season = "by month",
          .also = turf.also,
          .coefficient = sum / static_cast<double>(kc.size()),
          .coefficients = {.low = *low, .high = *high},
          .root_depth_m = turf.root_depth_m,
          .root_depth_most_m = turf.root_depth_m,
          .p = turf.p,
          .height_m = 0.10,  // FAO-56 Table 12, turf grass
          .source = turf.source,
          .plant = turf};
}

std::vector<PlantLine> all_lines(const PlantTable& table) {
  std::vector<PlantLine> lines;
  for (const Landscape& planting : table.landscape) lines.push_back(line_of(planting));
  for (const Turf& turf : table.turf) lines.push_back(line_of(turf));
  for (const Crop& crop : table.crops) lines.push_back(line_of(crop));
  return lines;
}

bool matches(const PlantLine& line, const std::string& word, bool whole) {
  const auto says = [&](const std::string& text) {
    return whole ? lower(text) == word : lower(text).find(word) != std::string::npos;
  };
  if (says(line.name) || std::any_of(line.also.begin(), line.also.end(), says)) return true;
  return !whole && says(line.group);
}

std::vector<PlantLine> matching(const std::vector<PlantLine>& lines, const std::string& word,
                                bool whole) {
  std::vector<PlantLine> found;
  for (const PlantLine& line : lines)
    if (matches(line, word, whole)) found.push_back(line);
  return found;
}

/// "0.70-1.50", or the one value.
std::string span_text(const Span& span) {
  const std::string low = fixed(span.low, 2);
  const std::string high = fixed(span.high, 2);
  return low == high ? low : low + "-" + high;
}

/// "0.80 (0.70-0.90)", or the one value.
std::string value_text(double value, const Span& span) {
  const std::string text = fixed(value, 2);
  return span.low == span.high ? text : text + " (" + span_text(span) + ")";
}

std::string list_text(const std::vector<PlantLine>& lines) {
  const TextTable table({{"NAME", 22},
                         {"GROUP", 18},
                         {"COEFF.", 9, true},
                         {"ROOTS, M", 9, true},
                         {"P", 4, true},
                         {"SOURCE", 8}});
  std::string text = table.heading();
  for (const PlantLine& line : lines) {
    const std::string source = line.source.substr(0, line.source.find_first_of(" ,;"));
    text += table.row({line.name, line.group, span_text(line.coefficients),
                       span_text({.low = line.root_depth_m, .high = line.root_depth_most_m}),
                       fixed(line.p, 2), source == "ANSI/ASABE" ? "S623" : source});
  }
  return text +
         "\nCoefficient: mid-season (crops), all species (landscape), all months (lawns).\n"
         "Roots: when irrigated, to deepest. All of one plant: runnel plants NAME\n";
}

std::string labelled(const std::string& label, const std::string& value) {
  const TextTable table({{"", label_width}, {"", sheet_width - label_width - 2}});
  return table.row({label, value});
}

std::string stages_text(const PlantTable& table, const Crop& crop) {
  const TextTable columns({{"INI", 4, true},
                           {"DEV", 4, true},
                           {"MID", 4, true},
                           {"LATE", 4, true},
                           {"PLANTED", 12},
                           {"REGION", 18},
                           {"SOURCE", 22}});
  std::string rows;
  for (const PublishedStages& one : table.stages) {
    if (one.crop != crop.name) continue;
    rows += columns.row({std::to_string(one.lengths.ini), std::to_string(one.lengths.dev),
                         std::to_string(one.lengths.mid), std::to_string(one.lengths.late),
                         one.planting, one.region, (one.is_default ? "* " : "") + one.source});
  }
  if (rows.empty()) {
    if (crop.season == Season::evergreen) return "";
    return "\nNo stage lengths are published: state them, stages: [25, 35, 40, 20].\n";
  }
  return "\nLengths of the growth stages, days (* taken unless the garden states its own)\n" +
         columns.heading() + rows;
}

std::string season_text(const Crop& crop) {
  if (crop.season == Season::annual) return "annual: from the planting date";
  if (crop.season == Season::evergreen) return "evergreen: the mid value all year";
  static constexpr std::array<const char*, 12> months{
      "January", "February", "March",     "April",   "May",      "June",
      "July",    "August",   "September", "October", "November", "December"};
  const std::size_t month = crop.green_up_month - 1;
  return std::string("perennial: from green-up, mid-") + months.at(month) + " (south: mid-" +
         months.at((month + 6) % months.size()) + "), every year";
}

std::string details(const PlantTable& table, const Crop& crop) {
  std::string text = labelled("season", season_text(crop));
  text += labelled("coefficient Kc", "initial " + fixed(crop.kc.ini, 2) + ", mid " +
                                         value_text(crop.kc.mid, crop.kc_mid) + ", end " +
                                         value_text(crop.kc.end, crop.kc_end));
  text += labelled("basal Kcb", "initial " + fixed(crop.kcb.ini, 2) + ", mid " +
                                    value_text(crop.kcb.mid, crop.kcb_mid) + ", end " +
                                    value_text(crop.kcb.end, crop.kcb_end));
  if (crop.off)
    text += labelled("off-season", "Kc " + value_text(crop.off->kc, crop.kc_off) + ", Kcb " +
                                       fixed(crop.off->kcb, 2));
  text += labelled("height", value_text(crop.height_m, crop.height) + " m");
  text += labelled("root depth", fixed(crop.root_depth_m, 2) + " m when irrigated, " +
                                     fixed(crop.root_depth_most_m, 2) + " m at most");
  text += labelled("depletion share p", fixed(crop.p, 2) + " at ETc 5 mm/d");
  if (!crop.note.empty()) text += labelled("note", crop.note);
  text += labelled("source", crop.source);
  return text + stages_text(table, crop);
}

std::string details(const PlantTable& table, const Landscape& planting) {
  std::string text = labelled("usual factor",
                              value_text(planting.factor, planting.published) + " of reference ET");
  if (const auto& factors = planting.factor_by_need) {
    for (std::size_t i = 0; i < factors->size(); ++i) {
      const PublishedNeed& need = table.needs.at(i);
      text += labelled("water need " + need.name, fixed(factors->at(i), 2) + " (class " +
                                                      span_text(need.factor) + "; " + need.source +
                                                      ")");
    }
  }
  const auto& density = planting.density_factor;
  text += labelled("times density", "sparse " + fixed(density[0], 1) + ", average " +
                                        fixed(density[1], 1) + ", dense " + fixed(density[2], 1));
  text +=
      labelled("in pots", value_text(planting.container_coefficient, planting.container_published) +
                              " of the canopy's area");
  text += labelled("root depth", fixed(planting.root_depth_m, 2) + " m; newly planted " +
                                     fixed(planting.root_ball_m, 2) + " m, full grown after " +
                                     std::to_string(planting.establishment_days) + " days");
  text += labelled("height", fixed(planting.height_m, 2) + " m");
  text += labelled("depletion share p", fixed(planting.p, 2));
  return text + labelled("source", planting.source);
}

std::string details(const PlantTable& /*table*/, const Turf& turf) {
  static constexpr std::array<const char*, 12> months{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                      "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  std::string by_month;
  for (std::size_t m = 0; m < months.size(); ++m)
    by_month +=
        (m == 0 ? "" : ", ") + std::string(months.at(m)) + " " + fixed(turf.kc_by_month.at(m), 2);
  return labelled("coefficient Kc", by_month + " (south: six months later)") +
         labelled("root depth", fixed(turf.root_depth_m, 2) + " m") +
         labelled("depletion share p", fixed(turf.p, 2)) + labelled("source", turf.source);
}

std::string one_text(const PlantTable& table, const PlantLine& line) {
  std::string text = line.name + " (" + line.type + ", " + line.group + ")\n";
  if (!line.also.empty()) text += labelled("also", joined(line.also));
  return text + std::visit([&](const auto& plant) { return details(table, plant); }, line.plant);
}

std::string csv_text(const std::vector<PlantLine>& lines) {
  std::string text =
      "type,name,other_names,group,season,coefficient,coefficient_low,coefficient_high,"
      "root_depth_m,root_depth_most_m,p,height_m,source\n";
  for (const PlantLine& line : lines) {
    text += line.type;
    for (const std::string& words : {line.name, joined(line.also), line.group, line.season})
      text += "," + csv_cell(words);
    for (const double value : {line.coefficient, line.coefficients.low, line.coefficients.high,
                               line.root_depth_m, line.root_depth_most_m, line.p, line.height_m})
      text += "," + shortest(value);
    text += "," + csv_cell(line.source) + "\n";
  }
  return text;
}

/// The names nearest to a word that none contains, at most five.
std::vector<std::string> nearest_names(const std::vector<PlantLine>& lines,
                                       const std::string& word) {
  std::set<std::pair<int, std::string>> by_distance;
  const auto add = [&](const std::string& name) {
    const int most = std::max(1, static_cast<int>(std::max(word.size(), name.size())) / 3);
    const int distance = edit_distance(word, name);
    if (distance <= most) by_distance.emplace(distance, name);
  };
  for (const PlantLine& line : lines) {
    add(line.name);
    for (const std::string& name : line.also) add(name);
  }
  constexpr std::size_t most_names = 5;
  std::vector<std::string> names;
  for (const auto& [distance, name] : by_distance)
    if (names.size() < most_names) names.push_back(name);
  return names;
}

std::string none_text(const std::vector<PlantLine>& lines, const std::string& word) {
  const std::vector<std::string> near = nearest_names(lines, word);
  return paragraph(
      "", "no plant or group is called " + quoted(printable(word)) + " (" +
              (near.empty() ? "runnel plants lists all there are" : "nearest: " + joined(near)) +
              ")");
}

std::string plants_text(const PlantTable& table, const std::vector<PlantLine>& found,
                        const std::string& word) {
  const std::vector<PlantLine> exact = matching(found, word, true);
  if (exact.size() != 1 && found.size() != 1) return list_text(found);
  const PlantLine& one = exact.size() == 1 ? exact.front() : found.front();
  std::string text = one_text(table, one);
  std::vector<std::string> others;
  for (const PlantLine& line : found)
    if (line.name != one.name) others.push_back(line.name);
  if (!others.empty()) text += "\n" + paragraph("", "See too: " + joined(others));
  return text;
}

}  // namespace

int plants(const PlantsOptions& options, const Streams& streams) {
  const PlantTable& table = plant_table();
  const std::vector<PlantLine> lines = all_lines(table);
  const std::string word = lower(trimmed(options.word));
  const std::vector<PlantLine> found = matching(lines, word, false);
  if (options.format == "csv") {
    streams.out << csv_text(found);
    if (found.empty()) streams.err << none_text(lines, word);
  } else {
    streams.out << (found.empty() ? none_text(lines, word) : plants_text(table, found, word));
  }
  return done;
}

}  // namespace runnel::cli
