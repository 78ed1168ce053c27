// Any bytes as a catch-can test. What reads without an error must also have a result.

#include <cmath>
#include <cstddef>
#include <cstdint>

#include "fuzz_support.hpp"
#include "runnel/delivery/catch_cans.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using runnel::fuzz::require;
  const auto read = runnel::parse_catch_cans(runnel::fuzz::as_text(data, size), "cans.csv", {});
  runnel::fuzz::require_presentable(read.findings, read.value.has_value());
  if (!read.value) return 0;
  const runnel::CatchCanResult result = runnel::catch_can_result(*read.value);
  require(std::isfinite(result.rate.mm_per_hour()), "a rate is finite");
  require(result.du >= 0.0 && result.du <= 1.0, "a uniformity is a share");
  return 0;
}
