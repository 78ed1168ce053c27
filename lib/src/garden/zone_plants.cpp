#include <algorithm>
#include <cmath>
#include <numbers>

#include "runnel/demand/coefficient_parts.hpp"
#include "runnel/demand/initial_kc.hpp"
#include "runnel/demand/plant_coefficients.hpp"
#include "runnel/sky/sun.hpp"
#include "runnel/soil/evaporation_layer.hpp"
#include "runnel/units/number.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

constexpr Climate standard_climate{.u2_m_s = 2.0, .rh_min_pct = 45.0};

Density density_of(const PlantsEntry& plants) {
  return plants.density == "sparse"  ? Density::sparse
         : plants.density == "dense" ? Density::dense
                                     : Density::average;
}

std::optional<WaterNeed> water_need_of(const PlantsEntry& plants) {
  const auto& needs = plant_table().needs;
  for (std::size_t i = 0; i < needs.size(); ++i)
    if (needs.at(i).name == plants.water_need) return static_cast<WaterNeed>(i);
  return std::nullopt;
}

/// Plants standing at random: cover over the sine of the sun's noon elevation (FAO-56 Eq. 98, fc
/// eff; from memory).
std::optional<GroundCover> cover_of(const ZoneContext& context) {
  const auto& share = context.zone.plants.cover;
  if (!share) return std::nullopt;
  const double latitude_rad = context.garden.site.latitude_deg * std::numbers::pi / 180.0;
  const double noon_rad =
      sun_elevation_rad(latitude_rad, day_of_year(context.weather.first_day), 0.0);
  const double sine = std::sin(noon_rad);
  return GroundCover{.share = *share, .effective = sine > *share ? *share / sine : 1.0};
}

/// The plants of the tables with what the gardener knows better.
struct Grown {
  Plant plant;
  Growing growing;
};

Grown grown(const ZoneContext& context) {
  const PlantsEntry& entry = context.zone.plants;
  const PlantTable& table = plant_table();
  // The garden's reader has checked the name.
  Grown all{
      .plant =
          (entry.is_crop ? find_crop(table, entry.name) : find_kind(table, entry.name)).value(),
      .growing = {
          .density = density_of(entry),
          .water_need = water_need_of(entry),
          .planted = entry.planted,
          .green_up = entry.green_up,
          .southern = context.garden.site.latitude_deg < 0.0,
          .in_containers = context.in_pots(),
          .climate = {.u2_m_s = context.weather.u2_m_s, .rh_min_pct = context.weather.rh_min_pct},
          .cover = cover_of(context),
          .root_ball_m = entry.root_ball_m}};
  if (auto* planting = std::get_if<Landscape>(&all.plant); planting != nullptr && entry.height_m)
    planting->height_m = *entry.height_m;
  if (auto* crop = std::get_if<Crop>(&all.plant)) {
    if (entry.height_m) crop->height_m = *entry.height_m;
    if (entry.stages) {
      crop->stages = entry.stages;
      crop->stages_source = own_figure;
    }
    if (entry.coefficients) {
      (entry.dual.value_or(false) ? crop->kcb : crop->kc) = *entry.coefficients;
      all.growing.climate = standard_climate;  // stated for this garden: not adjusted
    }
  }
  return all;
}

/// A crop's coefficient goes by its planting date, and so do the roots of a bed: needed unless both
/// are stated.
void need_planting_date(const ZoneContext& context, const Plant& plant) {
  const PlantsEntry& plants = context.zone.plants;
  const auto* crop = std::get_if<Crop>(&plant);
  const bool all_stated = plants.coefficient && (plants.root_depth_m || context.in_pots());
  if (crop == nullptr || crop->season != Season::annual || plants.planted || all_stated) return;
  throw InputError(Finding{
      .kind = Finding::Kind::error,
      .at = plants.at,
      .says = "the crop " + quoted(plants.name) + " has no planting date",
      .mend = "write planted: 2027-04-20, or the coefficient and the root depth themselves"});
}

/// Without stages only a stated root depth can serve: the reader lets that pass with a coefficient.
Column roots_m(const ZoneContext& context, const Grown& grown) {
  const PlantsEntry& entry = context.zone.plants;
  const double full_m = entry.root_depth_m.value_or(root_depth_m(grown.plant));
  if (entry.root_depth_m && !entry.planted) return Column::Constant(context.days(), full_m);
  const auto* crop = std::get_if<Crop>(&grown.plant);
  if (crop != nullptr && crop->season == Season::annual && !crop->stages)
    return Column::Constant(context.days(), full_m);
  return root_depth_by_day_m(grown.plant, grown.growing, full_m, context.weather.first_day,
                             context.days());
}

