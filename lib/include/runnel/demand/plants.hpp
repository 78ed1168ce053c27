#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "runnel/demand/climate_adjustment.hpp"
#include "runnel/demand/growth_stages.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/column.hpp"
#include "runnel/units/finding.hpp"

namespace runnel {

/// A crop with a planting date and four growth stages. FAO-56 Tables 11, 12, 17, 22.
struct Crop {
  std::string name;
  StageValues kc;   ///< single coefficient, standard climate
  StageValues kcb;  ///< basal coefficient, standard climate
  StageLengths stages;
  double height_m;      ///< full grown
  double root_depth_m;  ///< full grown, under irrigation: the table's low end
  double p;             ///< depletion share at ETc 5 mm/d
  std::string source;
};

/// How thickly a landscape planting covers its ground.
enum class Density { sparse, average, dense };

/// An established planting: plant factor x density factor, the whole year (Costello et al.).
struct Landscape {
  std::string name;
  double factor;
  std::array<double, 3> density_factor;  ///< by Density
  double container_coefficient;          ///< in pots, per canopy area
  double root_depth_m, p;
  std::string source;
};

/// A lawn: coefficient by month.
struct Turf {
  std::string name;
  std::array<double, 12> kc_by_month;  ///< January first, of the northern half of the earth
  double root_depth_m, p;
  std::string source;
};

struct PlantTable {
  std::vector<Crop> crops;
  std::vector<Landscape> landscape;
  std::vector<Turf> turf;
};
/// From the CSV texts of data/crops.csv, landscape.csv and turf.csv; errors as parse_soil_table.
[[nodiscard]] Read<PlantTable> parse_plant_table(std::string_view crops_csv,
                                                 std::string_view landscape_csv,
                                                 std::string_view turf_csv);
/// The tables compiled in.
[[nodiscard]] PlantTable plant_table();

using Plant = std::variant<Crop, Landscape, Turf>;
/// A crop, or a kind of planting, by name without regard to case; nothing when there is none.
[[nodiscard]] std::optional<Plant> find_crop(const PlantTable& table, std::string_view name);
[[nodiscard]] std::optional<Plant> find_kind(const PlantTable& table, std::string_view name);
[[nodiscard]] std::vector<std::string_view> crop_names(const PlantTable& table);
[[nodiscard]] std::vector<std::string_view> kind_names(const PlantTable& table);

[[nodiscard]] double root_depth_m(const Plant& plant);
[[nodiscard]] double depletion_share(const Plant& plant);
/// Crops adjust p for the day's ETc (Table 22); landscape and lawns keep theirs (design decision).
[[nodiscard]] bool adjusts_p(const Plant& plant);
[[nodiscard]] const std::string& source_of(const Plant& plant);

/// What the coefficient depends on besides the plant.
struct Growing {
  Density density;
  std::optional<Date> planted;  ///< crops
  bool southern;                ///< half of the earth: lawns' months shift by six
  bool in_containers;           ///< landscape kinds: coefficient per canopy area
  Climate climate;              ///< mean of the days; crops: FAO-56 Eq. 62, 65
};

/// Coefficient by day. FAO-56 Eq. 58 with Eq. 62, 65, 66 (crops), plant factor x density factor
/// (landscape), by month (lawns). [days] @throws std::invalid_argument when a crop has no planting
/// date.
[[nodiscard]] Column kc_by_day(const Plant& plant, const Growing& growing, Date first_day,
                               Eigen::Index days);

/// Rooting depth by day, m: a crop's roots grow with its stages from `seedling_root_depth_m` at
/// planting to full depth at mid-season (linearly; FAO-56 Annex 8 scales with Kcb, which rises
/// linearly too), others are full grown. [days]
inline constexpr double seedling_root_depth_m =
    0.15;  ///< within FAO-56's 0.15-0.20 m for annual crops (from memory)
[[nodiscard]] Column root_depth_by_day_m(const Plant& plant, const Growing& growing, double full_m,
                                         Date first_day, Eigen::Index days);

}  // namespace runnel
