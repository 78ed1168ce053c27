#include "sheet/svg.hpp"

#include "runnel/units/number.hpp"
#include "sheet/html.hpp"

namespace runnel::cli::sheet {
namespace {

std::string attribute(std::string_view name, std::string_view value) {
  return " " + std::string(name) + "=\"" + std::string(value) + "\"";
}

}  // namespace

std::string percent(double share) { return fixed(100.0 * share, 2) + "%"; }
std::string px(double pixels) { return fixed(pixels, 2); }

std::string svg_begin(const std::string& id, double height_px, std::string_view title,
                      std::string_view description) {
  return "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"100%\" height=\"" +
         px(height_px) + "\" aria-labelledby=\"" + id + "-title " + id + "-desc\">\n<title id=\"" +
         id + "-title\">" + escaped(title) + "</title>\n<desc id=\"" + id + "-desc\">" +
         escaped(description) + "</desc>\n";
}

std::string rect(std::string_view kind, double x_share, double y_px, double width_share,
                 double height_px) {
  return "<rect" + attribute("class", kind) + attribute("x", percent(x_share)) +
         attribute("y", px(y_px)) + attribute("width", percent(width_share)) +
         attribute("height", px(height_px)) + "/>\n";
}

std::string horizontal(std::string_view kind, double from_share, double to_share, double y_px) {
  return "<line" + attribute("class", kind) + attribute("x1", percent(from_share)) +
         attribute("x2", percent(to_share)) + attribute("y1", px(y_px)) +
         attribute("y2", px(y_px)) + "/>\n";
}

std::string vertical(std::string_view kind, double x_share, double from_px, double to_px) {
  return "<line" + attribute("class", kind) + attribute("x1", percent(x_share)) +
         attribute("x2", percent(x_share)) + attribute("y1", px(from_px)) +
         attribute("y2", px(to_px)) + "/>\n";
}

std::string axis_text(std::string_view kind, const std::string& x, double y_px,
                      std::string_view text) {
  return "<text class=\"axis " + std::string(kind) + "\"" + attribute("x", x) +
         attribute("y", px(y_px)) + ">" + escaped(text) + "</text>\n";
}

std::string day_heading(Date date, double middle_share, double y_px, bool strong) {
  const std::string kind = strong ? "middle strong" : "middle";
  return axis_text(kind, percent(middle_share), y_px, weekday_name(weekday_index(date))) +
         axis_text(kind, percent(middle_share), y_px + 12.0, std::to_string(day_of_month(date)));
}

}  // namespace runnel::cli::sheet
