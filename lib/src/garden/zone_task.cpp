#include "runnel/garden/zone_task.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "runnel/demand/containers.hpp"
#include "runnel/demand/exposure_words.hpp"
#include "runnel/demand/plants.hpp"
#include "runnel/garden/time_zone.hpp"
#include "runnel/sky/sun.hpp"
#include "runnel/soil/curve_numbers.hpp"
#include "runnel/soil/intake.hpp"
#include "runnel/soil/rain.hpp"
#include "runnel/soil/root_zone.hpp"
#include "runnel/soil/texture.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

constexpr const char* own_figure = "garden file";

/// The zone's ground or pots: what a root zone holds, takes in, and lets rain into.
struct Ground {
  Column taw_mm;
  Intake intake;
  double rain_share;
  double curve_number;  // 0 = rain does not run off
  Surplus surplus;
  Area area;
  double leaching_share;
};

class Preparation {
 public:
  Preparation(const Garden& garden, const Zone& zone, const AssumedWeather& weather,
              std::vector<Finding>& findings)
      : garden_(garden),
        zone_(zone),
        weather_(weather),
        findings_(findings),
        plant_(look_up_plant()) {}

  [[nodiscard]] PreparedZone run() {
    prepared_.containers = zone_.containers.has_value();
    prepared_.exposure_factor = zone_.exposure.factor;
    fact("reference ET, the week", fixed(weather_.eto_mm.head(7).sum(), 1) + " mm", "FAO-56 Eq. 6");
    state_exposure();
    take_coefficient();
    const Ground ground = prepared_.containers ? pots() : bed();
    take_delivery(ground);
    take_balance(ground);
    return std::move(prepared_);
  }

 private:
  void fact(std::string what, std::string value, std::string source) {
    prepared_.facts.push_back(
        {.what = std::move(what), .value = std::move(value), .source = std::move(source)});
  }
  void say(Finding::Kind kind, const Place& at, std::string says, std::string mend) {
    findings_.push_back({.kind = kind,
                         .at = at,
                         .says = zone_.name + ": " + std::move(says),
                         .mend = std::move(mend)});
  }
  [[nodiscard]] Eigen::Index days() const { return weather_.eto_mm.size(); }
  [[nodiscard]] bool southern() const { return garden_.site.latitude_deg < 0.0; }

  [[nodiscard]] Plant look_up_plant() const {
    const PlantTable table = plant_table();
    // The garden's reader has checked the name; a crop and a kind never share one.
    const auto plant = zone_.plants.planted ? find_crop(table, zone_.plants.name)
                                            : find_kind(table, zone_.plants.name);
    return plant ? *plant : find_crop(table, zone_.plants.name).value();
  }

  [[nodiscard]] Growing growing() const {
    const Density density = zone_.plants.density == "sparse"  ? Density::sparse
                            : zone_.plants.density == "dense" ? Density::dense
                                                              : Density::average;
    return {.density = density,
            .planted = zone_.plants.planted,
            .southern = southern(),
            .in_containers = zone_.containers.has_value(),
            .climate = {.u2_m_s = weather_.u2_m_s, .rh_min_pct = weather_.rh_min_pct}};
  }

  void state_exposure() {
    std::string source = own_figure;
    if (!zone_.exposure.words.empty()) {
      const ExposureTable table = exposure_table();
      source = find_exposure(table, zone_.exposure.words)->source;
    }
    fact("exposure factor", fixed(zone_.exposure.factor, 2), source);
  }

  void take_coefficient() {
    const bool own = zone_.plants.coefficient.has_value();
    // Roots grow from planting on, too: a bed needs the date unless both are stated.
    const bool all_stated = own && (zone_.plants.root_depth_m || zone_.containers);
    if (std::holds_alternative<Crop>(plant_) && !zone_.plants.planted && !all_stated)
      throw InputError(Finding{
          .kind = Finding::Kind::error,
          .at = zone_.plants.at,
          .says = "the crop " + quoted(zone_.plants.name) + " has no planting date",
          .mend = "write planted: 2027-04-20, or the coefficient and the root depth themselves"});
    prepared_.kc = own ? Column::Constant(days(), *zone_.plants.coefficient)
                       : kc_by_day(plant_, growing(), weather_.first_day, days());
    fact(prepared_.containers ? "coefficient, canopy" : "coefficient",
         fixed(prepared_.kc.head(7).mean(), 2),
         own ? own_figure : zone_.plants.name + ": " + source_of(plant_));
    prepared_.demand_mm = weather_.eto_mm * zone_.exposure.factor * prepared_.kc;
    fact("ETc, the week", fixed(prepared_.demand_mm.head(7).sum(), 1) + " mm",
         "FAO-56 Eq. 58: ET x exposure x coefficient");
  }