WettedSoil wetted_soil(const Zone& zone) {
  const bool coarse =
      zone.soil && (zone.soil->texture == "sand" || zone.soil->texture == "loamy sand");
  return coarse ? WettedSoil::coarse : WettedSoil::medium_or_fine;
}

/// Kc ini of bare soil that is wetted so often. FAO-56 Eq. 59-61, 7-3, 7-4.
void set_initial_kc(const ZoneContext& context, Crop& crop) {
  const PlantsEntry& entry = context.zone.plants;
  if (!entry.wetted_every_days) return;
  const double eto_mm_d = context.weather.eto_mm.mean();
  if (!(eto_mm_d > 0.0)) return;
  const double fw = bare_ground_wetted(context.zone);
  crop.kc.ini = partly_wetted_initial_kc(eto_mm_d, *entry.wetted_every_days, entry.wetting_mm,
                                         wetted_soil(context.zone), fw);
  context.fact("initial coefficient", fixed(crop.kc.ini, 2),
               "FAO-56 Eq. 59-61, 7-3: " + context.shown(Shown::depth, entry.wetting_mm, 0) +
                   " every " + std::to_string(*entry.wetted_every_days) + " days, on " +
                   fixed(100.0 * fw, 0) + " % of the ground, reference ET " +
                   context.shown(Shown::daily_depth, eto_mm_d, 1));
}

std::string coefficient_source(const ZoneContext& context, const Grown& grown) {
  const PlantsEntry& entry = context.zone.plants;
  if (entry.coefficient || entry.coefficients) return own_figure;
  std::string what = entry.name;
  if (std::holds_alternative<Landscape>(grown.plant) && !context.in_pots()) {
    if (!entry.water_need.empty()) what += ", " + entry.water_need + " water need";
    what += entry.cover ? ", cover " + fixed(100.0 * *entry.cover, 0) + " % (FAO-56 Eq. 98)"
                        : ", " + entry.density + " density";
  }
  return what + ": " + source_of(grown.plant);
}

std::string root_source(const ZoneContext& context, const Grown& grown) {
  const PlantsEntry& entry = context.zone.plants;
  if (is_young(grown.plant, grown.growing, context.weather.first_day))
    return "newly planted: from the root ball to full depth in " +
           std::to_string(establishment_days(grown.plant)) + " days (common practice, no source)";
  return entry.root_depth_m ? own_figure : "as the coefficient's row";
}

/// Kcb, Kc max and cover of the dual form. FAO-56 Eq. 70, 72, 76.
void set_dual(const ZoneContext& context, const Grown& grown, ZonePlants& plants) {
  const Date from = context.weather.first_day;
  plants.parts =
      coefficient_parts(grown.plant, grown.growing, CoefficientForm::basal, from, context.days());
  plants.parts.plants *= context.zone.plants.times_coefficient;
  plants.kc = plants.parts.product();
  const Column height_m = height_by_day_m(grown.plant, grown.growing, from, context.days());
  plants.kc_max = Column(context.days());
  plants.cover = Column(context.days());
  for (Eigen::Index day = 0; day < context.days(); ++day) {
    plants.kc_max[day] = kc_max({.u2_m_s = context.weather.u2_m_s,
                                 .rh_min_pct = context.weather.rh_min_pct,
                                 .height_m = height_m[day],
                                 .kcb = plants.kc[day]});
    plants.cover[day] = context.zone.plants.cover.value_or(
        covered_share(plants.kc[day], kc_min, plants.kc_max[day], height_m[day]));
  }
  context.fact("basal coefficient Kcb", fixed(first_week(plants.kc).mean(), 2),
               coefficient_source(context, grown));
  context.fact("Kc at most", fixed(first_week(plants.kc_max).mean(), 2),
               "FAO-56 Eq. 72, plants " + context.shown(Shown::height, height_m[0], 2) + " high");
  context.fact("ground under plants", fixed(first_week(plants.cover).mean(), 2),
               context.zone.plants.cover ? own_figure : "FAO-56 Eq. 76");
}

void remark_usual_factor(const ZoneContext& context, const Plant& plant) {
  const PlantsEntry& entry = context.zone.plants;
  const auto* planting = std::get_if<Landscape>(&plant);
  if (planting == nullptr || !planting->factor_by_need || !entry.water_need.empty() ||
      entry.coefficient || context.in_pots())
    return;
  context.say(Finding::Kind::remark, entry.at,
              "no water need is stated: the factor usual for " + entry.name + ", " +
                  fixed(planting->factor, 1) + ", is taken",
              "write water need: low, moderate or high if you know the species");
}

