#include "runnel/units/number.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <system_error>

namespace runnel {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' || c == '\v';
}

/// std::from_chars knows no leading '+'; "+-5" must stay a fault.
std::string_view without_plus(std::string_view text) {
  if (text.size() > 1 && text[0] == '+' && text[1] != '-') text.remove_prefix(1);
  return text;
}

/// Keeps "nan", "inf" and "infinity" away from std::from_chars, which reads them.
bool starts_like_a_number(std::string_view text) {
  if (!text.empty() && text[0] == '-') text.remove_prefix(1);
  if (!text.empty() && (text[0] == '.' || text[0] == ',')) text.remove_prefix(1);
  return !text.empty() && is_digit(text[0]);
}

std::optional<double> parse_point(std::string_view text) {
  double value = 0.0;
  const char* const end = text.data() + text.size();
  const auto [stop, fault] = std::from_chars(text.data(), end, value);
  if (fault != std::errc{} || stop != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

}  // namespace

std::optional<double> parse_number(std::string_view text, bool decimal_comma) {
  text = without_plus(text);
  if (!starts_like_a_number(text)) return std::nullopt;
  if (!decimal_comma) return parse_point(text);
  if (text.find('.') != std::string_view::npos) return std::nullopt;
  const std::size_t comma = text.find(',');
  if (comma == std::string_view::npos) return parse_point(text);

  // Most numbers are short: no allocation for those.
  std::array<char, 48> small{};
  if (text.size() <= small.size()) {
    std::copy(text.begin(), text.end(), small.begin());
    small[comma] = '.';
    return parse_point(std::string_view(small.data(), text.size()));
  }
  std::string large(text);
  large[comma] = '.';
  return parse_point(large);
}

std::optional<int> parse_int(std::string_view text) {
  text = without_plus(text);
  int value = 0;
  const char* const end = text.data() + text.size();
  const auto [stop, fault] = std::from_chars(text.data(), end, value);
  if (fault != std::errc{} || stop != end) return std::nullopt;
  return value;
}

std::string fixed(double value, int decimals) {
  if (decimals < 0 || decimals > 30) throw std::invalid_argument("fixed: decimals must be 0-30");
  // The largest double has 309 digits before the point.
  std::array<char, 352> buffer{};
  const auto [end, fault] = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                          std::chars_format::fixed, decimals);
  if (fault != std::errc{}) throw std::invalid_argument("fixed: value does not fit");
  std::string text(buffer.data(), end);
  const bool all_zero = text.find_first_not_of("-0.") == std::string::npos;
  if (all_zero && text.front() == '-') text.erase(0, 1);
  return text;
}

std::string shortest(double value) {
  // Without an exponent where a person would write none: 1000000, not 1e+06.
  const double size = std::abs(value);
  const bool plain = value == 0.0 || (size >= 1e-4 && size < 1e15);
  std::array<char, 32> buffer{};
  const auto [end, fault] =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                    plain ? std::chars_format::fixed : std::chars_format::general);
  if (fault != std::errc{}) throw std::invalid_argument("shortest: value does not fit");
  return {buffer.data(), end};
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

std::string lower(std::string_view text) {
  std::string result(text);
  for (char& c : result) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return result;
}

}  // namespace runnel
