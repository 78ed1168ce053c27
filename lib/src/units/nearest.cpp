#include "runnel/units/nearest.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/number.hpp"

namespace runnel {
namespace {

/// Hostile input: nobody misspells a word of this length, and the table grows with the product of
/// the lengths.
constexpr std::size_t longest_word = 256;

std::size_t letters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

}  // namespace

// Optimal string alignment: Damerau-Levenshtein in which no part is edited twice.
int edit_distance(std::string_view a, std::string_view b) {
  const std::string s = lower(a);
  const std::string t = lower(b);
  std::vector<int> before_last(t.size() + 1);
  std::vector<int> last(t.size() + 1);
  std::vector<int> current(t.size() + 1);
  for (std::size_t j = 0; j <= t.size(); ++j) last[j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= s.size(); ++i) {
    current[0] = static_cast<int>(i);
    for (std::size_t j = 1; j <= t.size(); ++j) {
      const int replaced = last[j - 1] + (s[i - 1] == t[j - 1] ? 0 : 1);
      current[j] = std::min({last[j] + 1, current[j - 1] + 1, replaced});
      const bool swapped = i > 1 && j > 1 && s[i - 1] == t[j - 2] && s[i - 2] == t[j - 1];
      if (swapped) current[j] = std::min(current[j], before_last[j - 2] + 1);
    }
    before_last.swap(last);
    last.swap(current);
  }
  return last[t.size()];
}

std::optional<std::string_view> nearest(std::string_view written,
                                        std::span<const std::string_view> known) {
  if (written.empty() || written.size() > longest_word) return std::nullopt;
  const std::size_t count = letters(written);
  const std::size_t allowed = std::max<std::size_t>(1, count / 3);
  std::optional<std::string_view> best;
  int best_distance = static_cast<int>(allowed) + 1;
  for (const std::string_view word : known) {
    // Replacing every letter of the word written is no slip: "x" is not near "m".
    const int limit = std::min(best_distance, static_cast<int>(std::max(count, letters(word))));
    const std::size_t longer = std::max(word.size(), written.size());
    const std::size_t shorter = std::min(word.size(), written.size());
    if (longer - shorter > 4 * allowed) continue;
    const int distance = edit_distance(written, word);
    if (distance < limit) {
      best = word;
      best_distance = distance;
    }
  }
  return best;
}

}  // namespace runnel
