#pragma once

#include <cstddef>
#include <string>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/replan.hpp"
#include "settings.hpp"

namespace runnel::cli {

/// What is set on a valve before and after a plan was looked at again.
struct ValveChange {
  Setting was, now;
  bool days, starts, minutes;  ///< which of them differ
  [[nodiscard]] bool switched_off() const { return now.starts == "-"; }
};
[[nodiscard]] ValveChange change_of(const Garden& garden, const SavedPlan& before,
                                    const Replan& again, const ValveAdvice& advice);

/// What to do about the valve of a zone.
[[nodiscard]] const ValveAdvice& advice_of(const Replan& again, int valve);

/// Settings to be typed anew on all valves; of shared programmes they are counted for each valve
/// that one moves.
[[nodiscard]] int settings_changed(const Replan& again);

/// Why the valve of a zone is to be left, or what speaks for touching it, without a full stop.
[[nodiscard]] std::string reason(const Display& display, const Replan& again, std::size_t zone);

}  // namespace runnel::cli
