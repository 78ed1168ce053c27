#include "sheet/by_hand_section.hpp"

#include "by_hand.hpp"
#include "sheet/html.hpp"
#include "sheet/valve_name.hpp"

namespace runnel::cli::sheet {
namespace {

/// @param index of the run in the plan
std::string run_row(const Display& display, const Plan& plan, std::size_t index,
                    const std::string& says) {
  const HandRun& run = plan.by_hand[index];
  const auto at = [index](std::string_view key) { return pointer("by_hand", index, key); };
  return "<tbody>\n<tr>\n" + valve_heading(plan, run.valve, at("valve"), "row") +
         "<td class=\"litres\">" +
         with_unit(display, Shown::volume, at("litres"), litres_by_hand(plan, run), 1) +
         "</td>\n<td class=\"minutes\">" + figure(at("minutes"), run.minutes, 0) +
         " <small>min</small></td>\n</tr>\n" +
         (says.empty() ? says
                       : "<tr class=\"why\">\n<td colspan=\"3\">" + says + "</td>\n</tr>\n") +
         "</tbody>\n";
}

std::string table(const Plan& plan, const std::string& rows) {
  return "<table class=\"set\">\n<caption>Before " + day(plan.from) +
         ", in the evening or early in the morning</caption>\n<thead>\n<tr><th "
         "scope=\"col\">Valve</th><th scope=\"col\" class=\"litres\">Water</th><th scope=\"col\" "
         "class=\"minutes\">Minutes</th></tr>\n</thead>\n" +
         rows + "</table>\n";
}

}  // namespace

std::string by_hand_content(const Display& display, const Plan& plan) {
  std::string rows;
  for (std::size_t i = 0; i < plan.by_hand.size(); ++i)
    rows += run_row(display, plan, i, "As the plan before said; counted as given");
  return rows.empty() ? rows : table(plan, rows);
}

std::string by_hand_content(const Display& display, const SavedPlan& before, const Replan& again) {
  const Plan& plan = again.planned.plan;
  if (plan.by_hand.empty()) return "<p>Nothing.</p>\n";
  std::string rows;
  for (std::size_t i = 0; i < plan.by_hand.size(); ++i)
    rows += run_row(display, plan, i,
                    decided_before(before, plan, plan.by_hand[i].valve)
                        ? "<strong>As the plan before said already:</strong> not once more"
                        : "");
  return table(plan, rows);
}

}  // namespace runnel::cli::sheet
