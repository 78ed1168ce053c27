#include <algorithm>
#include <array>
#include <bitset>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "read_garden_parts.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/garden/garden.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/nearest.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_wind_m_s{.least = 0.1, .most = 60.0};
constexpr Range any_temperature_c{.least = -30.0, .most = 30.0};
constexpr Range any_litres{.least = 0.1, .most = 1e7};
constexpr int day_min = 24 * 60;

std::bitset<7> read_weekdays(const YamlField& field) {
  std::bitset<7> days;
  const std::vector<YamlField> items = field.list();
  if (items.empty() && field.is_list())
    field.error("no day of the week is named", "write at least one, such as [Wed, Sat]");
  for (const YamlField& item : items) {
    const auto written = item.text();
    if (!written) continue;
    if (const auto day = parse_weekday(*written)) {
      days.set(static_cast<std::size_t>(*day));
    } else {
      item.error(quoted(*written) + " is no day of the week",
                 "write Mon, Tue, Wed, Thu, Fri, Sat or Sun");
    }
  }
  return days;
}

std::optional<WallTime> read_finish(const YamlField& field) {
  const auto written = field.text();
  if (!written) return std::nullopt;
  const auto time = parse_clock(*written);
  if (time && time->count() > 0) return time;
  field.error(quoted(*written) + " is no time of the day to finish by",
              "write hours and minutes, such as \"07:00\"");
  return std::nullopt;
}

/// Water as time or volume.
struct Most {
  std::optional<int> minutes = {};
  std::optional<double> litres = {};
};

Most read_most(const YamlField& field, int days) {
  const auto written = field.text();
  if (!written) return {};
  if (parse_measure(*written, Dimension::volume).fault.empty())
    return {.litres = field.measure(Dimension::volume, any_litres)};
  if (!parse_measure(*written, Dimension::duration).fault.empty()) {
    field.error(quoted(*written) + " is neither a time nor a volume of water",
                "write it for each valve, such as 20 min, or for all its zones together, such as "
                "60 L");
    return {};
  }
  const auto minutes = field.measure(Dimension::duration,
                                     {.least = 1.0, .most = static_cast<double>(days) * day_min});
  if (!minutes) return {};
  return {.minutes = static_cast<int>(std::floor(*minutes))};
}

/// Whom a rule can be for, while the file is read.
class Whom {
 public:
  explicit Whom(const std::vector<Zone>& zones)
      : zones_(zones), types_(emitter_types(published_table("emitters"))) {
    for (const Zone& zone : zones) names_.emplace_back(zone.name);
  }

  [[nodiscard]] std::vector<std::size_t> read(const YamlField& field) const {
    if (!field.written()) return all([](const Zone&) { return true; });
    std::vector<std::size_t> chosen;
    if (field.is_list()) {
      const std::vector<YamlField> items = field.list();
      if (items.empty())
        field.error("the rule is for no zone", "name zones, or leave the entry out for all");
      for (const YamlField& item : items)
        if (const auto zone = named(item, names_)) chosen.push_back(*zone);
      std::sort(chosen.begin(), chosen.end());
      chosen.erase(std::unique(chosen.begin(), chosen.end()), chosen.end());
      return chosen;
    }
    return of_words(field);
  }

 private:
  template <class Fits>
  [[nodiscard]] std::vector<std::size_t> all(Fits&& fits) const {
    std::vector<std::size_t> chosen;
    for (std::size_t z = 0; z < zones_.size(); ++z)
      if (fits(zones_[z])) chosen.push_back(z);
    return chosen;
  }

  [[nodiscard]] std::optional<std::size_t> named(const YamlField& field,
                                                 const std::vector<std::string_view>& words) const {
    const auto name = field.one_of(words, "zone");
    if (!name) return std::nullopt;
    const auto found = std::find_if(zones_.begin(), zones_.end(), [&](const Zone& zone) {
      return lower(zone.name) == lower(*name);
    });
    return static_cast<std::size_t>(found - zones_.begin());
  }

