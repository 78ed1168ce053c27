#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace runnel {

/// Edits (insert, delete, replace, swap neighbours) that turn one word into the other, without
/// regard to case.
[[nodiscard]] int edit_distance(std::string_view a, std::string_view b);

/// The known word nearest to the one written, when it is near enough to be a slip (at most a third
/// of its letters, at least one). Ties go to the earlier word.
[[nodiscard]] std::optional<std::string_view> nearest(std::string_view written,
                                                      std::span<const std::string_view> known);

}  // namespace runnel
