#pragma once

#include <optional>
#include <string>
#include <vector>

#include "runnel/delivery/catch_cans.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/delivery/uniformity.hpp"
#include "runnel/units/display.hpp"

namespace runnel::cli {

/// A test, what it shows, and what is usual for that type of emitter.
struct Audit {
  std::string file;
  CatchCanTest test;
  CatchCanResult result;
  EmitterType type;
  std::optional<UniformityRating> rating;  ///< sprinklers only
};

/// The line that goes into a garden file; empty when the figures are beyond what it takes.
[[nodiscard]] std::string garden_line(const Audit& audit, const Display& display = {});

[[nodiscard]] std::string audit_text(const Audit& audit, const Display& display);
/// One row for each can.
[[nodiscard]] std::string audit_csv(const Audit& audit);
[[nodiscard]] std::string audit_json(const Audit& audit);

}  // namespace runnel::cli