  /// "sprays", "drip", or the name of one zone.
  [[nodiscard]] std::vector<std::size_t> of_words(const YamlField& field) const {
    static constexpr std::string_view sprays = "sprays";
    static constexpr std::string_view drip = "drip";
    const auto written = field.text();
    if (!written) return {};
    const bool of_sprays = lower(*written) == sprays;
    if (!of_sprays && lower(*written) != drip) {
      std::vector<std::string_view> words = names_;
      words.push_back(sprays);
      words.push_back(drip);
      const auto zone = named(field, words);
      return zone ? std::vector<std::size_t>{*zone} : std::vector<std::size_t>{};
    }
    std::vector<std::size_t> chosen = all([&](const Zone& zone) {
      const EmitterType* const type = find_emitter_type(types_, zone.emitters.type);
      return type != nullptr && type->drip != of_sprays;
    });
    if (chosen.empty())
      field.doubt(of_sprays ? "no zone is watered from above: the rule is for nothing"
                            : "no zone has drip: the rule is for nothing",
                  "name the zones it is meant for");
    return chosen;
  }

  const std::vector<Zone>& zones_;
  std::vector<EmitterType> types_;
  std::vector<std::string_view> names_;
};

WateringRule read_rule(const YamlField& field, const Whom& whom) {
  WateringRule rule{.at = field.place()};
  YamlMap map = field.map();
  if (!map.readable()) return rule;
  static constexpr std::array<std::string_view, 2> parities = {"odd", "even"};
  const YamlField days = map.field("days");
  const YamlField hours = map.field("hours");
  const YamlField not_between = map.field("not between");
  if (days.written()) rule.days = read_weekdays(days);
  if (const auto dates = map.field("dates").one_of(parities, "kind of dates"))
    rule.odd_dates = *dates == parities[0];
  if (hours.written()) rule.hours = read_hours(hours, "hours");
  if (not_between.written()) rule.not_between = read_hours(not_between, "hours without water");
  const Most a_day = read_most(map.field("most a day"), 1);
  const Most a_week = read_most(map.field("most a week"), 7);
  rule.most_minutes_a_day = a_day.minutes;
  rule.most_litres_a_day = a_day.litres;
  rule.most_minutes_a_week = a_week.minutes;
  rule.most_litres_a_week = a_week.litres;
  rule.not_in_wind_above_m_s =
      map.field("not in wind above").measure(Dimension::speed, any_wind_m_s);
  rule.not_below_c = map.field("not below").measure(Dimension::temperature, any_temperature_c);
  rule.zones = whom.read(map.field("for"));
  map.refuse_others();
  if (rule.days && rule.days->none()) rule.days.reset();  // refused already
  if (map.all().size() == (map.has("for") ? 1U : 0U))
    field.error("the rule says nothing",
                "write what it asks for, such as \"days: [Wed, Sat]\" or \"most a day: 20 min\"");
  return rule;
}

}  // namespace

ZoneWishes read_wishes(YamlMap& map) {
  ZoneWishes wishes;
  const YamlField hours = map.field("hours");
  const YamlField finish_by = map.field("finish by");
  const YamlField not_on = map.field("not on");
  wishes.hours_at = hours.value_place();
  wishes.finish_by_at = finish_by.value_place();
  wishes.not_on_at = not_on.value_place();
  if (hours.written()) wishes.hours = read_hours(hours, "hours");
  wishes.finish_by = read_finish(finish_by);
  if (not_on.written()) wishes.not_on = read_weekdays(not_on);
  static constexpr std::array<std::string_view, 2> evenings = {"avoid", "fine"};
  wishes.evening_fine = map.field("evening").one_of(evenings, "wish for the evening") == "fine";
  return wishes;
}

std::vector<WateringRule> read_rules(const YamlField& field, const std::vector<Zone>& zones) {
  std::vector<WateringRule> rules;
  if (!field.written()) return rules;
  const Whom whom(zones);
  for (const YamlField& item : field.list()) rules.push_back(read_rule(item, whom));
  return rules;
}

}  // namespace runnel
