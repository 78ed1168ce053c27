#include "runnel/reference_et/penman_monteith.hpp"

#include <algorithm>
#include <chrono>
#include <numbers>
#include <stdexcept>

#include "daily_kernel.hpp"
#include "runnel/sky/psychrometrics.hpp"
#include "runnel/sky/radiation.hpp"

namespace runnel {
namespace {

using daily_kernel::Block;
using daily_kernel::block_days;
using Eigen::Index;

/// The sun's terms by day of the year; row i is day i + 1. [366]
struct SkyOfYear {
  Column ra_mj_m2_d, rso_mj_m2_d, per_rso, least_clear_ratio;
};

SkyOfYear sky_of_year(const Site& site, const Method& method) {
  SkyOfYear sky;
  sky.ra_mj_m2_d =
      extraterrestrial_radiation_of_year_mj_m2_d(site.latitude_deg * std::numbers::pi / 180.0);
  sky.rso_mj_m2_d = clear_sky_share(site.elevation_m) * sky.ra_mj_m2_d;  // Eq. 37
  const Eigen::Array<bool, Eigen::Dynamic, 1> sun_up = sky.rso_mj_m2_d > 0.0;
  sky.per_rso = sun_up.select(sky.rso_mj_m2_d.inverse(), 0.0);
  sky.least_clear_ratio =
      sun_up.select(Column::Constant(sky.rso_mj_m2_d.size(), method.least_clear_ratio), 1.0);
  return sky;
}

/// The day of the year of consecutive rows.
class DayCounter {
 public:
  explicit DayCounter(Date first)
      : next_{day_of_year(first) - 1}, year_{year_of(first)}, length_{length(year_)} {}
  /// Index into a table of days of the year.
  Index take() {
    const int index = next_++;
    if (next_ == length_) {
      next_ = 0;
      length_ = length(++year_);
    }
    return index;
  }
  /// Whether the next `days` rows lie side by side in such a table.
  [[nodiscard]] bool together(Index days) const { return next_ + days <= length_; }
  [[nodiscard]] Index take(Index days) {
    const Index index = take();
    for (Index i = 1; i < days; ++i) static_cast<void>(take());
    return index;
  }

