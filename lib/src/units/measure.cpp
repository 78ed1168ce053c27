#include <charconv>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>
#include <vector>

#include "runnel/units/finding.hpp"
#include "runnel/units/nearest.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

struct Words {
  std::string_view name;     ///< of the dimension, as in "a unit of area"
  std::string_view example;  ///< in another unit than the base unit
};

Words words_for(Dimension dimension) {
  switch (dimension) {
    case Dimension::length:
      return {"length", "45 cm"};
    case Dimension::depth:
      return {"depth", "0.5 in"};
    case Dimension::area:
      return {"area", "260 sq ft"};
    case Dimension::volume:
      return {"volume", "5 gal"};
    case Dimension::flow:
      return {"flow", "0.5 gph"};
    case Dimension::pressure:
      return {"pressure", "35 psi"};
    case Dimension::temperature:
      return {"temperature", "68 degF"};
    case Dimension::speed:
      return {"speed", "8 km/h"};
    case Dimension::rate:
      return {"depth per hour", "0.5 in/h"};
    case Dimension::daily_depth:
      return {"depth per day", "0.2 in/d"};
    case Dimension::daily_radiation:
      return {"daily radiation", "250 W/m2"};
    case Dimension::hourly_radiation:
      return {"hourly radiation", "500 W/m2"};
    case Dimension::angle:
      return {"angle", "1.2 rad"};
    case Dimension::duration:
      return {"time", "2 h"};
    case Dimension::share:
      return {"share", "30 %"};
  }
  return {"measure", ""};
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// What stands before the unit. `value` is missing when the number does not fit a double.
struct Leading {
  std::string_view text;
  std::optional<double> value;
};

/// @return nothing when the text does not begin with a number.
std::optional<Leading> leading_number(std::string_view text) {
  std::size_t sign = 0;
  if (!text.empty() && (text[0] == '-' || text[0] == '+')) sign = 1;
  const std::size_t point = text.size() > sign && text[sign] == '.' ? 1 : 0;
  if (text.size() <= sign + point) return std::nullopt;
  // Also "inf" and "nan", which from_chars reads.
  if (!is_digit(text[sign + point])) return std::nullopt;

  const std::string_view digits = text.substr(text[0] == '+' ? 1 : 0);
  double value = 0.0;
  const auto [stop, fault] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  const std::string_view number = text.substr(0, static_cast<std::size_t>(stop - text.data()));
  if (fault != std::errc{} || !std::isfinite(value)) return Leading{number, std::nullopt};
  return Leading{number, value};
}

/// Every run of blanks as one blank, the no-break spaces (U+00A0, U+202F) that web pages put before
/// units among them.
std::string single_blanks(std::string_view text) {
  std::string result;
  for (std::size_t i = 0; i < text.size(); ++i) {
    bool blank = trimmed(text.substr(i, 1)).empty();
    if (text.substr(i, 2) == "\xC2\xA0") {
      blank = true;
      i += 1;
    } else if (text.substr(i, 3) == "\xE2\x80\xAF") {
      blank = true;
      i += 2;
    }
    if (!blank) {
      result += text[i];
    } else if (!result.empty() && result.back() != ' ') {
      result += ' ';
    }
  }
  if (!result.empty() && result.back() == ' ') result.pop_back();
  return result;
}

std::string such_as(std::string_view number, Dimension dimension) {
  const Words words = words_for(dimension);
  std::string text = "such as ";
  if (dimension != Dimension::share) {
    const std::string base(base_unit(dimension));
    text += quoted(std::string(number) + " " + base) + " or ";
  }
  text += quoted(words.example);
  if (dimension == Dimension::share) text += " or 0.3";
  return text;
}

/// The number as it was written, unless it was written at length.
std::string shown(const Leading& number) {
  constexpr std::size_t longest_shown = 16;
  if (number.text.size() <= longest_shown) return std::string(number.text);
  return shortest(*number.value);
}

std::string_view usual_number(Dimension dimension) {
  return dimension == Dimension::temperature ? "20" : "12";
}

MeasureOrFault faulty(std::string fault, std::string mend) {
  return {.value = 0.0, .fault = std::move(fault), .mend = std::move(mend)};
}

std::string write_with_unit(std::string_view number, Dimension dimension) {
  if (dimension == Dimension::share) return "write it as a share, " + such_as(number, dimension);
  return "write it with a unit of " + std::string(words_for(dimension).name) + ", " +
         such_as(number, dimension);
}

const Unit* unit_of_any_dimension(std::string_view name) {
  std::optional<Dimension> last;
  for (const Unit& unit : unit_table()) {
    // The rows of a dimension lie together.
    if (unit.dimension == last) continue;
    last = unit.dimension;
    if (const Unit* found = find_unit(name, unit.dimension)) return found;
  }
  return nullptr;
}

MeasureOrFault unknown_unit(const std::string& number, std::string_view name, Dimension dimension) {
  const std::string wanted(words_for(dimension).name);
  if (const Unit* other = unit_of_any_dimension(name)) {
    return faulty(std::string(other->name) + " is a unit of " +
                      std::string(words_for(other->dimension).name) + ", not of " + wanted,
                  write_with_unit(number, dimension));
  }
  std::vector<std::string_view> known;
  for (const Unit& unit : unit_table()) {
    if (unit.dimension == dimension && !unit.name.empty()) known.push_back(unit.name);
  }
  const std::string fault = quoted(name) + " is not a unit of " + wanted;
  if (const auto guess = nearest(name, known)) {
    return faulty(fault, "did you mean " + quoted(number + " " + std::string(*guess)) + "?");
  }
  return faulty(fault, "the units of " + wanted + " are " + units_of(dimension));
}

/// "0,5 gph" is meant as a half, "1,000 m2" perhaps as a thousand: the second is left to the
/// writer.
MeasureOrFault comma_in_number(const std::string& text, std::size_t comma) {
  std::string point = text;
  point[comma] = '.';
  std::size_t end = comma + 1;
  while (end < text.size() && is_digit(text[end])) ++end;
  std::string mend = "write a decimal point, " + quoted(point);
  if (end == comma + 4) {
    std::string none = text;
    none.erase(comma, 1);
    mend += ", or no comma, " + quoted(none);
  }
  return faulty(quoted(text) + " has a comma in its number", std::move(mend));
}

}  // namespace

