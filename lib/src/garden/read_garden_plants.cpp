#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "read_garden_parts.hpp"
#include "runnel/demand/plants.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_coefficient{.least = 0.01, .most = 2.0};
// Of the container's area up to 4.7 was measured (Schuch & Burger 1997): as much of the canopy
// where that is no wider than the pot.
constexpr Range any_pot_coefficient{.least = 0.01, .most = 5.0};
constexpr Range any_root_depth_m{.least = 0.05, .most = 5.0};
constexpr Range any_depletion_share{.least = 0.05, .most = 0.95};
constexpr Range any_height_m{.least = 0.01, .most = 60.0};
constexpr Range any_cover{.least = 0.01, .most = 1.0};
constexpr Range any_wetting_mm{.least = 1.0, .most = 200.0};
constexpr int longest_interval_days = 60;

/// Reads the entries of one `plants:` map; each that does not suit the plants is an error there.
class PlantsReader {
 public:
  PlantsReader(YamlMap map, bool in_pots) : map_(std::move(map)), in_pots_(in_pots) {}

  void read(PlantsEntry& plants) {
    read_name(plants);
    const auto found = plants.is_crop ? find_crop(plant_table(), plants.name)
                                      : find_kind(plant_table(), plants.name);
    if (found) plant_ = &*found;
    read_kind_entries(plants);
    read_crop_entries(plants);
    read_own_figures(plants);
    read_wetting(plants);
    read_method(plants);
    if (found) check_whole(plants);
    plant_ = nullptr;
    map_.refuse_others();
  }

 private:
  [[nodiscard]] const Crop* crop() const { return std::get_if<Crop>(plant_); }
  [[nodiscard]] const Landscape* planting() const { return std::get_if<Landscape>(plant_); }
  [[nodiscard]] bool is_lawn() const { return std::holds_alternative<Turf>(*plant_); }
  [[nodiscard]] bool is_annual() const {
    return crop() != nullptr && crop()->season == Season::annual;
  }

  void read_name(PlantsEntry& plants) {
    const YamlField kind = map_.field("kind");
    const YamlField crop = map_.field("crop");
    plants.is_crop = crop.written();
    if (kind.written() && crop.written()) {
      crop.error("plants are either a kind or a crop, not both", "leave one of the two out");
      return;
    }
    if (map_.readable() && !crop.written() && !kind.written())
      map_.field("kind").needed("kind: mixed shrubs");
    plants.name = (plants.is_crop ? crop_name(crop) : plant_kind_name(kind)).value_or("");
  }

  /// An entry that only some plants take: as written when they do, otherwise an error.
  YamlField only_if(std::string_view key, bool suits, const char* says, const char* mend) {
    YamlField field = map_.field(key);
    if (plant_ == nullptr || suits || !field.written()) return field;
    field.error(says, mend);
    return field.left_out();
  }

  void read_kind_entries(PlantsEntry& plants) {
    static constexpr std::array<std::string_view, 3> densities = {"sparse", "average", "dense"};
    static constexpr std::array<std::string_view, 4> needs = {"very low", "low", "moderate",
                                                              "high"};
    const bool is_planting = plant_ != nullptr && planting() != nullptr;
    YamlField density = only_if("density", is_planting,
                                plants.is_crop ? "a crop has no density" : "a lawn has no density",
                                "leave it out; the coefficients are for a full stand");
    if (is_planting && !map_.has("cover")) density.or_else("planted at average density");
    plants.density = density.one_of(densities, "density").value_or("average");
    YamlField need = only_if("water need", is_planting && planting()->factor_by_need.has_value(),
                             plants.is_crop ? "a crop has its own coefficient"
                                            : "these plants have one published factor, whatever "
                                              "their species",
                             "leave the water need out, or state the coefficient itself");
    plants.water_need = need.one_of(needs, "water need").value_or("");
    if (in_pots_ && need.written())
      need.error("the coefficient of pots does not go by the species", "leave the water need out");
  }

  void read_crop_entries(PlantsEntry& plants) {
    const bool is_crop = plant_ != nullptr && crop() != nullptr;
    const bool has_stages = is_crop && crop()->season != Season::evergreen;
    plants.planted =
        only_if("planted", plant_ == nullptr || !is_lawn(),
                "a lawn's coefficient goes by the month, not by a planting date", "leave it out")
            .date();
    if (in_pots_ && plants.planted && !plants.is_crop)
      map_.field("planted").error("in pots the roots have the pot", "leave the planting date out");
    plants.green_up = only_if("green-up", is_crop && crop()->season == Season::perennial,
                              "only a perennial crop has a green-up", "leave it out")
                          .date();
    plants.stages = read_stage_lengths(only_if("stages", has_stages,
                                               "only a crop with growth stages has their lengths",
                                               "leave them out"));
    plants.coefficients = read_stage_coefficients(
        only_if("coefficients", has_stages, "only a crop with growth stages has three coefficients",
                "write one for the whole year, coefficient: 0.6"));
  }

