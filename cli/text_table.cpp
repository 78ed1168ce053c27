#include "text_table.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

namespace runnel::cli {
namespace {

/// The code point at `at`, which moves past it; an invalid byte stands for itself.
char32_t next_code_point(std::string_view utf8, std::size_t& at) {
  const auto lead = static_cast<unsigned char>(utf8[at]);
  std::size_t length = 1;
  if (lead >= 0xF0) {
    length = 4;
  } else if (lead >= 0xE0) {
    length = 3;
  } else if (lead >= 0xC0) {
    length = 2;
  }
  length = std::min(length, utf8.size() - at);
  char32_t code = length == 1 ? lead : lead & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i)
    code = code << 6U | (static_cast<unsigned char>(utf8[at + i]) & 0x3FU);
  at += length;
  return code;
}

struct Range {
  char32_t first, last;
};
template <std::size_t N>
bool within(const std::array<Range, N>& ranges, char32_t code) {
  return std::any_of(ranges.begin(), ranges.end(),
                     [code](const Range& r) { return code >= r.first && code <= r.last; });
}

int width_of(char32_t code) {
  // Unicode blocks whose characters combine with the one before, or stand at no width of their own.
  static constexpr std::array<Range, 6> none{{{0x0300, 0x036F},
                                              {0x1AB0, 0x1AFF},
                                              {0x200B, 0x200F},
                                              {0x202A, 0x202E},
                                              {0x20D0, 0x20FF},
                                              {0xFE00, 0xFE0F}}};
  // Blocks of East Asian wide characters (Unicode Annex 11) and emoji.
  static constexpr std::array<Range, 8> two{{{0x1100, 0x115F},
                                             {0x2E80, 0xA4CF},
                                             {0xAC00, 0xD7A3},
                                             {0xF900, 0xFAFF},
                                             {0xFE30, 0xFE6F},
                                             {0xFF00, 0xFF60},
                                             {0x1F300, 0x1FAFF},
                                             {0x20000, 0x3FFFD}}};
  if (within(none, code)) return 0;
  return within(two, code) ? 2 : 1;
}

/// As much of the text as fits the width, at least one character.
std::size_t fitting(std::string_view text, int width) {
  std::size_t at = 0;
  int used = 0;
  while (at < text.size()) {
    std::size_t next = at;
    used += width_of(next_code_point(text, next));
    if (used > width && at > 0) break;
    at = next;
  }
  return at;
}

std::string padded(std::string text, int width, bool right) {
  const std::string blanks(static_cast<std::size_t>(std::max(0, width - display_width(text))), ' ');
  return right ? blanks + text : std::move(text) + blanks;
}

}  // namespace

int display_width(std::string_view utf8) {
  int width = 0;
  for (std::size_t at = 0; at < utf8.size();) width += width_of(next_code_point(utf8, at));
  return width;
}

std::vector<std::string> wrapped(std::string_view text, int width) {
  std::vector<std::string> lines{""};
  while (!text.empty()) {
    const std::size_t blank = std::min(text.find(' '), text.size());
    std::string_view word = text.substr(0, blank);
    text.remove_prefix(std::min(blank + 1, text.size()));
    if (!lines.back().empty() && display_width(lines.back()) + 1 + display_width(word) <= width) {
      lines.back().append(" ").append(word);
      continue;
    }
    if (!lines.back().empty()) lines.emplace_back();
    while (display_width(word) > width) {
      const std::size_t part = fitting(word, width);
      lines.back().assign(word.substr(0, part));
      lines.emplace_back();
      word.remove_prefix(part);
    }
    lines.back().assign(word);
  }
  for (std::string& line : lines)
    for (std::size_t at = 0; (at = line.find(no_break_space, at)) != std::string::npos;)
      line.replace(at, no_break_space.size(), " ");
  return lines;
}

std::string paragraph(std::string_view first, std::string_view further, std::string_view text) {
  std::string lines;
  for (const std::string& line : wrapped(text, sheet_width - static_cast<int>(further.size()))) {
    lines += lines.empty() ? first : further;
    lines += line + "\n";
  }
  return lines;
}

std::string paragraph(std::string_view indent, std::string_view text) {
  return paragraph(indent, indent, text);
}

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
  std::string text;
  for (const std::string& part : parts) {
    if (&part != &parts.front()) text += between;
    text += part;
  }
  return text;
}

std::string printable(std::string_view text) {
  std::string safe(text);
  for (char& c : safe) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7F) c = '?';
  }
  return safe;
}

std::string TextTable::heading() const {
  std::vector<std::string> cells;
  for (const Heading& heading : headings_) cells.push_back(heading.text);
  return row(cells);
}

std::string TextTable::row(const std::vector<std::string>& cells) const {
  std::vector<std::vector<std::string>> columns;
  std::size_t lines = 1;
  for (std::size_t c = 0; c < cells.size(); ++c) {
    columns.push_back(wrapped(printable(cells[c]), headings_[c].width));
    lines = std::max(lines, columns.back().size());
  }
  std::string text;
  for (std::size_t line = 0; line < lines; ++line) {
    std::string out;
    for (std::size_t c = 0; c < columns.size(); ++c) {
      if (c > 0) out += "  ";
      out += padded(line < columns[c].size() ? columns[c][line] : "", headings_[c].width,
                    headings_[c].right);
    }
    out.erase(out.find_last_not_of(' ') + 1);
    text += out + "\n";
  }
  return text;
}

}  // namespace runnel::cli
