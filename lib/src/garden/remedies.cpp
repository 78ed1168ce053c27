#include "runnel/garden/remedies.hpp"

#include <algorithm>
#include <cstdint>
#include <numeric>
#include <optional>
#include <tuple>

#include "garden_changes.hpp"
#include "rule_text.hpp"
#include "runnel/units/number.hpp"

namespace runnel {
namespace {

// Bounds of the search (our choices): zones looked at one by one, pairs tried, changes at once, and
// plans, each counted by its zones, so that a large garden does not take for ever.
constexpr std::size_t most_zones_alone = 10;
constexpr std::size_t most_rules = 10;
constexpr std::size_t most_partial_in_pairs = 4;
constexpr std::size_t most_changes_together = 4;
constexpr std::size_t enough_remedies = 3;
constexpr std::size_t enough_that_fit = 5;
constexpr std::size_t most_ways_of_hours = 2;
constexpr std::int64_t most_zones_planned = 180;
constexpr std::int64_t most_zones_planned_in_all = 300;  // while nothing fits
constexpr std::int64_t most_zones_planned_away = 120;    // in all, for an absence
/// So many futures double what a plan takes, about: measured with six zones.
constexpr std::int64_t futures_that_double = 64;
/// A remedy must take away that share of what falls short to be worth naming.
constexpr double least_share_mended = 0.02;

/// Changes made together, each in a size.
struct Choice {
  std::vector<const GardenChange*> changes;
  std::vector<int> sizes;
};

Choice at_most(std::vector<const GardenChange*> changes) {
  Choice choice{.changes = std::move(changes), .sizes = {}};
  for (const GardenChange* change : choice.changes) choice.sizes.push_back(change->sizes);
  return choice;
}

Choice with(Choice choice, const GardenChange& further) {
  choice.changes.push_back(&further);
  choice.sizes.push_back(further.sizes);
  return choice;
}

/// A choice and what planning with it gave.
struct Tried {
  Choice choice;
  Remedy remedy;
  [[nodiscard]] bool fits() const { return remedy.zones_short == 0; }
  [[nodiscard]] Ease hardest() const {
    Ease hardest = Ease::hours;
    for (const GardenChange* change : choice.changes) hardest = std::max(hardest, change->ease);
    return hardest;
  }
};

bool better(const Tried& a, const Tried& b) {
  if (a.fits() != b.fits()) return a.fits();
  const auto key = [](const Tried& tried) {
    const Remedy& remedy = tried.remedy;
    return std::tuple(remedy.harm_mm, tried.hardest(), tried.choice.changes.size(), remedy.litres);
  };
  return key(a) < key(b);
}

double harm_mm(const Plan& plan) {
  return std::accumulate(
      plan.zones.begin(), plan.zones.end(), 0.0,
      [](double sum_mm, const ZonePlan& zone) { return sum_mm + zone.beyond_mm + zone.unmet_mm; });
}

/// Less harm by enough to be worth naming.
bool helps(double now_mm, double then_mm) { return then_mm <= (1.0 - least_share_mended) * now_mm; }

void sum_up(Remedy& remedy) {
  remedy.harm_mm = harm_mm(remedy.plan);
  for (const ZonePlan& zone : remedy.plan.zones) {
    remedy.zones_short += zone.days_beyond > 0 ? 1 : 0;
    remedy.days_beyond += zone.days_beyond;
    remedy.litres += zone.gross_litres;
  }
}

class Search {
 public:
  Search(const Garden& garden, const GardenPlan& planned, const PlanRequest& request)
      : garden_(garden), planned_(planned), request_(request) {
    now_.plan = planned.plan;
    if (planned.away) may_plan_ = most_zones_planned_away;
    sum_up(now_);
    collect_changes();
  }

  [[nodiscard]] std::vector<Remedy> run() {
    add_single();
    if (fitting() == 0 || found_.size() < enough_remedies) add_pairs();
    may_plan_ = planned_.away ? most_zones_planned_away : most_zones_planned_in_all;
    if (fitting() == 0) add_further();
    std::stable_sort(found_.begin(), found_.end(), better);
    std::vector<Remedy> remedies;
    for (Tried& tried : found_) remedies.push_back(std::move(tried.remedy));
    return remedies;
  }

 private:
  void collect_changes() {
    const auto append = [this](std::vector<GardenChange> more) {
      std::move(more.begin(), more.end(), std::back_inserter(changes_));
    };
    append(changes_of_hours(garden_, planned_));
    append(changes_of_timer(garden_, planned_));
    const std::vector<std::size_t> zones = short_zones();
    if (zones.size() > most_zones_alone) return;
    for (const std::size_t zone : zones) append(changes_of_zone(garden_, planned_, zone));
    for (const std::size_t zone : zones) append(changes_of_wishes(garden_, zone));
    if (planned_.away)  // which looks at them under the programme as it is
      std::erase_if(changes_, [](const GardenChange& one) { return keeps_programme(one.ease); });
    std::stable_sort(changes_.begin(), changes_.end(),
                     [](const GardenChange& a, const GardenChange& b) { return a.ease < b.ease; });
  }

