// Any bytes as a weather file. The first byte chooses how the file is laid out.

#include <chrono>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>

#include "fuzz_support.hpp"
#include "runnel/sky/site.hpp"
#include "runnel/weather/gaps.hpp"
#include "runnel/weather/quality.hpp"
#include "runnel/weather/series.hpp"
#include "runnel/weather/weather_csv.hpp"

namespace {

using runnel::Variable;
using runnel::WeatherSeries;
using runnel::fuzz::require;

void require_consistent(const WeatherSeries& series) {
  require(series.rows() > 0, "a series has rows");
  for (std::size_t i = 0; i < runnel::variable_count; ++i) {
    const auto rows = series.columns[i].size();
    require(rows == 0 || rows == series.rows(), "columns are as long as the series");
    require(series.origins[i].size() == static_cast<std::size_t>(rows), "each value has an origin");
    require(!series.columns[i].isInf().any(), "no value is infinite");
  }
  if (!series.has(Variable::t_max_c) || !series.has(Variable::t_min_c)) return;
  for (Eigen::Index row = 0; row < series.rows(); ++row) {
    // Not a missing value's comparison: NaN is never below.
    require(!(series[Variable::t_max_c][row] < series[Variable::t_min_c][row]),
            "no Tmin lies above Tmax");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  runnel::WeatherLayout layout;
  layout.hour_label_is_end = (data[0] & 1U) != 0;
  layout.utc_offset = std::chrono::minutes((data[0] & 2U) != 0 ? 570 : 0);
  if ((data[0] & 4U) != 0) layout.columns = {{"tmax", "MX [degF]"}, {"rain", "RR"}};

  const auto text = runnel::fuzz::as_text(data + 1, size - 1);
  auto read = runnel::parse_weather(text, "w.csv", layout);
  runnel::fuzz::require_presentable(read.findings, read.value.has_value());
  if (!read.value) return 0;
  require_consistent(*read.value);

  const runnel::Site site{.latitude_deg = 38.72, .longitude_deg = -9.14, .elevation_m = 95.0};
  (void)runnel::check_quality(*read.value, site, "w.csv");
  auto filled = runnel::fill_gaps(*std::move(read.value), "w.csv");
  runnel::fuzz::require_presentable(filled.findings, filled.value.has_value());
  if (filled.value) require_consistent(runnel::daily(*filled.value));
  return 0;
}
