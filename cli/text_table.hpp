#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace runnel::cli {

/// Columns a text takes on a terminal: combining marks none, East Asian wide characters and emoji
/// two.
[[nodiscard]] int display_width(std::string_view utf8);

/// The text in lines of at most `width` columns, broken at blanks; a longer word is cut where it
/// must be.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, int width);

/// A text after which control characters (escape sequences of a terminal among them) stand as '?'.
[[nodiscard]] std::string printable(std::string_view text);

/// Rows of cells under a heading, two blanks between columns; a cell that is too wide goes on in
/// the line below.
class TextTable {
 public:
  struct Heading {
    std::string text;
    int width;
    bool right = false;  ///< numbers
  };
  explicit TextTable(std::vector<Heading> headings) : headings_(std::move(headings)) {}
  [[nodiscard]] std::string heading() const;
  [[nodiscard]] std::string row(const std::vector<std::string>& cells) const;

 private:
  std::vector<Heading> headings_;
};

}  // namespace runnel::cli
