// Any bytes as a plan file, as they are and with the digest that makes them unedited. What reads
// must come back from its own text unchanged, and carry on.

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "fuzz_support.hpp"
#include "runnel/garden/carry_on.hpp"
#include "runnel/garden/plan_file.hpp"

namespace {

using runnel::fuzz::require;

void check(std::string_view text) {
  const auto read = runnel::read_plan_file(text, "p.yaml");
  runnel::fuzz::require_presentable(read.findings, read.value.has_value());
  if (!read.value) return;
  const std::string written = runnel::plan_file_text(*read.value);
  const auto again = runnel::read_plan_file(written, "p.yaml");
  require(again.value.has_value(), "a plan that is written can be read",
          again.findings.empty() ? "" : to_text(again.findings.front()));
  require(runnel::plan_file_text(*again.value) == written, "and comes back unchanged", written);
  const auto water = runnel::planned_water(*read.value, read.value->from + std::chrono::days{20});
  for (const runnel::PastRun& run : water.runs)
    require(run.minutes >= 0.0 && run.date < read.value->from + std::chrono::days{20},
            "what ran is past", written);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = runnel::fuzz::as_text(data, size);
  check(text);
  const std::size_t digest_line = text.rfind("  text above: ");
  if (digest_line != std::string_view::npos)
    check(runnel::with_digest(std::string(text.substr(0, digest_line))));
  return 0;
}
