#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace runnel::cli {

/// Columns a text takes on a terminal: combining marks none, East Asian wide characters and emoji
/// two.
[[nodiscard]] int display_width(std::string_view utf8);

/// The text in lines of at most `width` columns, broken at blanks; a longer word is cut where it
/// must be. A no-break space breaks no line and comes out as a blank.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, int width);

inline constexpr std::string_view no_break_space = "\xC2\xA0";

/// Columns of a sheet on a terminal of 80.
inline constexpr int sheet_width = 78;

/// The text wrapped to the page: its first line begins with `first`, all others with `further`.
[[nodiscard]] std::string paragraph(std::string_view first, std::string_view further,
                                    std::string_view text);
[[nodiscard]] std::string paragraph(std::string_view indent, std::string_view text);

/// "bed, lawn, pots".
[[nodiscard]] std::string joined(const std::vector<std::string>& parts,
                                 std::string_view between = ", ");

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
