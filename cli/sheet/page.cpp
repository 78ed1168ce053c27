#include "sheet/page.hpp"

#include "sheet/html.hpp"
#include "sheet/page_style.hpp"

namespace runnel::cli::sheet {
namespace {

// Used by the pictures: what waterings bring, what rain brings, and ground too dry. Told apart by
// shape.
constexpr std::string_view marks =
    R"html(<svg class="marks" width="0" height="0" aria-hidden="true">
<defs>
<path id="watering-mark" class="watering-mark" d="M4 0C6 3.2 7.4 4.9 7.4 6.8A3.4 3.4 0 0 1 .6 6.8C.6 4.9 2 3.2 4 0Z"/>
<path id="rain-mark" class="rain-mark" d="M2.6 .5L.8 9M5 .5L3.2 9M7.4 .5L5.6 9"/>
<pattern id="dry" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
<line class="dry-line" x1="0" y1="0" x2="0" y2="5"/>
</pattern>
</defs>
</svg>
)html";

/// How close everything stands on paper: one sheet is to hold eight zones.
std::string density(const Amount& amount) {
  std::string kinds = amount.zones <= 4 ? "roomy" : "close";
  if (amount.zones > 8) kinds += " long";
  if (amount.crowded) kinds += " crowded";
  return kinds;
}

}  // namespace

std::string page(std::string_view title, std::string_view body, const Amount& amount) {
  std::string text = R"(<!DOCTYPE html>
<html lang="en" dir="ltr">
<head>
<meta charset="utf-8"/>
<meta name="viewport" content="width=device-width, initial-scale=1"/>
<meta name="color-scheme" content="light dark"/>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:"/>
<link rel="icon" href="data:,"/>
<title>)";
  text += escaped(title);
  text += "</title>\n<style>";
  text += page_style;
  text += "</style>\n</head>\n<body class=\"";
  text += density(amount);
  text += "\">\n";
  text += marks;
  text += body;
  return text + "</body>\n</html>\n";
}

std::string section(std::string_view id, std::string_view heading, const std::string& content) {
  if (content.empty()) return {};
  const std::string name(id);
  return "<section class=\"" + name + "\" aria-labelledby=\"" + name + "-heading\">\n<h2 id=\"" +
         name + "-heading\">" + escaped(heading) + "</h2>\n" + content + "</section>\n";
}

}  // namespace runnel::cli::sheet
