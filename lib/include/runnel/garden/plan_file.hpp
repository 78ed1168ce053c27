#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "runnel/garden/plan_garden.hpp"
#include "runnel/garden/saved_plan.hpp"

namespace runnel {

/// What the plan file of a plan holds.
[[nodiscard]] SavedPlan saved_plan(const Garden& garden, const GardenPlan& plan);

/// The plan as a YAML text a person can read, numbers in their shortest exact form; its last line
/// is the digest of what stands above it.
[[nodiscard]] std::string plan_file_text(const SavedPlan& plan);
/// The text of `saved_plan(garden, plan)`.
[[nodiscard]] std::string plan_file_text(const Garden& garden, const GardenPlan& plan);

/// The text and, as its last line, the digest that `read_plan_file` asks for. `text` ends with the
/// digests of other things, a whole line each.
[[nodiscard]] std::string with_digest(std::string text);

/// Reads what `plan_file_text` wrote, bit for bit. All findings at once, each with line and column.
/// Errors: no YAML; a format newer than 2 (then nothing else is looked at); a key unknown, twice or
/// missing; a value of the wrong kind, without its unit or out of range; days out of order; a zone
/// twice, a valve in two programmes; a text that differs from what its digest stands for.
/// @param name the file's name as the findings shall show it.
[[nodiscard]] Read<SavedPlan> read_plan_file(std::string_view yaml, std::string_view name);

}  // namespace runnel
