#pragma once

#include <string>
#include <utility>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// What the check of the programmes objects to.
class Faults {
 public:
  void add(std::string key, std::string says, std::string mend) {
    findings_.push_back({.kind = Finding::Kind::error,
                         .at = {.file = "", .line = 0, .column = 0, .key = std::move(key)},
                         .says = std::move(says),
                         .mend = std::move(mend)});
  }
  void add(int valve, std::string says, std::string mend) {
    add("valve " + std::to_string(valve), std::move(says), std::move(mend));
  }
  [[nodiscard]] std::vector<Finding> take() { return std::move(findings_); }

 private:
  std::vector<Finding> findings_;
};

}  // namespace runnel
