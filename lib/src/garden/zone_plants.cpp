#include "runnel/demand/plants.hpp"
#include "runnel/units/number.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

Plant look_up_plant(const PlantsEntry& plants) {
  const PlantTable table = plant_table();
  // The garden's reader has checked the name; a crop and a kind never share one.
  const auto plant = plants.planted ? find_crop(table, plants.name) : find_kind(table, plants.name);
  return plant ? *plant : find_crop(table, plants.name).value();
}

Growing growing(const ZoneContext& context) {
  const PlantsEntry& plants = context.zone.plants;
  const Density density = plants.density == "sparse"  ? Density::sparse
                          : plants.density == "dense" ? Density::dense
                                                      : Density::average;
  return {.density = density,
          .planted = plants.planted,
          .southern = context.garden.site.latitude_deg < 0.0,
          .in_containers = context.in_pots(),
          .climate = {.u2_m_s = context.weather.u2_m_s, .rh_min_pct = context.weather.rh_min_pct}};
}

/// A crop's coefficient goes by its planting date, and so do the roots of a bed: needed unless both
/// are stated.
void need_planting_date(const ZoneContext& context, const Plant& plant) {
  const PlantsEntry& plants = context.zone.plants;
  const bool all_stated = plants.coefficient && (plants.root_depth_m || context.in_pots());
  if (!std::holds_alternative<Crop>(plant) || plants.planted || all_stated) return;
  throw InputError(Finding{
      .kind = Finding::Kind::error,
      .at = plants.at,
      .says = "the crop " + quoted(plants.name) + " has no planting date",
      .mend = "write planted: 2027-04-20, or the coefficient and the root depth themselves"});
}

Column roots_m(const ZoneContext& context, const Plant& plant) {
  const PlantsEntry& plants = context.zone.plants;
  const double full_m = plants.root_depth_m.value_or(root_depth_m(plant));
  if (plants.root_depth_m && !plants.planted) return Column::Constant(context.days(), full_m);
  return root_depth_by_day_m(plant, growing(context), full_m, context.weather.first_day,
                             context.days());
}

}  // namespace

ZonePlants zone_plants(const ZoneContext& context) {
  const PlantsEntry& entry = context.zone.plants;
  const Plant plant = look_up_plant(entry);
  need_planting_date(context, plant);
  const std::string table_source = entry.name + ": " + source_of(plant);
  const char* const as_before = "as the coefficient's row";

  ZonePlants plants{.kc = {},
                    .root_depth_m = {},
                    .p = entry.allowable_depletion.value_or(depletion_share(plant)),
                    .adjust_p = adjusts_p(plant) && !context.in_pots()};
  plants.kc = entry.coefficient
                  ? Column::Constant(context.days(), *entry.coefficient)
                  : kc_by_day(plant, growing(context), context.weather.first_day, context.days());
  context.fact(context.in_pots() ? "coefficient, canopy" : "coefficient",
               fixed(plants.kc.head(7).mean(), 2), entry.coefficient ? own_figure : table_source);
  context.fact("allowable depletion p", fixed(plants.p, 2),
               entry.allowable_depletion ? own_figure : as_before);
  if (context.in_pots()) return plants;
  plants.root_depth_m = roots_m(context, plant);
  context.fact("root depth", fixed(plants.root_depth_m[0], 2) + " m",
               entry.root_depth_m ? own_figure : as_before);
  return plants;
}

}  // namespace runnel
