#pragma once

#include <string>
#include <vector>

#include "runnel/garden/doubts.hpp"

namespace runnel::cli {

/// What to measure first: a table at 80 columns, how to measure each, and in one line what makes no
/// difference. @param format text, csv or json.
[[nodiscard]] std::string doubts_report(const Garden& garden, const GardenPlan& planned,
                                        const std::vector<Doubt>& doubts,
                                        const std::string& format);

}  // namespace runnel::cli
