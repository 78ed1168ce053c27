#pragma once

#include <string>
#include <vector>

#include "garden_outcome.hpp"

namespace runnel::cli {

/// A round of many gardens on one sheet, at 80 columns: first those to visit (what falls short
/// before what only is to be set), then those with advice or doubts, those that could not be
/// planned, and last, in a few lines, those with nothing to change; each in the order given. Doubts
/// that several gardens share, such as those about one weather file, are said once.
[[nodiscard]] std::string gardens_sheet(std::vector<GardenOutcome> gardens);
/// A line for each zone of all gardens planned.
[[nodiscard]] std::string gardens_csv(const std::vector<GardenOutcome>& gardens);
[[nodiscard]] std::string gardens_json(const std::vector<GardenOutcome>& gardens);

}  // namespace runnel::cli
