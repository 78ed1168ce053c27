#include "gardens_sheet.hpp"

#include <algorithm>
#include <cstddef>
#include <initializer_list>
#include <map>

#include "plan_report.hpp"
#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

using Standing = GardenOutcome::Standing;

constexpr std::size_t most_doubts = 5;  // of a garden

long count(const std::vector<GardenOutcome>& gardens, Standing standing) {
  return std::count_if(gardens.begin(), gardens.end(), [standing](const GardenOutcome& garden) {
    return garden.standing == standing;
  });
}

std::string days(const GardenOutcome& garden) {
  return short_date(garden.from) + " to " + short_date(garden.until) + " " +
         std::to_string(year_of(garden.until));
}

/// The days that most gardens are planned for, the earliest where several are as many.
std::string usual_days(const std::vector<GardenOutcome>& gardens) {
  std::map<Date, int> by_date;
  for (const GardenOutcome& garden : gardens)
    if (garden.standing != Standing::not_planned) ++by_date[garden.from];
  const auto most =
      std::max_element(by_date.begin(), by_date.end(),
                       [](const auto& a, const auto& b) { return a.second < b.second; });
  if (most == by_date.end()) return {};
  return days(*std::find_if(gardens.begin(), gardens.end(), [most](const GardenOutcome& garden) {
    return garden.standing != Standing::not_planned && garden.from == most->first;
  }));
}

std::string summary(const std::vector<GardenOutcome>& gardens) {
  const long falls_short = count(gardens, Standing::falls_short);
  const long to_visit = falls_short + count(gardens, Standing::to_set);
  std::string text = std::to_string(to_visit) + " to visit";
  if (falls_short > 0)
    text +=
        " (" + std::to_string(falls_short) + (falls_short == 1 ? " falls" : " fall") + " short)";
  const auto add = [&](Standing standing, const char* what) {
    if (const long number = count(gardens, standing); number > 0)
      text += ", " + std::to_string(number) + " " + what;
  };
  add(Standing::remarked, "with remarks");
  add(Standing::not_planned, "not planned");
  add(Standing::unchanged, "with nothing to change");
  return text;
}

std::string litres(const GardenOutcome& garden) {
  return measure(garden.display, Shown::volume, garden.litres, 0);
}

std::string title(const GardenOutcome& garden, const std::string& usual) {
  std::string text = printable(garden.name) + " (" + printable(garden.file) + "): ";
  if (garden.settings == 0) text += "nothing to set";
  if (garden.settings > 0)
    text += std::to_string(garden.settings) +
            (garden.settings == 1 ? " setting to set" : " settings to set");
  text += ", " + litres(garden);
  return days(garden) == usual ? text : text + ", " + days(garden);
}

using Doubts = std::map<std::string, int>;

/// How many gardens each doubt is of, those of several alone.
Doubts shared_doubts(const std::vector<GardenOutcome>& gardens) {
  Doubts shared;
  for (const GardenOutcome& garden : gardens)
    if (garden.standing != Standing::not_planned)
      for (const Finding& finding : garden.findings) ++shared[words_of(finding)];
  std::erase_if(shared, [](const auto& doubt) { return doubt.second < 2; });
  return shared;
}

/// Its own errors and doubts go on the sheet; with a doubt it is to be looked at.
void say_findings(GardenOutcome& garden, const Doubts& shared) {
  const bool planned = garden.standing != Standing::not_planned;
  std::size_t said = 0;
  std::size_t left = 0;
  for (const Finding& finding : garden.findings) {
    if (planned && shared.contains(words_of(finding))) continue;
    if (planned && said == most_doubts) {
      ++left;
      continue;
    }
    garden.says.push_back(printable(to_text(finding)));
    ++said;
  }
  if (left > 0)
    garden.says.push_back("And " + std::to_string(left) + " more: runnel check " +
                          printable(garden.file) + " lists them.");
  if (said > 0 && garden.standing == Standing::unchanged) garden.standing = Standing::remarked;
}

class Sheet {
 public:
  explicit Sheet(const std::vector<GardenOutcome>& gardens)
      : gardens_(gardens), usual_(usual_days(gardens)) {
    text_ = std::to_string(gardens.size()) + " gardens" + (usual_.empty() ? "" : ", " + usual_) +
            "\n" + paragraph("", "", summary(gardens));
  }

  /// Gardens one by one.
  void add(const char* heading, std::initializer_list<Standing> standings) {
    std::string blocks;
    for (const Standing standing : standings)
      for (const GardenOutcome& garden : gardens_)
        if (garden.standing == standing) blocks += block(garden);
    if (!blocks.empty()) text_ += std::string("\n") + heading + "\n" + blocks;
  }

  void add_unchanged() {
    std::string names;
    for (const GardenOutcome& garden : gardens_) {
      if (garden.standing != Standing::unchanged) continue;
      names += (names.empty() ? "" : ", ") + printable(garden.name) + " " + litres(garden);
      if (days(garden) != usual_) names += " (" + days(garden) + ")";
    }
    if (!names.empty()) text_ += "\nNOTHING TO CHANGE\n" + paragraph("  ", names + ".");
  }

  void add_shared(const Doubts& shared) {
    if (!shared.empty()) text_ += "\nOF SEVERAL GARDENS\n";
    for (const auto& [doubt, gardens] : shared)
      text_ +=
          paragraph("  ", "    ", printable(doubt) + "; " + std::to_string(gardens) + " gardens");
  }

  [[nodiscard]] std::string text() const { return text_ + take_care_text(); }

 private:
  [[nodiscard]] std::string block(const GardenOutcome& garden) const {
    const bool planned = garden.standing != Standing::not_planned;
    std::string text =
        "\n" + paragraph("", "  ", planned ? title(garden, usual_) : printable(garden.file));
    for (const std::string& line : garden.says) text += paragraph("  ", "    ", line);
    return text;
  }

  const std::vector<GardenOutcome>& gardens_;
  std::string usual_;
  std::string text_;
};

}  // namespace

std::string gardens_sheet(std::vector<GardenOutcome> gardens) {
  const Doubts shared = shared_doubts(gardens);
  for (GardenOutcome& garden : gardens) say_findings(garden, shared);
  Sheet sheet(gardens);
  sheet.add("TO VISIT", {Standing::falls_short, Standing::to_set});
  sheet.add("NOTHING TO SET, BUT TO LOOK AT", {Standing::remarked});
  sheet.add("COULD NOT BE PLANNED", {Standing::not_planned});
  sheet.add_shared(shared);
  sheet.add_unchanged();
  return sheet.text();
}

std::string gardens_csv(const std::vector<GardenOutcome>& gardens) {
  std::string text = "garden,file,set_anew," + plan_csv_heading() + "\n";
  for (const GardenOutcome& garden : gardens) text += garden.record;
  return text;
}

std::string gardens_json(const std::vector<GardenOutcome>& gardens) {
  const std::string indent = "    ";
  std::string text = "{\n  \"gardens\": [";
  for (std::size_t i = 0; i < gardens.size(); ++i) {
    text += (i > 0 ? ",\n" : "\n") + indent;
    const std::string& record = gardens[i].record;  // ends with a line end
    for (std::size_t at = 0; at + 1 < record.size(); ++at) {
      text += record[at];
      if (record[at] == '\n') text += indent;
    }
  }
  return text + "\n  ]\n}\n";
}

}  // namespace runnel::cli
