#include "can_map.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace runnel::cli {
namespace {

constexpr int most_lines = 16;

struct Extent {
  double least, most;
  [[nodiscard]] double size() const { return most - least; }
};

template <class Coordinate>
Extent extent(const std::vector<MapLabel>& labels, Coordinate coordinate) {
  Extent extent{.least = coordinate(labels.front()), .most = coordinate(labels.front())};
  for (const MapLabel& label : labels) {
    extent.least = std::min(extent.least, coordinate(label));
    extent.most = std::max(extent.most, coordinate(label));
  }
  return extent;
}

int scaled(double value, const Extent& of, int cells) {
  if (!(of.size() > 0.0)) return 0;
  return static_cast<int>(std::lround((value - of.least) / of.size() * cells));
}

class Canvas {
 public:
  Canvas(int lines, int width)
      : rows_(static_cast<std::size_t>(lines), std::string(static_cast<std::size_t>(width), ' ')) {}

  /// At the line, else at the nearest that has room there; a further line below when none has.
  void put(int line, int column, const std::string& text) {
    const int lines = static_cast<int>(rows_.size());
    for (int away = 0; away < lines; ++away) {
      for (const int other : {line - away, line + away}) {
        if (other < 0 || other >= lines || !is_free(other, column, text.size())) continue;
        rows_[static_cast<std::size_t>(other)].replace(static_cast<std::size_t>(column),
                                                       text.size(), text);
        return;
      }
    }
    rows_.emplace_back(rows_.front().size(), ' ');
    rows_.back().replace(static_cast<std::size_t>(column), text.size(), text);
  }

  [[nodiscard]] std::string text() const {
    std::string text;
    for (std::string row : rows_) {
      row.erase(row.find_last_not_of(' ') + 1);
      text += row + '\n';
    }
    return text;
  }

 private:
  /// With a blank on either side.
  [[nodiscard]] bool is_free(int line, int column, std::size_t length) const {
    const std::string& row = rows_[static_cast<std::size_t>(line)];
    const auto first = static_cast<std::size_t>(std::max(0, column - 1));
    const std::size_t last = std::min(row.size(), static_cast<std::size_t>(column) + length + 1);
    return row.substr(first, last - first).find_first_not_of(' ') == std::string::npos;
  }
  std::vector<std::string> rows_;
};

}  // namespace

std::string can_map(const std::vector<MapLabel>& labels, int width) {
  if (labels.empty()) return {};
  const Extent x = extent(labels, [](const MapLabel& label) { return label.x_m; });
  const Extent y = extent(labels, [](const MapLabel& label) { return label.y_m; });
  std::size_t longest = 0;
  for (const MapLabel& label : labels) longest = std::max(longest, label.text.size());
  int columns = std::max(1, width - static_cast<int>(longest));
  int lines = most_lines - 1;
  // A line is as high as two columns are wide: the narrower of the two scales decides.
  if (x.size() > 0.0 && y.size() > 0.0) {
    const double columns_per_m = std::min(columns / x.size(), 2.0 * lines / y.size());
    columns = std::max(1, static_cast<int>(columns_per_m * x.size()));
    lines = std::max(1, static_cast<int>(columns_per_m * y.size() / 2.0));
  } else if (!(y.size() > 0.0)) {
    lines = 0;
  }
  Canvas canvas(lines + 1, columns + static_cast<int>(longest));
  for (const MapLabel& label : labels)
    canvas.put(lines - scaled(label.y_m, y, lines), scaled(label.x_m, x, columns), label.text);
  return canvas.text();
}

}  // namespace runnel::cli
