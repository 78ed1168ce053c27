#pragma once

#include <chrono>
#include <optional>
#include <string>

#include "commands.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// An iCalendar file (RFC 5545) of the days on which a person must act, with what to do, and where
/// the options ask for it of each watering. UIDs come of the garden's name, what it is about, the
/// date and the valve; of a later plan the SEQUENCE is higher. Since no clock is read, both it and
/// DTSTAMP come of the plan's first day.
/// @param before the plan in force, if any: what it sets alike is not to be set anew, and waterings
/// that fell away since are marked as cancelled.
[[nodiscard]] std::string plan_calendar(const Garden& garden, const GardenPlan& planned,
                                        const std::optional<SavedPlan>& before,
                                        const PlanOptions& options);

/// What cannot be asked for together, in words; empty when all is well.
[[nodiscard]] std::string calendar_fault(const PlanOptions& options);

}  // namespace runnel::cli