MeasureOrFault parse_measure(std::string_view text, Dimension dimension) {
  const std::string clean = single_blanks(text);
  if (clean.empty()) {
    return faulty("nothing is written", write_with_unit(usual_number(dimension), dimension));
  }
  const auto number = leading_number(clean);
  if (!number) {
    return faulty(quoted(clean) + " does not begin with a number",
                  write_with_unit(usual_number(dimension), dimension));
  }
  if (!number->value) {
    return faulty(quoted(number->text) + " is a number too large or too small to be meant", "");
  }
  const std::string written = shown(*number);
  const std::string_view name = trimmed(std::string_view(clean).substr(number->text.size()));
  if (name.size() > 1 && name[0] == ',' && is_digit(name[1])) {
    return comma_in_number(clean, number->text.size());
  }
  if (name.empty() && dimension == Dimension::share &&
      (*number->value < 0.0 || *number->value > 1.0)) {
    return faulty(written + " is not a share between 0 and 1",
                  "write " + quoted(written + " %") + " if percent is meant");
  }
  if (name.empty() && dimension != Dimension::share) {
    return faulty(written + " has no unit", write_with_unit(written, dimension));
  }
  const Unit* unit = find_unit(name, dimension);
  if (unit == nullptr) return unknown_unit(written, name, dimension);
  return {.value = *number->value * unit->factor + unit->offset, .fault = "", .mend = ""};
}

}  // namespace runnel
