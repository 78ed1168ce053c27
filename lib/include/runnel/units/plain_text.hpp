#pragma once

#include <cstddef>
#include <string_view>

namespace runnel {

/// Offset of the first byte that is a NUL or not UTF-8 (Unicode 15, Table 3-7); the size of the
/// text when there is none.
[[nodiscard]] std::size_t first_binary_byte(std::string_view text);

/// Whether the byte continues a UTF-8 character begun before it.
[[nodiscard]] constexpr bool is_continuation(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

/// Both count from 1, the column in characters. A line ends with LF, CRLF or a CR alone.
struct TextPosition {
  int line = 1;
  int column = 1;
};
/// Where the byte at `offset` stands.
[[nodiscard]] TextPosition position_of(std::string_view text, std::size_t offset);

}  // namespace runnel
