#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel::fuzz {

[[nodiscard]] inline std::string_view as_text(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

/// A promise that must hold for every input, in release builds too.
inline void require(bool holds, std::string_view promise, std::string_view detail = {}) {
  if (holds) return;
  const std::string text = "broken: " + std::string(promise) + ": " + std::string(detail) + "\n";
  std::fputs(text.c_str(), stderr);
  std::abort();
}

/// What every reader promises of its findings.
inline void require_presentable(const std::vector<Finding>& findings, bool has_value) {
  require(has_value != has_error(findings), "a value exactly when there is no error");
  for (const Finding& finding : findings) {
    const std::string text = to_text(finding);
    require(!finding.says.empty(), "a finding says something", text);
    require(finding.at.line >= 0 && finding.at.column >= 0, "places are not negative", text);
    require(text.size() < 4000, "a finding is short enough to read", text.substr(0, 200));
    for (const char c : text) {
      const auto byte = static_cast<unsigned char>(c);
      require(byte >= 0x20U && byte != 0x7FU, "a finding cannot command the terminal", text);
    }
  }
}

}  // namespace runnel::fuzz

/// libFuzzer's entry; also called by replay_main.cpp.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);
