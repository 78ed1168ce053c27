#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "runnel/demand/growth_stages.hpp"
#include "runnel/units/finding.hpp"

namespace runnel {

/// What a published range runs from and to.
struct Span {
  double low, high;
};

/// When a crop grows. Annual ones count from planting; perennial ones from green-up, every year
/// anew; evergreen ones keep their mid-season coefficient all year.
enum class Season { annual, perennial, evergreen };

/// Between two seasons of a perennial.
struct OffSeason {
  double kc, kcb;
};

/// A crop with four growth stages. FAO-56 Tables 11, 12, 17, 22.
struct Crop {
  std::string name;
  std::vector<std::string> also;  ///< other names
  std::string group;              ///< "legumes"
  Season season;
  unsigned green_up_month;  ///< 1-12, of the northern half of the earth; 0 unless perennial
  StageValues kc;           ///< single coefficient, standard climate
  StageValues kcb;          ///< basal coefficient, standard climate
  Span kc_mid, kc_end, kcb_mid, kcb_end, kc_off, height;  ///< as published
  std::optional<OffSeason> off;                           ///< perennials
  std::optional<StageLengths> stages;  ///< the default of Table 11; nothing when it has none
  double height_m;                     ///< full grown
  double root_depth_m;                 ///< full grown, under irrigation: the table's low end
  double root_depth_most_m;            ///< the table's high end
  double p;                            ///< depletion share at ETc 5 mm/d
  std::string note;
  std::string source;
  std::string stages_source;  ///< with the planting month and region; empty without stages
};

/// One row of FAO-56 Table 11: stage lengths as seen somewhere.
struct PublishedStages {
  std::string crop;
  StageLengths lengths;
  std::string planting, region;  ///< as printed: "Apr/May", "Calif., USA"
  bool is_default;               ///< of its crop
  std::string source;
};

/// How thickly a landscape planting covers its ground.
enum class Density { sparse, average, dense };
/// How much of reference ET a species needs. Costello et al. 2000.
enum class WaterNeed { very_low, low, moderate, high };

/// A planting: species factor x density factor, the whole year (Costello et al.).
struct Landscape {
  std::string name;
  std::vector<std::string> also;
  double factor;                                             ///< when no water need is stated
  Span published;                                            ///< of the factor
  std::optional<std::array<double, 4>> factor_by_need = {};  ///< by WaterNeed; nothing: one factor
  std::array<double, 3> density_factor;                      ///< by Density
  std::array<Span, 3> density_published = {};                ///< of those
  double container_coefficient;                              ///< in pots, per canopy area
  Span container_published = {};
  double root_depth_m, p;
  Span root_published_m = {}, p_published = {};
  double height_m;         ///< full grown
  double root_ball_m;      ///< depth of the roots when planted
  int establishment_days;  ///< until the roots are full grown
  std::string source;
};

/// A lawn: coefficient by month.
struct Turf {
  std::string name;
  std::vector<std::string> also = {};  ///< other names
  std::array<double, 12> kc_by_month;  ///< January first, of the northern half of the earth
  double root_depth_m, p;
  Span root_published_m = {}, p_published = {};
  std::string source;
};

/// A class of the species factor, as published.
struct PublishedNeed {
  std::string name;
  Span factor;
  std::string source;
};

/// All plants of the compiled-in tables.
struct PlantTable {
  std::vector<Crop> crops;
  std::vector<PublishedStages> stages;
  std::vector<Landscape> landscape;
  std::vector<Turf> turf;
  std::array<PublishedNeed, 4> needs;  ///< by WaterNeed
};

/// The CSV texts of data/.
struct PlantTexts {
  std::string_view crops, crop_stages, landscape, turf, water_needs;
};
/// Errors as parse_soil_table; further a name or other name twice, stages of an unknown crop, a
/// crop with stages but not exactly one default, a figure outside its published range.
[[nodiscard]] Read<PlantTable> parse_plant_table(const PlantTexts& texts);
/// The tables compiled in, read once.
[[nodiscard]] const PlantTable& plant_table();

/// What a zone may be planted with.
using Plant = std::variant<Crop, Landscape, Turf>;
/// A crop, or a kind of planting, by one of its names without regard to case; nothing when there is
/// none.
[[nodiscard]] std::optional<Plant> find_crop(const PlantTable& table, std::string_view name);
/// The same among the kinds of planting and lawns.
[[nodiscard]] std::optional<Plant> find_kind(const PlantTable& table, std::string_view name);
/// Other names included.
[[nodiscard]] std::vector<std::string_view> crop_names(const PlantTable& table);
/// Other names included.
[[nodiscard]] std::vector<std::string_view> kind_names(const PlantTable& table);

/// The name that its table gives it.
[[nodiscard]] const std::string& name_of(const Plant& plant);
/// Depth of the roots when full grown, m.
[[nodiscard]] double root_depth_m(const Plant& plant);
/// Share p of the available water that it can spare, 0-1.
[[nodiscard]] double depletion_share(const Plant& plant);
/// Crops adjust p for the day's ETc (Table 22); landscape and lawns keep theirs (design decision).
[[nodiscard]] bool adjusts_p(const Plant& plant);
/// Where its figures come from.
[[nodiscard]] const std::string& source_of(const Plant& plant);

}  // namespace runnel