/// Desert plants have no published coefficient in pots: the table has the bed's.
void remark_as_in_a_bed(const ZoneContext& context, const Plant& plant) {
  const PlantsEntry& entry = context.zone.plants;
  const auto* planting = std::get_if<Landscape>(&plant);
  if (planting == nullptr || !context.in_pots() || entry.coefficient ||
      planting->container_coefficient != planting->factor)
    return;
  context.say(Finding::Kind::remark, entry.at,
              entry.name + " in pots: " + fixed(planting->container_coefficient, 1) +
                  " of the canopy taken as in a bed, our assumption",
              "weigh a pot over a day and write coefficient: ...");
}

void set_single(const ZoneContext& context, Grown& grown, ZonePlants& plants) {
  const auto& own = context.zone.plants.coefficient;
  if (auto* crop = std::get_if<Crop>(&grown.plant); crop != nullptr && !own)
    set_initial_kc(context, *crop);
  plants.parts = own ? stated_coefficient(*own, context.days())
                     : coefficient_parts(grown.plant, grown.growing, CoefficientForm::single,
                                         context.weather.first_day, context.days());
  plants.parts.plants *= context.zone.plants.times_coefficient;
  plants.kc = plants.parts.product();
  context.fact(context.in_pots() ? "coefficient, canopy" : "coefficient",
               fixed(first_week(plants.kc).mean(), 2), coefficient_source(context, grown));
}

/// An annual crop before its planting day has bare soil, after its last day what it ended with.
void doubt_season(const ZoneContext& context, const Plant& plant) {
  const PlantsEntry& entry = context.zone.plants;
  const auto* crop = std::get_if<Crop>(&plant);
  if (crop == nullptr || crop->season != Season::annual || !entry.planted || !crop->stages ||
      entry.coefficient)
    return;
  const Date first_day = context.weather.first_day;
  const Date ended = *entry.planted + std::chrono::days{crop->stages->total() - 1};
  if (first_day < *entry.planted)
    context.say(Finding::Kind::doubt, entry.at,
                entry.name + " is planted on " + iso_date(*entry.planted) +
                    ": until then its first day is taken",
                "check the year, or leave the zone out until it is planted");
  else if (first_day > ended)
    context.say(Finding::Kind::doubt, entry.at,
                "the season of " + entry.name + " ended on " + iso_date(ended) +
                    ": what it ended with is taken",
                "write what grows there now, or stages: ... of a longer season");
}

void add_stages_fact(const ZoneContext& context, const Plant& plant) {
  const auto* crop = std::get_if<Crop>(&plant);
  if (crop == nullptr || !crop->stages || context.zone.plants.coefficient) return;
  const StageLengths& days = *crop->stages;
  context.fact("growth stages, days",
               std::to_string(days.ini) + ", " + std::to_string(days.dev) + ", " +
                   std::to_string(days.mid) + ", " + std::to_string(days.late),
               crop->stages_source);
}

/// Crops, and plantings not yet established, show so much bare soil that its evaporation is looked
/// at apart, unless the garden file has it otherwise.
bool is_dual(const ZoneContext& context, const Grown& grown) {
  const PlantsEntry& entry = context.zone.plants;
  if (entry.dual) return *entry.dual;
  if (context.in_pots() || entry.coefficient || entry.coefficients || entry.wetted_every_days)
    return false;
  return entry.is_crop || is_young(grown.plant, grown.growing, context.weather.first_day);
}

}  // namespace

ZonePlants zone_plants(const ZoneContext& context) {
  const PlantsEntry& entry = context.zone.plants;
  Grown grown = runnel::grown(context);
  need_planting_date(context, grown.plant);
  const char* const as_before = "as the coefficient's row";

  ZonePlants plants{.kc = {},
                    .root_depth_m = {},
                    .p = entry.allowable_depletion.value_or(depletion_share(grown.plant)),
                    .adjust_p = adjusts_p(grown.plant) && !context.in_pots()};
  add_stages_fact(context, grown.plant);
  remark_usual_factor(context, grown.plant);
  remark_as_in_a_bed(context, grown.plant);
  doubt_season(context, grown.plant);
  if (is_dual(context, grown))
    set_dual(context, grown, plants);
  else
    set_single(context, grown, plants);
  context.fact("allowable depletion p", fixed(plants.p, 2),
               entry.allowable_depletion ? own_figure : as_before);
  if (context.in_pots()) return plants;
  plants.root_depth_m = roots_m(context, grown);
  context.fact("root depth", context.shown(Shown::height, plants.root_depth_m[0], 2),
               root_source(context, grown));
  return plants;
}

}  // namespace runnel
