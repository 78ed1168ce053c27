#pragma once

#include <string>
#include <string_view>

#include "runnel/garden/site_weather.hpp"

namespace runnel {

/// FNV-1a of 64 bits (Fowler, Noll and Vo; constants from memory) over the bytes of the text but
/// carriage returns, so that other line ends make no difference; 16 hexadecimal digits. It tells a
/// slip of the pen, not a forgery.
[[nodiscard]] std::string digest(std::string_view text);

/// The same over the days before `before`: for each a line of its date, what reference ET was
/// computed from (or itself, where the file gives no more) and the rain, to four decimals.
[[nodiscard]] std::string digest(const DailyWeather& weather, Date before);

}  // namespace runnel