  [[nodiscard]] double depletion_p() {
    const bool own = zone_.plants.allowable_depletion.has_value();
    const double p = own ? *zone_.plants.allowable_depletion : depletion_share(plant_);
    fact("allowable depletion p", fixed(p, 2), own ? own_figure : "as the coefficient's row");
    return p;
  }

  [[nodiscard]] Ground bed() {
    const SoilTable soils = soil_table();
    const SoilTexture& texture = *find_texture(soils, zone_.soil->texture);
    const bool own = zone_.soil->field_capacity.has_value();
    const double fc = zone_.soil->field_capacity.value_or(texture.field_capacity);
    const double wp = zone_.soil->wilting_point.value_or(texture.wilting_point);
    const bool own_depth = zone_.plants.root_depth_m.has_value();
    const double full_m = zone_.plants.root_depth_m.value_or(root_depth_m(plant_));
    const Column depth_m =
        own_depth && !zone_.plants.planted
            ? Column::Constant(days(), full_m)
            : root_depth_by_day_m(plant_, growing(), full_m, weather_.first_day, days());
    fact("root depth", fixed(depth_m[0], 2) + " m",
         own_depth ? own_figure : "as the coefficient's row");
    fact("soil holds (FC, WP)", fixed(fc, 3) + ", " + fixed(wp, 3),
         own ? own_figure : zone_.soil->texture + ": " + texture.source);
    const Column taw_mm = available_water_mm(fc, wp, 1.0) * depth_m;
    fact("available water TAW", fixed(taw_mm[0], 1) + " mm", "FAO-56 Eq. 82");

    const EmitterType type = emitter_type();
    const SoilIntake intake =
        soil_intake(intake_table(), zone_.soil->texture, zone_.soil->slope_pct,
                    type.drip ? Arrival::drip : Arrival::overhead);
    fact("soil takes in", fixed(intake.basic_rate_mm_h, 1) + " mm/h", intake.source);
    const double number = curve_number(curve_number_table(), "full lawn", texture.hydrologic_group);
    return {.taw_mm = taw_mm,
            .intake = {.basic_rate = Rate::mm_per_hour(intake.basic_rate_mm_h),
                       .surface_storage = Depth::mm(intake.surface_storage_mm)},
            .rain_share = zone_.rain_reaches,
            .curve_number = number,
            .surplus = Surplus::end_of_day,
            .area = *zone_.area,
            .leaching_share = 0.0};
  }

  [[nodiscard]] Ground pots() {
    const ContainersEntry& entry = *zone_.containers;
    const bool own_canopy = entry.canopy_diameter_m.has_value();
    const Containers pots{.count = entry.count,
                          .volume_l = entry.volume_l,
                          .mouth_diameter_m = entry.mouth_diameter_m,
                          .canopy_diameter_m = entry.canopy_diameter_m.value_or(
                              canopy_over_mouth * entry.mouth_diameter_m)};
    if (!own_canopy)
      say(Finding::Kind::remark, entry.at,
          "canopy taken as " + fixed(100.0 * pots.canopy_diameter_m, 0) + " cm across",
          "measure it and write canopy: ...");
    const MediaTable media = media_table();
    const Medium& medium = *find_medium(media, entry.medium);
    fact("canopies", fixed(canopy_area_m2(pots), 2) + " m2",
         std::to_string(pots.count) + " of " + fixed(100.0 * pots.canopy_diameter_m, 0) +
             " cm across");
    fact("easily available", fixed(easily_available_l(pots, medium), 2) + " L a pot",
         fixed(pots.volume_l, 0) + " L x " + fixed(medium.fill, 2) + " x " +
             fixed(medium.easily_available, 2) + ": " + medium.source);
    fact("over the canopy, TAW", fixed(easily_available_mm(pots, medium), 1) + " mm",
         "litres over canopy area");
    // A pot's medium takes in what a dripper gives: no cycles.
    return {.taw_mm = Column::Constant(days(), easily_available_mm(pots, medium)),
            .intake = {.basic_rate = Rate::mm_per_hour(1e6), .surface_storage = Depth::mm(0.0)},
            .rain_share = zone_.rain_reaches * rain_share(pots),
            .curve_number = 0.0,
            .surplus = Surplus::at_once,
            .area = Area::m2(canopy_area_m2(pots)),
            .leaching_share = entry.leaching_share};
  }

  [[nodiscard]] EmitterType emitter_type() const {
    const std::vector<EmitterType> types = emitter_types(published_table("emitters"));
    return *find_emitter_type(types, zone_.emitters.type);
  }

