#pragma once

#include <algorithm>
#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace runnel {

/// An element of well-formed XML. `text` is its own, without that of the elements in it; `parent`
/// is its place in the list, -1 of the outermost.
struct MarkupElement {
  std::string name;
  std::map<std::string, std::string> attributes;
  std::string text;
  int parent = -1;

  [[nodiscard]] std::string attribute(const std::string& key) const {
    const auto found = attributes.find(key);
    return found == attributes.end() ? std::string() : found->second;
  }
};

/// Reads the part of XML 1.0 that a page may use: elements, quoted attributes, the five named
/// references and decimal ones. @throws std::runtime_error on anything else.
class MarkupReader {
 public:
  [[nodiscard]] static std::vector<MarkupElement> read(std::string_view text) {
    MarkupReader reader(text);
    reader.run();
    return std::move(reader.elements_);
  }

 private:
  explicit MarkupReader(std::string_view text) : left_(text) {
    constexpr std::string_view doctype = "<!DOCTYPE html>\n";
    if (left_.starts_with(doctype)) left_.remove_prefix(doctype.size());
  }

  [[noreturn]] void fail(const std::string& what) const {
    throw std::runtime_error(what + " before: " + std::string(left_.substr(0, 60)));
  }
  std::string_view take_until(std::string_view ends) {
    const std::size_t end = left_.find_first_of(ends);
    if (end == std::string_view::npos) fail("unfinished markup");
    const std::string_view taken = left_.substr(0, end);
    left_.remove_prefix(end);
    return taken;
  }
  void take(std::string_view expected) {
    if (!left_.starts_with(expected)) fail("no " + std::string(expected));
    left_.remove_prefix(expected.size());
  }
  void skip_blanks() {
    while (!left_.empty() && (left_[0] == ' ' || left_[0] == '\n')) left_.remove_prefix(1);
  }

  std::string plain(std::string_view text) const {
    static const std::map<std::string, std::string, std::less<>> known{
        {"amp", "&"}, {"lt", "<"}, {"gt", ">"}, {"quot", "\""}, {"#39", "'"}};
    std::string result;
    while (!text.empty()) {
      if (text[0] != '&') {
        result += text[0];
        text.remove_prefix(1);
        continue;
      }
      const std::size_t end = text.find(';');
      const auto found = known.find(text.substr(1, end == std::string_view::npos ? end : end - 1));
      if (found == known.end()) fail("an unknown reference");
      result += found->second;
      text.remove_prefix(end + 1);
    }
    return result;
  }

  void open_element() {
    MarkupElement element;
    element.parent = open_.empty() ? -1 : static_cast<int>(open_.back());
    element.name = take_until(" >/\n");
    for (skip_blanks(); left_[0] != '>' && left_[0] != '/'; skip_blanks()) {
      const std::string key(take_until("=>"));
      take("=\"");
      const std::string value = plain(take_until("\"<"));
      take("\"");
      if (!element.attributes.emplace(key, value).second) fail(key + " stands twice");
    }
    const bool empty = left_[0] == '/';
    if (empty) left_.remove_prefix(1);
    take(">");
    if (!empty) open_.push_back(elements_.size());
    elements_.push_back(std::move(element));
  }

  void run() {
    while (!left_.empty()) {
      if (left_[0] != '<') {
        const std::string text = plain(left_.substr(0, std::min(left_.find('<'), left_.size())));
        left_.remove_prefix(std::min(left_.find('<'), left_.size()));
        if (!open_.empty()) {
          elements_[open_.back()].text += text;
        } else if (text.find_first_not_of('\n') != std::string::npos) {
          fail("text outside");
        }
      } else if (left_.starts_with("</")) {
        take("</");
        if (open_.empty()) fail("nothing to close");
        take(elements_[open_.back()].name);
        take(">");
        open_.pop_back();
      } else {
        take("<");
        open_element();
      }
    }
    if (!open_.empty()) fail(elements_[open_.back()].name + " is not closed");
  }

  std::string_view left_;
  std::vector<MarkupElement> elements_;
  std::vector<std::size_t> open_;
};

}  // namespace runnel