 private:
  static int length(int year) { return std::chrono::year{year}.is_leap() ? 366 : 365; }
  int next_, year_, length_;
};

struct BlockSky {
  daily_kernel::Sky terms;
  Block ra_mj_m2_d, rso_mj_m2_d;
};

BlockSky sky_of_block(const SkyOfYear& year, DayCounter& counter, Index days) {
  BlockSky sky;
  if (days == block_days && counter.together(block_days)) {
    const Index i = counter.take(block_days);
    sky.terms = {.per_rso = year.per_rso.segment<block_days>(i),
                 .least_clear_ratio = year.least_clear_ratio.segment<block_days>(i)};
    sky.ra_mj_m2_d = year.ra_mj_m2_d.segment<block_days>(i);
    sky.rso_mj_m2_d = year.rso_mj_m2_d.segment<block_days>(i);
    return sky;
  }
  Index i = 0;
  for (Index lane = 0; lane < block_days; ++lane) {
    if (lane < days) i = counter.take();  // lanes beyond the end repeat the last day
    sky.terms.per_rso[lane] = year.per_rso[i];
    sky.terms.least_clear_ratio[lane] = year.least_clear_ratio[i];
    sky.ra_mj_m2_d[lane] = year.ra_mj_m2_d[i];
    sky.rso_mj_m2_d[lane] = year.rso_mj_m2_d[i];
  }
  return sky;
}

Block block_of(const Column& column, Index row, Index days) {
  if (days == block_days) return column.segment<block_days>(row);
  Block block = Block::Constant(column[row + days - 1]);
  block.head(days) = column.segment(row, days);
  return block;
}

void check_lengths(const EtInputs& inputs) {
  const Index days = inputs.t_max_c.size();
  for (const Column* column :
       {&inputs.t_min_c, &inputs.ea_kpa, &inputs.u2_m_s, &inputs.rs_mj_m2_d}) {
    if (column->size() != days)
      throw std::invalid_argument("reference ET: columns of different length");
  }
}

/// Calls `take(row, days, weather, sky, terms)` for block after block.
template <class Take>
void for_each_block(const EtInputs& inputs, const Site& site, const Method& method,
                    const Take& take) {
  check_lengths(inputs);
  const SkyOfYear year = sky_of_year(site, method);
  const double gamma = psychrometric_constant_kpa_c(atmospheric_pressure_kpa(site.elevation_m));
  DayCounter counter{inputs.first_day};
  Block not_finite = Block::Zero();
  const Index rows = inputs.t_max_c.size();
  for (Index row = 0; row < rows; row += block_days) {
    const Index days = std::min(block_days, rows - row);
    const daily_kernel::Weather weather{.t_max_c = block_of(inputs.t_max_c, row, days),
                                        .t_min_c = block_of(inputs.t_min_c, row, days),
                                        .ea_kpa = block_of(inputs.ea_kpa, row, days),
                                        .u2_m_s = block_of(inputs.u2_m_s, row, days),
                                        .rs_mj_m2_d = block_of(inputs.rs_mj_m2_d, row, days)};
    const BlockSky sky = sky_of_block(year, counter, days);
    const daily_kernel::Terms terms = daily_kernel::terms(weather, sky.terms, gamma, method);
    // 0 x is NaN exactly when x is not finite. The floors and limits could hide a NaN in wind or
    // radiation, and a negative vapour pressure has no root: so both inputs and result are looked
    // at.
    not_finite += 0.0 * (weather.u2_m_s + weather.rs_mj_m2_d + terms.eto_mm_d);
    take(row, days, weather, sky, terms);
  }
  if (!(not_finite == 0.0).all())
    throw std::invalid_argument("reference ET: a value is not finite");
}

}  // namespace

Column eto_mm_d(const EtInputs& inputs, const Site& site, const Method& method) {
  Column eto(inputs.t_max_c.size());
  for_each_block(inputs, site, method,
                 [&eto](Index row, Index days, const daily_kernel::Weather&, const BlockSky&,
                        const daily_kernel::Terms& terms) {
                   if (days == block_days) {
                     eto.segment<block_days>(row) = terms.eto_mm_d;
                   } else {
                     eto.segment(row, days) = terms.eto_mm_d.head(days);
                   }
                 });
  return eto;
}

DailySteps daily_steps(const EtInputs& inputs, const Site& site, const Method& method) {
  const Index rows = inputs.t_max_c.size();
  DailySteps steps;
  for (Column* column : {&steps.t_mean_c, &steps.delta_kpa_c, &steps.es_kpa, &steps.u2_m_s,
                         &steps.ra_mj_m2_d, &steps.rso_mj_m2_d, &steps.rns_mj_m2_d,
                         &steps.rnl_mj_m2_d, &steps.rn_mj_m2_d, &steps.eto_mm_d}) {
    column->resize(rows);
  }
  for_each_block(inputs, site, method,
                 [&steps](Index row, Index days, const daily_kernel::Weather&, const BlockSky& sky,
                          const daily_kernel::Terms& terms) {
                   const auto put = [row, days](Column& column, const Block& block) {
                     column.segment(row, days) = block.head(days);
                   };
                   put(steps.t_mean_c, terms.t_mean_c);
                   put(steps.delta_kpa_c, terms.delta_kpa_c);
                   put(steps.es_kpa, terms.es_kpa);
                   put(steps.u2_m_s, terms.u2_m_s);
                   put(steps.ra_mj_m2_d, sky.ra_mj_m2_d);
                   put(steps.rso_mj_m2_d, sky.rso_mj_m2_d);
                   put(steps.rns_mj_m2_d, terms.rns_mj_m2_d);
                   put(steps.rnl_mj_m2_d, terms.rnl_mj_m2_d);
                   put(steps.rn_mj_m2_d, terms.rn_mj_m2_d);
                   put(steps.eto_mm_d, terms.eto_mm_d);
                 });
  steps.gamma_kpa_c = Column::Constant(
      rows, psychrometric_constant_kpa_c(atmospheric_pressure_kpa(site.elevation_m)));
  steps.ea_kpa = inputs.ea_kpa;
  steps.rs_mj_m2_d = inputs.rs_mj_m2_d;
  steps.g_mj_m2_d = Column::Zero(rows);  // Eq. 42
  return steps;
}

}  // namespace runnel
