#pragma once

#include <string>
#include <vector>

#include "commands.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"

namespace runnel::cli {

/// What many gardens planned together keep of each: what is printed of it, not its plan.
struct GardenOutcome {
  enum class Standing {
    falls_short,  ///< whatever is to be set
    to_set,       ///< settings differ from the plan before, or there was none
    remarked,     ///< nothing to set, but advice or a run by hand
    not_planned,  ///< could not be used, or its plan not be written
    unchanged,
  };
  Standing standing = Standing::not_planned;
  std::string file;  ///< as named on the command line
  std::string name;  ///< of the garden
  Date from{}, until{};
  Display display{};
  double litres = 0.0;               ///< in the week
  int settings = 0;                  ///< to set anew
  std::vector<std::string> says;     ///< paragraphs of the sheet
  std::string record;                ///< rows of the CSV, or the JSON object
  std::vector<Finding> findings;     ///< errors and doubts about the inputs
  std::vector<Finding> of_the_plan;  ///< doubts about it, which the sheet says otherwise
};

/// A finding's words, the same for one file however its path is written ("a/../w.csv", "w.csv").
[[nodiscard]] std::string words_of(Finding finding);

/// Plans one garden and saves it, as `plan` does. Throws nothing that is this garden's fault:
/// `findings` then has the errors.
[[nodiscard]] GardenOutcome garden_outcome(const PlanOptions& options);

}  // namespace runnel::cli
