#include <algorithm>
#include <array>
#include <variant>

#include "runnel/demand/plants.hpp"
#include "runnel/units/number.hpp"
#include "uncertain_inputs.hpp"

namespace runnel {
namespace {

// As little as a garden file may state: a class may begin at nothing.
constexpr double least_coefficient = 0.01;

/// A coefficient that the tables give, as so many times itself.
void add_coefficient(const UncertainZone& of, std::string_view doubt, double taken, Span range) {
  of.add(doubt, taken, std::max(least_coefficient, range.low), range.high, as_factor,
         [taken](Zone& zone, double value) { zone.plants.times_coefficient = value / taken; });
}

void add_depths(const UncertainZone& of, double taken_m, Span roots_m, double p, Span range_p) {
  const PlantsEntry& entry = of.zone().plants;
  if (!entry.root_depth_m && !of.in_pots())
    of.add("root depth", taken_m, roots_m.low, roots_m.high, of.shown_as(Shown::size, 0),
           [](Zone& zone, double depth_m) { zone.plants.root_depth_m = depth_m; });
  if (!entry.allowable_depletion)
    of.add("allowable depletion", p, range_p.low, range_p.high, in_percent,
           [](Zone& zone, double share) { zone.plants.allowable_depletion = share; });
}

/// The density stated, within what is published of it; where none is, sparse to dense.
void add_density(const UncertainZone& of, const Landscape& planting) {
  static constexpr std::array<const char*, 3> words = {"sparse", "average", "dense"};
  const std::string& density = of.zone().plants.density;
  const auto at =
      static_cast<std::size_t>(std::find(words.begin(), words.end(), density) - words.begin());
  if (at == words.size()) return;
  if (of.states("plants.density")) {
    const double taken = planting.density_factor.at(at);
    return add_coefficient(of, "density", taken, planting.density_published.at(at));
  }
  const auto text = [&planting](std::size_t i) {
    return std::string(words.at(i)) + ", " + as_factor(planting.density_factor.at(i));
  };
  const auto put = [index = of.index()](const char* word) {
    return [=](Garden& garden) { garden.zones[index].plants.density = word; };
  };
  of.add({.row = &doubt_row("density"),
          .zone = of.index(),
          .taken = text(at),
          .low = text(0),
          .high = text(2),
          .put_low = put(words.front()),
          .put_high = put(words.back())});
}

void add_species(const UncertainZone& of, const Landscape& planting) {
  const std::string& need = of.zone().plants.water_need;
  const auto& needs = plant_table().needs;
  for (std::size_t i = 0; i < needs.size(); ++i)
    if (needs.at(i).name == need && planting.factor_by_need)
      return add_coefficient(of, "water need", planting.factor_by_need->at(i), needs.at(i).factor);
  add_coefficient(of, "water need", planting.factor, planting.published);
}

struct OfPlants {
  const UncertainZone& of;

  void operator()(const Landscape& planting) const {
    const PlantsEntry& entry = of.zone().plants;
    if (!entry.coefficient) {
      if (of.in_pots()) {
        add_coefficient(of, "coefficient of pots", planting.container_coefficient,
                        planting.container_published);
      } else {
        add_species(of, planting);
        if (!entry.cover) add_density(of, planting);
      }
    }
    add_depths(of, planting.root_depth_m, planting.root_published_m, planting.p,
               planting.p_published);
  }

  void operator()(const Turf& turf) const {
    if (!of.zone().plants.coefficient)
      of.add("coefficient of a lawn", 1.0, in_percent,
             [](Zone& zone, double times) { zone.plants.times_coefficient = times; });
    add_depths(of, turf.root_depth_m, turf.root_published_m, turf.p, turf.p_published);
  }

  void operator()(const Crop& crop) const {
    const PlantsEntry& entry = of.zone().plants;
    if (!entry.coefficient && !entry.coefficients) {
      const bool basal = entry.dual.value_or(!of.in_pots() && !entry.wetted_every_days);
      add_coefficient(of, "coefficient of a crop", basal ? crop.kcb.mid : crop.kc.mid,
                      basal ? crop.kcb_mid : crop.kc_mid);
    }
    if (!entry.coefficient && !entry.stages) add_stages(crop);
    // Of p there is one figure only (FAO-56 Table 22).
    add_depths(of, crop.root_depth_m, {crop.root_depth_m, crop.root_depth_most_m}, crop.p,
               {crop.p, crop.p});
  }

 private:
  void add_stages(const Crop& crop) const {
    if (!crop.stages) return;
    StageLengths shortest = *crop.stages;
    StageLengths longest = *crop.stages;
    for (const PublishedStages& published : plant_table().stages) {
      if (published.crop != crop.name) continue;
      if (published.lengths.total() < shortest.total()) shortest = published.lengths;
      if (published.lengths.total() > longest.total()) longest = published.lengths;
    }
    if (shortest.total() == longest.total()) return;
    const auto text = [](const StageLengths& stages) {
      return std::to_string(stages.total()) + " days";
    };
    const auto put = [index = of.index()](const StageLengths& stages) {
      return [=](Garden& garden) { garden.zones[index].plants.stages = stages; };
    };
    of.add({.row = &doubt_row("stages"),
            .zone = of.index(),
            .taken = text(*crop.stages),
            .low = text(shortest),
            .high = text(longest),
            .put_low = put(shortest),
            .put_high = put(longest)});
  }
};

}  // namespace

void add_uncertain_plants(const UncertainZone& of) {
  const PlantsEntry& entry = of.zone().plants;
  const auto plant =
      entry.is_crop ? find_crop(plant_table(), entry.name) : find_kind(plant_table(), entry.name);
  if (plant) std::visit(OfPlants{of}, *plant);
}

}  // namespace runnel