  void take_delivery(const Ground& ground) {
    const EmitterType type = emitter_type();
    const bool own = zone_.emitters.uniformity.has_value();
    const double du = zone_.emitters.uniformity.value_or(type.du);
    const Delivery delivery{.flow = zone_flow(zone_.emitters.spec, ground.area),
                            .area = ground.area,
                            .multiplier = run_time_multiplier(du),
                            .leaching_share = ground.leaching_share};
    fact("flow", fixed(delivery.flow.litres_per_hour(), 0) + " L/h", "emitters of the garden file");
    fact("application rate", fixed(delivery.rate().mm_per_hour(), 1) + " mm/h",
         "flow / " + fixed(ground.area.m2(), 2) + " m2");
    fact("uniformity DU", fixed(du, 2),
         own ? own_figure : zone_.emitters.type + ": " + type.source);
    fact("run-time multiplier", fixed(delivery.multiplier, 3),
         "1 / (0.4 + 0.6 DU), Irrigation Association 2005");
    if (ground.leaching_share > 0.0)
      fact("leaching share", fixed(ground.leaching_share, 2), own_figure);
    if (garden_.supply_flow && delivery.flow > *garden_.supply_flow)
      say(Finding::Kind::doubt, zone_.emitters.at,
          "needs " + fixed(delivery.flow.litres_per_hour() / 60.0, 1) +
              " L/min, more than the supply's " +
              fixed(garden_.supply_flow->litres_per_hour() / 60.0, 1) + " L/min",
          "split the zone over two valves, or check both flows with a bucket");
    prepared_.task.delivery = delivery;
    prepared_.task.intake = ground.intake;
  }

  void take_balance(const Ground& ground) {
    ZoneTask& task = prepared_.task;
    const double p = depletion_p();
    task.name = zone_.name;
    task.valve = zone_.valve;
    task.root_zone = {.p = p,
                      .adjust_p = adjusts_p(plant_) && !prepared_.containers,
                      .aim_ks = 1.0,
                      .surplus = ground.surplus};
    task.model = {.kc = prepared_.kc, .taw_mm = ground.taw_mm};
    const Lanes eto_mm = weather_.eto_mm.transpose();
    const Lanes rain_mm = weather_.rain_mm.transpose();
    task.horizon = {
        .et_mm = eto_mm * zone_.exposure.factor,
        .rain_mm =
            rain_on_zone(rain_mm, eto_mm, ground.rain_share, ground.curve_number).entering_mm};
    task.et_share_before = sun_clock();
    task.start.depletion_mm = 0.0;
    const double limit_mm = mean_limit_mm(task);
    fact("limit of depletion", fixed(limit_mm, 1) + " mm",
         "readily available water, FAO-56 Eq. 83");
    task.start.depletion_mm = zone_.depletion_mm.value_or(0.5 * limit_mm);
    fact("depletion at the start", fixed(task.start.depletion_mm, 1) + " mm",
         zone_.depletion_mm ? own_figure : "not known: half the limit");
    if (!zone_.depletion_mm)
      say(Finding::Kind::remark, zone_.at,
          "depletion at the start is not known: half the limit, " +
              fixed(task.start.depletion_mm, 1) + " mm, is taken",
          "feel the soil and write depletion: ... if you know better");
  }

  /// Share of the day's ET that is over at a time of the site's clock, as the sun has it.
  [[nodiscard]] std::function<double(WallTime)> sun_clock() const {
    const double latitude_rad = garden_.site.latitude_deg * std::numbers::pi / 180.0;
    const int day = day_of_year(weather_.first_day);
    const double offset_h =
        static_cast<double>(utc_offset_at_noon(garden_.timezone, weather_.first_day).count()) /
        60.0;
    const double noon_h = solar_noon_h(garden_.site.longitude_deg, offset_h, day);
    return [=](WallTime time) {
      const double angle_rad =
          std::numbers::pi / 12.0 * (static_cast<double>(time.count()) / 60.0 - noon_h);
      return radiation_share_before(latitude_rad, day,
                                    std::clamp(angle_rad, -std::numbers::pi, std::numbers::pi));
    };
  }

  const Garden& garden_;
  const Zone& zone_;
  const AssumedWeather& weather_;
  std::vector<Finding>& findings_;
  Plant plant_;
  PreparedZone prepared_;
};

}  // namespace

PreparedZone prepare_zone(const Garden& garden, const Zone& zone, const AssumedWeather& weather,
                          std::vector<Finding>& findings) {
  return Preparation(garden, zone, weather, findings).run();
}

}  // namespace runnel
