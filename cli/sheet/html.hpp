#pragma once

#include <string>
#include <string_view>

#include "runnel/units/calendar.hpp"
#include "runnel/units/display.hpp"

namespace runnel::cli::sheet {

// What is written is HTML and well-formed XML alike. Where a figure or a text of the JSON output is
// shown, `data-json` says where it stands there (RFC 6901): tests follow it.

/// Text between tags or in a quoted attribute: what HTML gives a meaning is written as references,
/// control characters and bytes that are no UTF-8 as U+FFFD.
[[nodiscard]] std::string escaped(std::string_view text);

/// A person's own words, which may run from right to left without turning what is around them.
[[nodiscard]] std::string own_words(std::string_view text);

/// A figure, rounded for reading, with its full value.
[[nodiscard]] std::string figure(const std::string& pointer, double value, int decimals);
/// What is measured, in the unit shown; its full value stays the JSON's.
[[nodiscard]] std::string figure(const Display& display, Shown kind, const std::string& pointer,
                                 double value, int decimals);
/// The same with its unit after it.
[[nodiscard]] std::string with_unit(const Display& display, Shown kind, const std::string& pointer,
                                    double value, int decimals);
/// The same of a value above 0, which does not round to nothing.
[[nodiscard]] std::string some_with_unit(const Display& display, Shown kind,
                                         const std::string& pointer, double value, int decimals);
/// "mm" or "inches", what depths are in, where it is said once for all of them.
[[nodiscard]] std::string depth_name(const Display& display);
/// A text, escaped.
[[nodiscard]] std::string words(const std::string& pointer, std::string_view text);
/// A day, "Mon 12 Jul".
[[nodiscard]] std::string day(Date date);

/// "/zones/2/litres".
[[nodiscard]] std::string pointer(std::string_view list, std::size_t index, std::string_view key);

}  // namespace runnel::cli::sheet
