#pragma once

#include <doctest/doctest.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <cctype>
#include <sstream>
#include <string>
#include <vector>

#include "folder.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/number.hpp"
#include "support/markup.hpp"

namespace runnel {

/// A page, and the JSON output of the same command (which is YAML, too).
struct Page {
  std::string html;
  std::vector<MarkupElement> elements;
  YAML::Node json;
  bool us = false;  ///< shown in US units; the JSON is metric all the same

  [[nodiscard]] std::vector<MarkupElement> all(const std::string& name) const {
    std::vector<MarkupElement> found;
    for (const MarkupElement& element : elements)
      if (element.name == name) found.push_back(element);
    return found;
  }
  /// Whether the element or one around it has that name, class or attribute.
  template <class Test>
  [[nodiscard]] bool within(const MarkupElement& element, Test test) const {
    if (test(element)) return true;
    return element.parent >= 0 && within(elements[static_cast<std::size_t>(element.parent)], test);
  }
};

/// `runnel ARGS` once as HTML and once as JSON.
inline Page page_of(const Folder& folder, const std::string& args, int exit,
                    const std::string& display = "") {
  const Result html = folder.run(args + " --format html " + display);
  const Result json = folder.run(args + " --format json");
  CHECK_MESSAGE(html.exit == exit, html.err);
  CHECK(json.exit == exit);
  Page page{
      .html = html.out, .elements = {}, .json = YAML::Load(json.out), .us = has(display, "us")};
  REQUIRE_NOTHROW(page.elements = MarkupReader::read(html.out));
  return page;
}

/// What stands at an RFC 6901 pointer (no key here holds a slash or a tilde).
inline YAML::Node at_pointer(const YAML::Node& json, const std::string& pointer) {
  YAML::Node node;
  node.reset(json);
  std::istringstream steps(pointer.substr(1));
  for (std::string step; std::getline(steps, step, '/');) {
    YAML::Node next = node.IsSequence() ? node[std::stoul(step)] : node[step];
    REQUIRE_MESSAGE(next.IsDefined(), pointer);
    node.reset(next);
  }
  return node;
}

inline bool has_digit(const std::string& text) {
  return std::any_of(text.begin(), text.end(),
                     [](unsigned char c) { return std::isdigit(c) != 0; });
}

/// The figure of that place in the JSON as a reader in US units has it: 1 in is 25.4 mm and 1 gal
/// 3.785411784 L (NIST SP 811 Appendix B). What is measured says so at the end of its key.
inline double in_us_units(std::string pointer, double value) {
  while (std::isdigit(static_cast<unsigned char>(pointer.back())) != 0 || pointer.back() == '/')
    pointer.pop_back();
  const std::string key = pointer.substr(pointer.rfind('/') + 1);
  if (has(key, "litres") || has(key, "_l_a_day") || key.ends_with("_l")) return value / 3.785411784;
  if (key.ends_with("_c")) return 1.8 * value + 32.0;
  return has(key, "_mm") ? value / 25.4 : value;
}

/// A figure as shown is the JSON's at its pointer, rounded to the decimals shown; a text the same.
inline void check_pointed(const Page& page, const MarkupElement& element) {
  const std::string pointer = element.attribute("data-json");
  CAPTURE(pointer);
  const auto shown = parse_number(element.text);
  const auto exact = parse_number(at_pointer(page.json, pointer).as<std::string>());
  if (element.name == "span" || !shown) {
    const std::string text = at_pointer(page.json, pointer).as<std::string>();
    if (page.us && has_digit(element.text + text)) return;  // words with figures or times in them
    CHECK(text == element.text);
    return;
  }
  REQUIRE(exact);
  const std::size_t dot = element.text.find('.');
  const auto decimals =
      dot == std::string::npos ? 0 : static_cast<int>(element.text.size() - dot - 1);
  CHECK(fixed(page.us ? in_us_units(pointer, *exact) : *exact, decimals) == element.text);
  if (element.name == "data") CHECK(parse_number(element.attribute("value")) == exact);
}

/// Every figure on the page stands in the JSON, is a date, or counts hours and days on an axis.
/// @return how many were followed into the JSON.
inline int check_figures(const Page& page) {
  int followed = 0;
  for (const MarkupElement& element : page.elements) {
    if (!element.attribute("data-json").empty() && element.name != "g") {
      check_pointed(page, element);
      ++followed;
    } else if (const std::string whole = element.attribute("data-part"); !whole.empty()) {
      CHECK(has(at_pointer(page.json, whole).as<std::string>(), element.text));
    } else if (const std::string date = element.attribute("datetime"); !date.empty()) {
      REQUIRE(parse_date(date));
      CHECK(has(short_date(*parse_date(date)), element.text));
    } else if (has_digit(element.text)) {
      const bool told = page.within(element, [](const MarkupElement& one) {
        return one.name == "style" || one.name == "title" || one.name == "bdi" ||
               one.name == "time" || one.attribute("class").starts_with("axis") ||
               one.attribute("aria-hidden") == "true";
      });
      CHECK_MESSAGE(told, element.name << ": " << element.text);
    }
  }
  return followed;
}

}  // namespace runnel
