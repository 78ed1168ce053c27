#include "sheet/html.hpp"

#include <algorithm>

#include "runnel/units/number.hpp"

namespace runnel::cli::sheet {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";  // U+FFFD

/// Bytes of the character that begins the text; 0 where it is none. Unicode, Table 3-7.
std::size_t character_length(std::string_view text) {
  const auto byte = [text](std::size_t at) {
    return at < text.size() ? static_cast<unsigned char>(text[at]) : 0U;
  };
  const unsigned lead = byte(0);
  if (lead < 0x80) return 1;
  std::size_t length = 0;
  if (lead >= 0xC2 && lead <= 0xDF) length = 2;
  if (lead >= 0xE0 && lead <= 0xEF) length = 3;
  if (lead >= 0xF0 && lead <= 0xF4) length = 4;
  for (std::size_t at = 1; at < length; ++at)
    if (byte(at) < 0x80 || byte(at) > 0xBF) return 0;
  const bool overlong = (lead == 0xE0 && byte(1) < 0xA0) || (lead == 0xF0 && byte(1) < 0x90);
  const bool surrogate = lead == 0xED && byte(1) > 0x9F;
  const bool beyond = lead == 0xF4 && byte(1) > 0x8F;
  const bool not_a_character = lead == 0xEF && byte(1) == 0xBF && byte(2) >= 0xBE;
  return overlong || surrogate || beyond || not_a_character ? 0 : length;
}

std::string_view reference(char c) {
  switch (c) {
    case '&':
      return "&amp;";
    case '<':
      return "&lt;";
    case '>':
      return "&gt;";
    case '"':
      return "&quot;";
    case '\'':
      return "&#39;";
    default:
      return {};
  }
}

std::string data(const std::string& pointer, double value, const std::string& shown) {
  return "<data value=\"" + shortest(value) + "\" data-json=\"" + pointer + "\">" + shown +
         "</data>";
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string safe;
  while (!text.empty()) {
    const std::size_t length = character_length(text);
    const auto lead = static_cast<unsigned char>(text[0]);
    const bool control = length == 1 && (lead < 0x20 || lead == 0x7F);
    const std::string_view instead = reference(text[0]);
    if (length == 0 || control) {
      safe += replacement;
    } else {
      safe += instead.empty() ? text.substr(0, length) : instead;
    }
    text.remove_prefix(std::max<std::size_t>(length, 1));
  }
  return safe;
}

std::string own_words(std::string_view text) { return "<bdi>" + escaped(text) + "</bdi>"; }

std::string figure(const std::string& pointer, double value, int decimals) {
  return data(pointer, value, fixed(value, decimals));
}

std::string figure(const Display& display, Shown kind, const std::string& pointer, double value,
                   int decimals) {
  return data(pointer, value, number(display, kind, value, decimals));
}

std::string with_unit(const Display& display, Shown kind, const std::string& pointer, double value,
                      int decimals) {
  std::string unit(unit_shown(display, kind));
  if (unit.starts_with("deg")) unit.replace(0, 3, "°");
  return figure(display, kind, pointer, value, decimals) + " " + unit;
}

std::string some_with_unit(const Display& display, Shown kind, const std::string& pointer,
                           double value, int decimals) {
  const std::string text = some(display, kind, value, decimals);
  return text == measure(display, kind, value, decimals)
             ? with_unit(display, kind, pointer, value, decimals)
             : text;
}

std::string depth_name(const Display& display) {
  return display.units == UnitSystem::us ? "inches" : "mm";
}

std::string words(const std::string& pointer, std::string_view text) {
  return "<span data-json=\"" + pointer + "\">" + escaped(text) + "</span>";
}

std::string day(Date date) {
  return "<time datetime=\"" + iso_date(date) + "\">" + short_date(date) + "</time>";
}

std::string pointer(std::string_view list, std::size_t index, std::string_view key) {
  return "/" + std::string(list) + "/" + std::to_string(index) + "/" + std::string(key);
}

}  // namespace runnel::cli::sheet
