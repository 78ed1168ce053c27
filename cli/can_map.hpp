#pragma once

#include <string>
#include <vector>

namespace runnel::cli {

/// A label that belongs at a place on the ground.
struct MapLabel {
  double x_m, y_m;
  std::string text;  ///< ASCII
};

/// The labels where they belong, y upwards, in at most `width` columns and 16 lines, to scale as
/// far as letters allow (a line is taken as twice as high as a column is wide). A label whose place
/// is taken goes to the nearest free one in a line above or below, so that none is lost.
[[nodiscard]] std::string can_map(const std::vector<MapLabel>& labels, int width);

}  // namespace runnel::cli
