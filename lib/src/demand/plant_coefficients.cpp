#include "runnel/demand/plant_coefficients.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "runnel/demand/cover_coefficients.hpp"

namespace runnel {
namespace {

/// FAO-56 Table 18: what evaporation from the soil adds to Kcb in mid-season.
constexpr double over_kcb_covered = 0.05, over_kcb_open = 0.10;

/// Kcb under the site's climate, before and after the stand's own cover is looked at.
StageValues adjusted(const StageValues& table, const Crop& crop, const Growing& growing) {
  return {.ini = table.ini,
          .mid = adjusted_kc(table.mid, growing.climate, crop.height_m),
          .end = adjusted_kc_end(table.end, growing.climate, crop.height_m)};
}

StageValues thinned(const StageValues& kcb, const Crop& crop, const Growing& growing) {
  if (!growing.cover || kcb.mid <= kc_min) return kcb;
  const double full = full_cover_kcb({.height_m = crop.height_m,
                                      .u2_m_s = growing.climate.u2_m_s,
                                      .rh_min_pct = growing.climate.rh_min_pct});
  const double mid = std::min(kcb.mid, kcb_from_cover({.cover = growing.cover->share,
                                                       .effective_cover = growing.cover->effective,
                                                       .height_m = crop.height_m,
                                                       .kcb_full = full,
                                                       .kc_min = kc_min}));
  const double share = (mid - kc_min) / (kcb.mid - kc_min);
  const double end = kcb.end > kc_min ? kc_min + share * (kcb.end - kc_min) : kcb.end;
  return {.ini = std::min(kcb.ini, mid), .mid = mid, .end = end};
}

/// The single coefficient stays as far above Kcb as the table has it.
StageValues kc_stages(const Crop& crop, const Growing& growing) {
  const StageValues kc = adjusted(crop.kc, crop, growing);
  const StageValues kcb = adjusted(crop.kcb, crop, growing);
  const StageValues thin = thinned(kcb, crop, growing);
  return {
      .ini = kc.ini, .mid = kc.mid - (kcb.mid - thin.mid), .end = kc.end - (kcb.end - thin.end)};
}

StageValues kcb_stages(const Crop& crop, const Growing& growing) {
  return thinned(adjusted(crop.kcb, crop, growing), crop, growing);
}

double on_day(const StageValues& values, double off, const Crop& crop, const Growing& growing,
              Date date) {
  if (crop.season == Season::evergreen) return values.mid;
  if (!crop.stages) throw std::invalid_argument("kc_by_day: a crop needs its stage lengths");
  const int day = season_day(crop, growing, date);
  if (crop.season == Season::perennial && day > crop.stages->total()) return off;
  return stage_value(day, *crop.stages, values);
}

double single(const Crop& crop, const Growing& growing, Date date) {
  return on_day(kc_stages(crop, growing), crop.off ? crop.off->kc : crop.kc.end, crop, growing,
                date);
}

double basal(const Crop& crop, const Growing& growing, Date date) {
  return on_day(kcb_stages(crop, growing), crop.off ? crop.off->kcb : crop.kcb.end, crop, growing,
                date);
}

/// The density coefficient of FAO-56 Eq. 98: the share of full cover's Kcb above Kc min.
double cover_density(const Landscape& planting, const GroundCover& cover) {
  return kcb_from_cover({.cover = cover.share,
                         .effective_cover = cover.effective,
                         .height_m = planting.height_m,
                         .kcb_full = 1.0,
                         .kc_min = 0.0});
}

double single(const Landscape& planting, const Growing& growing, Date /*date*/) {
  if (growing.in_containers) return planting.container_coefficient;
  const double factor =
      growing.water_need && planting.factor_by_need
          ? planting.factor_by_need->at(static_cast<std::size_t>(*growing.water_need))
          : planting.factor;
  return factor * (growing.cover
                       ? cover_density(planting, *growing.cover)
                       : planting.density_factor.at(static_cast<std::size_t>(growing.density)));
}

double below(double kc, double evaporation) {
  return std::min(kc, std::max(kc_min, kc - evaporation));
}

double basal(const Landscape& planting, const Growing& growing, Date date) {
  constexpr double well_covered = 0.8;  // FAO-56 Table 18
  const bool open = growing.cover
                        ? growing.cover->share < well_covered
                        : growing.density == Density::sparse || is_young(planting, growing, date);
  return below(single(planting, growing, date), open ? over_kcb_open : over_kcb_covered);
}

double single(const Turf& turf, const Growing& growing, Date date) {
  const std::size_t month = month_of(date) - 1;
  return turf.kc_by_month.at(growing.southern ? (month + 6) % 12 : month);
}

double basal(const Turf& turf, const Growing& growing, Date date) {
  return below(single(turf, growing, date), over_kcb_covered);
}

Column by_day(Date first_day, Eigen::Index days, const auto& coefficient) {
  Column values(days);
  for (Eigen::Index day = 0; day < days; ++day)
    values[day] = coefficient(first_day + std::chrono::days{day});
  return values;
}

}  // namespace

Column kc_by_day(const Plant& plant, const Growing& growing, Date first_day, Eigen::Index days) {
  return by_day(first_day, days, [&](Date date) {
    return std::visit([&](const auto& p) { return single(p, growing, date); }, plant);
  });
}

Column kcb_by_day(const Plant& plant, const Growing& growing, Date first_day, Eigen::Index days) {
  return by_day(first_day, days, [&](Date date) {
    return std::visit([&](const auto& p) { return basal(p, growing, date); }, plant);
  });
}

}  // namespace runnel
