#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "runnel/units/unit_table.hpp"
#include "runnel/weather/series.hpp"

namespace runnel {

/// Values a variable can take at all, in its own unit; what lies outside is an error of the file.
struct Limits {
  double low;
  double high;
};

/// What the CSV reader knows of a variable for one step.
struct VariableFacts {
  Variable variable;
  std::string_view name;  ///< standard header
  std::string_view unit;  ///< own unit, as the unit table writes it; taken when none is given
  Dimension dimension;
  Dimension other_dimension;  ///< accepted as well ("mm/d" for rain); the same when there is none
  Limits limits;
  double usual_high;  ///< a high value in temperate summers, to choose the likely unit by
};

[[nodiscard]] const VariableFacts& facts(Variable variable, Step step);
[[nodiscard]] std::span<const std::string_view> standard_names();

/// Lower case without blanks, '_', '-' and '.'.
[[nodiscard]] std::string plain_name(std::string_view written);
/// The variable of a standard name or common spelling, given as plain_name() makes it.
[[nodiscard]] std::optional<Variable> variable_spelled(std::string_view plain);

/// The unit so written, for that variable; nullptr when it is none of its dimensions. Reads "W/m^2"
/// and "share" as well.
[[nodiscard]] const Unit* unit_for(const VariableFacts& variable, std::string_view written);
/// From a file's unit into the variable's own; exactly 1 and 0 when they are the same.
struct Conversion {
  double factor;
  double offset;
  [[nodiscard]] double operator()(double x) const { return x * factor + offset; }
};
[[nodiscard]] Conversion conversion(const VariableFacts& variable, const Unit& from);
/// "degC, degF, K".
[[nodiscard]] std::string units_for(const VariableFacts& variable);

}  // namespace runnel
