#pragma once

#include <string>
#include <vector>

#include "json_writer.hpp"
#include "runnel/garden/remedies.hpp"

namespace runnel::cli {

/// What can be done where a plan falls short, and what stands in the way.
struct Mending {
  std::vector<Remedy> remedies;
  std::vector<Finding> binding_rules;
};

/// By how much a zone that falls short does so.
[[nodiscard]] std::string shortfall(const Display& display, const ZonePlan& zone);
/// What to change, and what comes of it.
[[nodiscard]] std::string remedy_text(const Display& display, const Remedy& remedy);

/// The zones that fall short and what would mend that, at 80 columns; empty when none does.
[[nodiscard]] std::string shortfall_text(const Display& display, const Plan& plan,
                                         const Mending& mending);

/// The members "shortfalls", "binding_rules" and "remedies" of an object.
void write_shortfalls(JsonWriter& json, const GardenPlan& planned, const Mending& mending);

}  // namespace runnel::cli
