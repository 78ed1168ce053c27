#include "runnel/units/plain_text.hpp"

#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string_view>

namespace runnel {
namespace {

/// Length of the UTF-8 sequence at the start of `text` (Unicode 15, Table 3-7), or 0 when there is
/// none or it is a NUL.
std::size_t utf8_length(std::string_view text) {
  const auto byte = [text](std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
  };
  const auto follows = [&](std::size_t i) { return (byte(i) & 0xC0U) == 0x80U; };
  const unsigned first = byte(0);
  const unsigned second = byte(1);
  if (first == 0U) return 0;
  if (first < 0x80U) return 1;
  if (first >= 0xC2U && first <= 0xDFU) return follows(1) ? 2 : 0;
  if (first >= 0xE0U && first <= 0xEFU) {
    const bool overlong = first == 0xE0U && second < 0xA0U;
    const bool surrogate = first == 0xEDU && second > 0x9FU;
    return follows(1) && follows(2) && !overlong && !surrogate ? 3 : 0;
  }
  if (first >= 0xF0U && first <= 0xF4U) {
    const bool overlong = first == 0xF0U && second < 0x90U;
    const bool too_large = first == 0xF4U && second > 0x8FU;
    return follows(1) && follows(2) && follows(3) && !overlong && !too_large ? 4 : 0;
  }
  return 0;
}

/// Whether eight bytes are all ASCII and none is NUL (the subtraction borrows into a byte's top bit
/// only at a zero byte or above one).
bool eight_plain_bytes(const char* at) {
  std::uint64_t word = 0;
  std::memcpy(&word, at, sizeof word);
  constexpr std::uint64_t tops = 0x8080808080808080U;
  constexpr std::uint64_t ones = 0x0101010101010101U;
  return ((word | (word - ones)) & tops) == 0;
}

}  // namespace

std::size_t first_binary_byte(std::string_view text) {
  std::size_t i = 0;
  while (i < text.size()) {
    if (i + 8 <= text.size() && eight_plain_bytes(text.data() + i)) {
      i += 8;
      continue;
    }
    const std::size_t length = utf8_length(text.substr(i));
    if (length == 0) return i;
    i += length;
  }
  return i;
}

TextPosition position_of(std::string_view text, std::size_t offset) {
  TextPosition position;
  for (std::size_t i = 0; i < offset; ++i) {
    const bool lone_cr = text[i] == '\r' && (i + 1 >= text.size() || text[i + 1] != '\n');
    if (text[i] == '\n' || lone_cr) {
      position = {position.line + 1, 1};
    } else if (!is_continuation(text[i])) {
      ++position.column;
    }
  }
  return position;
}

}  // namespace runnel
