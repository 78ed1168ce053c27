#pragma once

#include <span>
#include <string>

#include "json_writer.hpp"
#include "runnel/garden/remedies.hpp"

namespace runnel::cli {

/// The zones that fall short and what would mend that, at 80 columns; empty when none does.
[[nodiscard]] std::string shortfall_text(const Plan& plan, std::span<const Remedy> remedies);

/// The members "shortfalls" and "remedies" of an object.
void write_shortfalls(JsonWriter& json, const Plan& plan, std::span<const Remedy> remedies);

}  // namespace runnel::cli
