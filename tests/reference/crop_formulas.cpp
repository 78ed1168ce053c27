// Adaptors for the rows that Runnel's demand and soil layers compute.

#include <algorithm>
#include <numbers>
#include <string>
#include <string_view>
#include <vector>

#include "registry.hpp"
#include "runnel/demand/climate_adjustment.hpp"
#include "runnel/demand/cover_coefficients.hpp"
#include "runnel/demand/crop_et.hpp"
#include "runnel/demand/growth_stages.hpp"
#include "runnel/demand/initial_kc.hpp"
#include "runnel/sky/sun.hpp"
#include "runnel/soil/evaporation_layer.hpp"
#include "runnel/soil/root_zone.hpp"
#include "runnel/units/number.hpp"

namespace runnel::reference {
namespace {

using Row = PublishedRow;

/// The numbers of "8.2,7.5,7.6" or "0.15/1.19/0.35".
std::vector<double> numbers(std::string_view text, char separator) {
  std::vector<double> all;
  while (!text.empty()) {
    const auto end = std::min(text.find(separator), text.size());
    all.push_back(parse_number(trimmed(text.substr(0, end))).value());
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return all;
}

double pan_mean(const Row& row) {
  const std::vector<double> pan = numbers(row.inputs_text, ',');
  const auto days = static_cast<Eigen::Index>(pan.size());
  return mean_pan_eto_mm_d(Eigen::Map<const Column>(pan.data(), days), 1.0);
}

double pan_eto(const Row& row) {
  return mean_pan_eto_mm_d(Column::Constant(1, row.number("Epan")), row.number("Kp"));
}

// --- initial stage, Annex 7 ------------------------------------------------------------------

WettedLayer heavily_wetted_of(const Row& row) {
  const bool coarse = row.inputs.at("soil") == "coarse";
  return heavily_wetted(row.number("ETo"),
                        coarse ? WettedSoil::coarse : WettedSoil::medium_or_fine);
}

double initial_kc_of(const Row& row) {
  if (row.has("K29")) {
    return interpolated_initial_kc(row.number("I"), row.number("K29"), row.number("K30a"));
  }
  return initial_kc({.tew_mm = row.number("TEWcor"), .rew_mm = row.number("REWcor")},
                    row.number("ETo"), row.number("tw"));
}

// --- single and basal coefficients -----------------------------------------------------------

Climate climate(const Row& row) {
  return {.u2_m_s = row.number("u2"), .rh_min_pct = row.number("RHmin")};
}

/// A coefficient of mid-season: of the climate, or of Example 45 under plastic.
Adaptor mid(std::string table_value) {
  return [key = std::move(table_value)](const Row& row) {
    if (row.has("reduction")) return under_plastic_mulch(row.number(key), row.number("reduction"));
    return adjusted_kc(row.number(key), climate(row), row.number("h"));
  };
}
Adaptor end(std::string table_value) {
  return [key = std::move(table_value)](const Row& row) {
    if (row.has("reduction")) return under_plastic_mulch(row.number(key), row.number("reduction"));
    return adjusted_kc_end(row.number(key), climate(row), row.number("h"));
  };
}

StageLengths lengths(const Row& row) {
  const auto days = [&](std::string_view key) { return static_cast<int>(row.number(key)); };
  return {.ini = days("Lini"), .dev = days("Ldev"), .mid = days("Lmid"), .late = days("Llate")};
}

double kc_on_day(const Row& row) {
  const StageValues kc{
      .ini = row.number("Kc_ini"), .mid = row.number("Kc_mid"), .end = row.number("Kc_end")};
  return stage_value(static_cast<int>(row.number("day")), lengths(row), kc);
}

double kc_of_ten_days(const Row& row) {
  const std::vector<double> kc = numbers(row.inputs.at("Kc"), '/');
  const double last_day = 10.0 * row.number("decade_no");
  return mean_stage_value(last_day - 10.0, last_day, lengths(row),
                          {.ini = kc.at(0), .mid = kc.at(1), .end = kc.at(2)});
}

/// Eq. 66 leaves the initial stage's value as the table has it.
double kcb_ini(const Row& row) {
  const double kcb = row.number("Kcb_tab");
  return stage_value(1, {.ini = 20, .dev = 30, .mid = 40, .late = 20},
                     {.ini = kcb, .mid = 1.0, .end = 1.0});
}

// --- evaporation, chapter 7 ------------------------------------------------------------------

double kc_max_of(const Row& row) {
  return kc_max({.u2_m_s = row.number("u2"),
                 .rh_min_pct = row.number("RHmin"),
                 .height_m = row.number_or("h", 0.0),
                 .kcb = row.number("Kcb")});
}

double covered(const Row& row) {
  if (row.has("diameter")) {  // "10x10": the trees stand in a square
    const double spacing_m = row.number("spacing");
    return canopy_cover(row.number("diameter"), spacing_m * spacing_m);
  }
  return covered_share(row.number("Kcb"), row.number("Kcmin"), kc_max_of(row), row.number("h"));
}

double few(const Row& row) { return exposed_wetted_share(covered(row), row.number("fw")); }

double ke(const Row& row) {
  return evaporation_coefficient(row.number("Kr"), kc_max_of(row), row.number("Kcb"), few(row));
}

/// The upper limit of Ke: what a surface reaches that evaporates without bound.
double ke_limit(const Row& row) {
  return evaporation_coefficient(1e9, kc_max_of(row), row.number("Kcb"), few(row));
}

/// A layer that holds all it can lets a watering through: by how much, over the wetted part.
double depth_on_wetted_part(const Row& row) {
  const SurfaceDay day{.eto_mm = 0.0,
                       .rain_mm = 0.0,
                       .irrigation_mm = row.number("I"),
                       .fw = row.number("fw"),
                       .few = row.number("fw"),
                       .kcb = 0.3,
                       .kc_max = 1.2};
  return evaporate({.tew_mm = 18.0, .rew_mm = 8.0}, 0.0, day).drained_mm;
}

// --- root zone, chapter 8 --------------------------------------------------------------------

double taw(const Row& row) {
  if (row.has("TAW")) return row.number("TAW");
  return available_water_mm(row.number("theta_FC"), row.number("theta_WP"),
                            row.number_or("Zr", 1.0));
}

// --- cover, chapter 9 ------------------------------------------------------------------------

double effective_cover_of(const Row& row) {
  const double phi = row.number("lat_deg") * std::numbers::pi / 180.0;
  const double noon = sun_elevation_rad(phi, static_cast<int>(row.number("J")), 0.0);
  return effective_cover(row.number("fc"), row.number("HWR"), noon);
}

double kcb_from_cover_of(const Row& row) {
  return kcb_from_cover({.cover = row.number("fc"),
                         .effective_cover = row.number("fc_eff"),
                         .height_m = row.number("h"),
                         .kcb_full = row.number("Kcb_full"),
                         .kc_min = row.number("Kcmin")});
}

void add_demand(Registry& r) {
  r.add({"Epan", "", ""}, pan_mean);
  r.add({"ETo", "21", ""}, pan_eto);
  r.add({"n", "23", ""},
        [](const Row& row) { return wettings(row.number("rain_month"), row.number("event")); });
  r.add({"tw", "", ""},
        [](const Row& row) { return interval_days(7.0, row.number("events_per_week")); });
  r.add({"REWcor", "", ""},
        [](const Row& row) { return lightly_wetted(row.number("ETo")).rew_mm; });
  r.add({"TEWcor", "", ""}, [](const Row& row) { return heavily_wetted_of(row).tew_mm; });
  r.add({"t1", "", ""},
        [](const Row& row) { return first_stage_days(row.number("REW"), row.number("ETo")); });
  r.add({"Kc_ini", "", ""}, initial_kc_of);
  r.add({"ETc", "", ""}, [](const Row& row) {
    return crop_et_mm_d(row.number(row.has("Kc_ini") ? "Kc_ini" : "Kc"), row.number("ETo"));
  });
  r.add({"Kc_mid", "", ""}, mid("Kc_tab"));
  r.add({"Kcb_mid", "", ""}, mid("Kcb_tab"));
  r.add({"Kc_end", "", ""}, end("Kc_tab"));
  r.add({"Kcb_end", "", ""}, end("Kcb_tab"));
  r.add({"Kcb_ini", "", ""}, kcb_ini);
  r.add({"Kratio", "", ""}, [](const Row& row) { return alfalfa_over_grass(climate(row)); });
  r.add({"Kc", "28", ""}, kc_on_day);
  r.add({"Kc", "Fig36", ""}, kc_of_ten_days);
  r.add({"fc_eff", "", ""}, effective_cover_of);
  r.add({"Kcb_full", "", ""}, [](const Row& row) {
    return full_cover_kcb({.height_m = row.number("h"),
                           .u2_m_s = row.number("u2"),
                           .rh_min_pct = row.number("RHmin")});
  });
  r.add({"Kcb_mid", "", "from cover"}, kcb_from_cover_of);
  r.add({"Fr", "", ""}, [](const Row& row) {
    return leaf_resistance_factor({.delta_kpa_c = row.number("Delta"),
                                   .gamma_kpa_c = row.number("gamma"),
                                   .u2_m_s = row.number("u2"),
                                   .leaf_resistance_s_m = row.number("rl")});
  });
  // Eq. 102 multiplies Kcb by Fr, as Eq. 58 multiplies a depth by Kc.
  r.add({"Kcb_mid_adj", "", ""},
        [](const Row& row) { return crop_et_mm_d(row.number("Fr"), row.number("Kcb_mid")); });
  r.add({"Ks", "44", ""}, [](const Row& row) {
    return ks_from_yield(row.number("Ya") / row.number("Ym"), row.number("Ky"));
  });
}

void add_soil(Registry& r) {
  r.add({"Kc_max", "", ""}, kc_max_of);
  r.add({"fc", "", ""}, covered);
  r.add({"few", "", ""}, few);
  r.add({"Ke", "", ""}, ke);
  r.add({"-", "", "upper limit few*Kcmax"}, ke_limit);
  for (const char* example : {"32", "33"}) {
    r.add({"Kc", example, "total Kc"}, [](const Row& row) { return row.number("Kcb") + ke(row); });
  }
  r.add({"TEW", "", ""}, [](const Row& row) {
    return total_evaporable_water_mm(row.number("theta_FC"), row.number("theta_WP"),
                                     row.number("Ze"));
  });
  r.add({"I/fw", "", ""}, depth_on_wetted_part);
  r.add({"TAW", "", ""}, taw);
  r.add({"TAW/Zr", "", ""}, taw);
  r.add({"RAW", "", ""},
        [](const Row& row) { return readily_available_water_mm(taw(row), row.number("p")); });
  r.add({"p_adj", "", ""},
        [](const Row& row) { return adjusted_p(row.number("p_table"), row.number("ETc")); });
}

}  // namespace

void add_crop_formulas(Registry& registry) {
  add_demand(registry);
  add_soil(registry);
}

}  // namespace runnel::reference
