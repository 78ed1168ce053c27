#pragma once

#include <chrono>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/calendar.hpp"

namespace runnel::cli {

/// Writes iCalendar (RFC 5545): lines end with CRLF and are folded at 75 octets, between characters
/// (section 3.1).
class CalendarWriter {
 public:
  void begin(const std::string& component);
  void end();
  /// A property as it stands, with its parameters: "DTSTART;VALUE=DATE".
  void property(std::string_view name, std::string_view value);
  /// A property of type TEXT: escaped.
  void text(std::string_view name, std::string_view value);

  [[nodiscard]] const std::string& written() const { return out_; }

 private:
  std::string out_;
  std::vector<std::string> open_;
};

/// RFC 5545 section 3.3.11: backslash, semicolon and comma escaped, a line end (LF, CRLF or a CR
/// alone) as "\n", other control characters, which it does not allow, as '?'.
[[nodiscard]] std::string calendar_text(std::string_view text);
/// "20270712" (section 3.3.4).
[[nodiscard]] std::string calendar_date(Date date);
/// "20270712T043000" (section 3.3.5), of a wall's clock.
[[nodiscard]] std::string calendar_time(std::chrono::local_seconds time);
/// "PT90M" (section 3.3.6).
[[nodiscard]] std::string calendar_duration(std::chrono::minutes length);
/// "+0930", with seconds where there are some (section 3.3.14).
[[nodiscard]] std::string calendar_offset(std::chrono::seconds east);

}  // namespace runnel::cli
