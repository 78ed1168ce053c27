#pragma once

#include <string>
#include <string_view>

#include "runnel/units/calendar.hpp"

namespace runnel::cli::sheet {

// Pictures are as wide as the page gives them: across they are drawn in percent, down in CSS
// pixels, so that letters keep their size on a phone and on paper.

/// 0.125 as "12.5%".
[[nodiscard]] std::string percent(double share);
/// Pixels, to a hundredth.
[[nodiscard]] std::string px(double pixels);

/// The beginning of a picture that a screen reader announces; `id` is its own on the page.
[[nodiscard]] std::string svg_begin(const std::string& id, double height_px, std::string_view title,
                                    std::string_view description);
[[nodiscard]] std::string rect(std::string_view kind, double x_share, double y_px,
                               double width_share, double height_px);
[[nodiscard]] std::string horizontal(std::string_view kind, double from_share, double to_share,
                                     double y_px);
[[nodiscard]] std::string vertical(std::string_view kind, double x_share, double from_px,
                                   double to_px);
/// A mark that figures elsewhere do not depend on: hours and days along an axis.
[[nodiscard]] std::string axis_text(std::string_view kind, const std::string& x, double y_px,
                                    std::string_view text);
/// Weekday over day of the month, in the middle of its column.
[[nodiscard]] std::string day_heading(Date date, double middle_share, double y_px, bool strong);

}  // namespace runnel::cli::sheet