  void read_own_figures(PlantsEntry& plants) {
    const YamlField coefficient = map_.field("coefficient");
    plants.coefficient = coefficient.number(in_pots_ ? any_pot_coefficient : any_coefficient);
    if (coefficient.written() && plants.coefficients)
      coefficient.error("one coefficient and the three of the stages are both stated",
                        "leave one of the two out");
    plants.root_depth_m = map_.field("root depth").measure(Dimension::length, any_root_depth_m);
    plants.allowable_depletion =
        map_.field("allowable depletion").measure(Dimension::share, any_depletion_share);
    plants.height_m = only_if("height", plant_ == nullptr || !is_lawn(),
                              "a lawn is taken as 10 cm high", "leave it out")
                          .measure(Dimension::length, any_height_m);
    read_root_ball(plants);
    read_cover(plants);
  }

  void read_root_ball(PlantsEntry& plants) {
    YamlField ball = only_if("root ball", !is_annual_or_lawn(),
                             "only perennials, shrubs and the like are planted with a root ball",
                             "leave it out");
    plants.root_ball_m = ball.measure(Dimension::length, any_root_depth_m);
    if (!ball.written()) return;
    if (!plants.planted)
      ball.error("a root ball says nothing without the day of planting",
                 "write planted: 2027-04-20 beside it");
    else if (in_pots_)
      ball.error("in pots the roots have the pot", "leave the root ball out");
  }

  void read_cover(PlantsEntry& plants) {
    YamlField cover = only_if("cover", plant_ == nullptr || !is_lawn(), "a lawn covers its ground",
                              "leave it out");
    plants.cover = cover.measure(Dimension::share, any_cover);
    if (!cover.written()) return;
    if (map_.has("density") && !plants.is_crop)
      cover.error("cover and density say the same thing twice", "leave one of the two out");
    else if (in_pots_)
      cover.error("the coefficient of pots is for the canopy itself",
                  "leave the cover out; the containers' canopy: 45 cm says how wide it is");
    else if (plants.coefficient || plants.coefficients)
      cover.error("a stated coefficient already knows the cover", "leave one of the two out");
  }

  void read_wetting(PlantsEntry& plants) {
    const YamlField every = only_if("wetted every", is_annual(),
                                    "only an annual crop starts from bare soil", "leave it out");
    plants.wetted_every_days = days(every);
    YamlField depth = map_.field("wetting");
    if (map_.has("wetted every"))
      depth.or_else("15 mm each time (common practice, no source)");
    else if (depth.written())
      depth.error("the depth of a wetting says nothing without how often it comes",
                  "write wetted every: 3 days beside it");
    plants.wetting_mm = depth.measure(Dimension::depth, any_wetting_mm).value_or(plants.wetting_mm);
    wetted_ = every.written();
    if (wetted_ && (plants.coefficient || plants.coefficients))
      every.error("the initial coefficient is stated, and what it would be worked out from as well",
                  "leave one of the two out");
  }

  void read_method(PlantsEntry& plants) {
    static constexpr std::array<std::string_view, 2> methods = {"single", "dual"};
    const YamlField method = map_.field("method");
    const auto stated = method.one_of(methods, "method");
    if (stated) plants.dual = *stated == "dual";
    if (!plants.dual.value_or(false)) return;
    if (in_pots_)
      method.error("pots have a single coefficient", "leave the method out");
    else if (plants.coefficient)
      method.error("one stated coefficient holds evaporation too",
                   "leave the method out, or write coefficients: {initial: ..., middle: ..., "
                   "end: ...}, basal ones");
    else if (wetted_)
      method.error("the dual form works out the evaporation of bare soil day by day",
                   "leave out \"wetted every\", or write method: single");
  }

  void check_whole(const PlantsEntry& plants) {
    if (!is_annual() || crop()->stages || map_.has("stages") || plants.coefficient) return;
    map_.field("crop").error(
        "there are no published stage lengths of " + quoted(plants.name),
        "write the days of its initial, development, middle and late stage: stages: [25, 35, 40, "
        "20]");
  }

  [[nodiscard]] bool is_annual_or_lawn() const {
    return plant_ == nullptr || is_annual() || is_lawn();
  }

  static std::optional<int> days(const YamlField& field) {
    const auto text = field.text();
    if (!text) return std::nullopt;
    std::string_view number = *text;
    for (const std::string_view unit : {"days", "day", "d"}) {
      if (!number.ends_with(unit)) continue;
      const auto count = parse_int(trimmed(number.substr(0, number.size() - unit.size())));
      if (count && *count >= 1 && *count <= longest_interval_days) return count;
      break;
    }
    field.error(
        quoted(*text) + " is no number of days from 1 to " + std::to_string(longest_interval_days),
        "write it as 3 days");
    return std::nullopt;
  }

  YamlMap map_;
  bool in_pots_;
  bool wetted_ = false;
  const Plant* plant_ = nullptr;
};

}  // namespace

PlantsEntry read_plants(YamlField field, bool in_pots) {
  PlantsEntry plants;
  plants.at = field.needed("plants: {kind: mixed shrubs, density: average}").place();
  PlantsReader(field.map_or_mend(plants_entry(field.word())), in_pots).read(plants);
  return plants;
}

}  // namespace runnel
