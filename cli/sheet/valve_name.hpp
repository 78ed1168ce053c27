#pragma once

#include <string>
#include <string_view>

#include "runnel/schedule/plan.hpp"

namespace runnel::cli::sheet {

/// The zones on a valve, in the garden's order.
[[nodiscard]] std::string zone_names(const Plan& plan, int valve);

/// A valve's number as it stands on the timer, large, and its zones, heading a row or rows.
/// @param pointer to the number in the JSON
/// @param scope "row", or "rowgroup" over so many rows
[[nodiscard]] std::string valve_heading(const Plan& plan, int valve, const std::string& pointer,
                                        std::string_view scope, int rows = 1);

}  // namespace runnel::cli::sheet
