#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace runnel {

/// The whole text as a finite decimal number ("12", "-0.5", "1e3"); nothing on anything else
/// (blanks around it included, "nan", "inf", hexadecimal, trailing text). With `decimal_comma`,
/// "0,5" is read and "0.5" is not.
[[nodiscard]] std::optional<double> parse_number(std::string_view text, bool decimal_comma = false);
/// The whole text as an integer; nothing on anything else, or beyond an int.
[[nodiscard]] std::optional<int> parse_int(std::string_view text);

/// Fixed decimals, never "-0.00". Independent of the locale.
[[nodiscard]] std::string fixed(double value, int decimals);
/// The shortest text that reads back as exactly the same double.
[[nodiscard]] std::string shortest(double value);

/// Text without blanks at both ends; lower case of ASCII letters.
[[nodiscard]] std::string_view trimmed(std::string_view text);
/// Lower case of ASCII letters; other bytes stay.
[[nodiscard]] std::string lower(std::string_view text);

}  // namespace runnel
