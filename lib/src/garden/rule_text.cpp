#include "rule_text.hpp"

#include <optional>
#include <string_view>
#include <utility>
#include <vector>

namespace runnel {
namespace {

/// Items with commas between them.
class List {
 public:
  void add(std::string_view item) { text_.append(text_.empty() ? "" : ", ").append(item); }
  [[nodiscard]] std::string text() && { return std::move(text_); }

 private:
  std::string text_;
};

std::string hours_text(const std::vector<Window>& hours, const Display& display) {
  std::string text;
  for (const Window& window : hours)
    text += (text.empty() ? "" : " and ") + clock_span(display, window.opens, window.closes);
  return text;
}

void add_most(List& says, const std::optional<int>& minutes, const std::optional<double>& litres,
              const std::string& when, const Display& display) {
  if (minutes) says.add("at most " + std::to_string(*minutes) + " min " + when);
  if (litres) says.add("at most " + measure(display, Shown::volume, *litres, 0) + " " + when);
}

}  // namespace

std::string rule_text(const WateringRule& rule, const Display& display) {
  List says;
  if (rule.days) says.add("only " + to_text(Weekdays{.on = *rule.days}));
  if (rule.odd_dates) says.add("only " + to_text(DateParity{.odd = *rule.odd_dates}));
  if (!rule.hours.empty()) says.add("only " + hours_text(rule.hours, display));
  if (!rule.not_between.empty()) says.add("not " + hours_text(rule.not_between, display));
  add_most(says, rule.most_minutes_a_day, rule.most_litres_a_day, "a day", display);
  add_most(says, rule.most_minutes_a_week, rule.most_litres_a_week, "a week", display);
  if (rule.not_in_wind_above_m_s)
    says.add("not in wind above " + measure(display, Shown::speed, *rule.not_in_wind_above_m_s, 1));
  if (rule.not_below_c)
    says.add("not below " + measure(display, Shown::temperature, *rule.not_below_c, 0));
  return std::move(says).text();
}

}  // namespace runnel