  /// The driest first.
  [[nodiscard]] std::vector<std::size_t> short_zones() const {
    const std::vector<ZonePlan>& zones = planned_.plan.zones;
    std::vector<std::size_t> falling_short;
    for (std::size_t z = 0; z < zones.size(); ++z)
      if (zones[z].days_beyond > 0) falling_short.push_back(z);
    std::stable_sort(
        falling_short.begin(), falling_short.end(), [&zones](std::size_t a, std::size_t b) {
          return zones[a].beyond_mm + zones[a].unmet_mm > zones[b].beyond_mm + zones[b].unmet_mm;
        });
    return falling_short;
  }

  /// Harder ones are not looked for where easier ones that fit are enough.
  void add_single() {
    Ease ease = Ease::hours;
    for (const GardenChange& change : changes_) {
      if (change.ease > ease) {
        if (ease == Ease::hours) keep_best_hours();
        if (fitting() >= enough_that_fit) return;
        ease = change.ease;
      }
      // All ways at once only where none is enough.
      const std::size_t enough = &change == longest_hours() ? 1 : most_ways_of_hours;
      if (change.ease == Ease::hours && fitting() >= enough) continue;
      add(least(at_most({&change})));
    }
  }

  /// All found so far are of hours.
  void keep_best_hours() {
    std::stable_sort(found_.begin(), found_.end(), better);
    if (found_.size() > most_ways_of_hours)
      found_.erase(found_.begin() + most_ways_of_hours, found_.end());
  }

  [[nodiscard]] bool spent() const { return zones_planned_ >= may_plan_; }
  [[nodiscard]] std::size_t fitting() const {
    return static_cast<std::size_t>(
        std::count_if(found_.begin(), found_.end(), [](const Tried& one) { return one.fits(); }));
  }
  void add(std::optional<Tried> tried) {
    if (tried) found_.push_back(*std::move(tried));
  }

  [[nodiscard]] Tried plan(const Choice& choice) {
    Tried tried{.choice = choice, .remedy = {.does = {}, .garden = garden_, .plan = {}}};
    std::vector<std::size_t> zones;
    for (std::size_t i = 0; i < choice.changes.size(); ++i) {
      const GardenChange& change = *choice.changes[i];
      ChangedGarden changed = change.make(tried.remedy.garden, choice.sizes[i]);
      tried.remedy.does += (i > 0 ? "; together with " : "") + changed.does;
      tried.remedy.garden = std::move(changed.garden);
      zones.insert(zones.end(), change.zones.begin(), change.zones.end());
    }
    tried.remedy.plan = plan_again(tried.remedy.garden, planned_, zones, request_);
    zones_planned_ += static_cast<std::int64_t>(tried.remedy.garden.zones.size()) *
                      (futures_that_double + planned_.weather.futures()) *
                      planned_.weather.eto_mm.size() / (futures_that_double * horizon_days);
    sum_up(tried.remedy);
    return tried;
  }

  /// The least sizes after which nothing falls short, one change after the other; the choice as it
  /// is where it helps but in part; nothing where it does not.
  [[nodiscard]] std::optional<Tried> least(const Choice& choice) {
    if (spent()) return std::nullopt;
    Tried best = plan(choice);
    if (!best.fits())
      return helps(now_.harm_mm, best.remedy.harm_mm) ? std::optional(std::move(best))
                                                      : std::nullopt;
    return shrunk(std::move(best));
  }

  [[nodiscard]] Tried shrunk(Tried best) {
    for (std::size_t i = 0; i < best.choice.changes.size(); ++i) {
      int too_little = 0;
      while (best.choice.sizes[i] - too_little > 1 && !spent()) {
        Choice smaller = best.choice;
        smaller.sizes[i] = next_size(*best.choice.changes[i], too_little, best.choice.sizes[i]);
        Tried tried = plan(smaller);
        if (tried.fits()) {
          best = std::move(tried);
        } else {
          too_little = smaller.sizes[i];
        }
      }
      if (best.choice.changes[i]->ease == Ease::hours) hours_needed_ = best.choice.sizes[i];
    }
    return best;
  }

  /// Between one that is too little and one that is enough: half-way, or where other hours that
  /// were enough say that the least lies.
  [[nodiscard]] int next_size(const GardenChange& change, int too_little, int enough) const {
    if (change.ease == Ease::hours)
      for (const int size : {hours_needed_, hours_needed_ - 1})
        if (size > too_little && size < enough) return size;
    return std::midpoint(too_little, enough);
  }

  /// Whether two changes cannot be made side by side: they change the same thing.
  [[nodiscard]] static bool same_thing(const GardenChange& a, const GardenChange& b) {
    if (a.ease != b.ease) return false;
    return a.ease == Ease::hours || a.ease == Ease::emitters || a.ease == Ease::valves
               ? a.zones == b.zones
               : &a == &b;
  }

  [[nodiscard]] std::vector<Choice> pairs() const {
    std::vector<const Tried*> partial;
    for (const Tried& tried : found_)
      if (!tried.fits()) partial.push_back(&tried);
    std::stable_sort(partial.begin(), partial.end(),
                     [](const Tried* a, const Tried* b) { return better(*a, *b); });
    std::vector<Choice> pairs;
    const auto add_pair = [&pairs](const GardenChange& a, const GardenChange& b) {
      if (same_thing(a, b)) return;
      const bool known = std::any_of(pairs.begin(), pairs.end(), [&](const Choice& pair) {
        return std::find(pair.changes.begin(), pair.changes.end(), &a) != pair.changes.end() &&
               std::find(pair.changes.begin(), pair.changes.end(), &b) != pair.changes.end();
      });
      if (!known) pairs.push_back(at_most({&a, &b}));
    };
    const std::size_t most = std::min(partial.size(), most_partial_in_pairs);
    for (std::size_t i = 0; i < most; ++i)
      for (std::size_t j = i + 1; j < most; ++j)
        add_pair(*partial[i]->choice.changes[0], *partial[j]->choice.changes[0]);
    // What changes nothing alone may be what the longest hours still lack.
    const GardenChange* longest = longest_hours();
    if (longest != nullptr)
      for (const GardenChange& change : changes_) add_pair(*longest, change);
    return pairs;
  }

  [[nodiscard]] const GardenChange* longest_hours() const {
    const GardenChange* longest = nullptr;
    for (const GardenChange& change : changes_)
      if (change.ease == Ease::hours) longest = &change;  // all ways at once stand last
    return longest;
  }

  void add_pairs() {
    for (const Choice& pair : pairs()) {
      auto tried = least(pair);
      if (tried && beats_its_parts(*tried)) add(std::move(tried));
    }
  }

  /// Whether it does more than any one of its changes does alone.
  [[nodiscard]] bool beats_its_parts(const Tried& tried) const {
    return std::none_of(found_.begin(), found_.end(), [&](const Tried& other) {
      return std::all_of(other.choice.changes.begin(), other.choice.changes.end(),
                         [&](const GardenChange* change) {
                           const auto& own = tried.choice.changes;
                           return std::find(own.begin(), own.end(), change) != own.end();
                         }) &&
             (other.fits() || !helps(other.remedy.harm_mm, tried.remedy.harm_mm));
    });
  }

  /// Change upon change, each time the one that leaves the least, until all fits.
  void add_further() {
    if (found_.empty()) return;
    Tried best = *std::min_element(found_.begin(), found_.end(), better);
    while (!best.fits() && best.choice.changes.size() < most_changes_together) {
      std::optional<Tried> next;
      for (const GardenChange& change : changes_) {
        const auto& made = best.choice.changes;
        if (std::any_of(made.begin(), made.end(),
                        [&](const GardenChange* other) { return same_thing(*other, change); }))
          continue;
        if (spent()) break;
        Tried tried = plan(with(best.choice, change));
        if (!next || better(tried, *next)) next = std::move(tried);
      }
      if (!next || !better(*next, best)) return;
      best = *std::move(next);
    }
    if (!best.fits()) return;
    found_.push_back(shrunk(std::move(best)));
  }

  const Garden& garden_;
  const GardenPlan& planned_;
  const PlanRequest& request_;
  Remedy now_;
  std::vector<GardenChange> changes_;
  std::vector<Tried> found_;
  int hours_needed_ = 0;  // the last size of longer hours that was the least
  std::int64_t zones_planned_ = 0;
  std::int64_t may_plan_ = most_zones_planned;
};

}  // namespace

std::vector<Remedy> remedies(const Garden& garden, const GardenPlan& planned,
                             const PlanRequest& request) {
  if (planned.plan.unharmed()) return {};
  return Search(garden, planned, request).run();
}

std::vector<Finding> binding_rules(const Garden& garden, const GardenPlan& planned,
                                   const PlanRequest& request) {
  std::vector<Finding> binding;
  if (planned.plan.unharmed()) return binding;
  const double now_mm = harm_mm(planned.plan);
  for (std::size_t r = 0; r < std::min(most_rules, garden.rules.size()); ++r) {
    Garden without = garden;
    without.rules.erase(without.rules.begin() + static_cast<std::ptrdiff_t>(r));
    const double then_mm = harm_mm(plan_again(without, planned, {}, request));
    if (!helps(now_mm, then_mm)) continue;
    binding.push_back({.kind = Finding::Kind::remark,
                       .at = garden.rules[r].at,
                       .says = "the rule \"" + rule_text(garden.rules[r], garden.display) +
                               "\" binds: " + measure(garden.display, Shown::depth, now_mm, 0) +
                               " too little in all, without it " +
                               measure(garden.display, Shown::depth, then_mm, 0),
                       .mend = "local rules are to be kept: ask for an exception, or mend it "
                               "otherwise"});
  }
  return binding;
}

}  // namespace runnel
