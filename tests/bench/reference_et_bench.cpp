// Daily reference ET against a loop vectorised by hand. Both compute the same equations on the same
// columns, each with its table of the sun's terms by day of the year; only the ratio within one run
// means anything.
//
// The hand-written loop works on vectors of two doubles (four where the compiler targets AVX), by
// the compilers' vector extension, with the exponential of the range that Eq. 11 needs written out.

#include <benchmark/benchmark.h>

#include <bit>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "runnel/reference_et/penman_monteith.hpp"
#include "runnel/sky/psychrometrics.hpp"

namespace {

using namespace runnel;

#ifdef __AVX2__
constexpr int lanes = 4;
#else
constexpr int lanes = 2;
#endif
using Pack = double __attribute__((vector_size(lanes * sizeof(double))));
using Bits = std::int64_t __attribute__((vector_size(lanes * sizeof(double))));

Pack load(const double* from) {
  Pack pack;
  std::memcpy(&pack, from, sizeof pack);
  return pack;
}

Pack pack_of(double value) { return Pack{} + value; }

/// exp(x) for |x| < 700: x = n ln 2 + r, |r| <= ln 2 / 2, and a Taylor series to r^11 (error below
/// 1e-14).
Pack exp_of(Pack x) {
  constexpr double shift =
      6755399441055744.0;  // 1.5 x 2^52: adding it leaves the nearest integer in the low bits
  const Pack shifted = x * std::numbers::log2e + shift;
  const Pack n = shifted - shift;
  const Pack r = (x - n * 0.693147180369123816490) - n * 1.90821492927058770002e-10;
  Pack sum = pack_of(1.0 / 39916800.0);
  for (const double factorial :
       {3628800.0, 362880.0, 40320.0, 5040.0, 720.0, 120.0, 24.0, 6.0, 2.0, 1.0, 1.0}) {
    sum = sum * r + 1.0 / factorial;
  }
  const Bits exponent = std::bit_cast<Bits>(shifted)
                        << 52;  // n times 2 to the 52: added to the bits it scales by 2^n
  return std::bit_cast<Pack>(std::bit_cast<Bits>(sum) + exponent);
}

Pack sqrt_of(Pack x) {
  Pack root = x;
  for (int i = 0; i < lanes; ++i) root[i] = __builtin_sqrt(x[i]);
  return root;
}

Pack e0_of(Pack t) { return 0.6108 * exp_of(17.27 * t / (t + 237.3)); }

Pack fourth_power(Pack t) {
  const Pack square = (t + 273.16) * (t + 273.16);
  return square * square;
}

/// FAO-56 Eq. 6 for the lanes of one vector.
Pack eto_of(Pack t_max, Pack t_min, Pack ea, Pack u2, Pack rs, Pack per_rso, double gamma) {
  const Pack t = 0.5 * (t_max + t_min);
  const Pack delta = 4098.0 * e0_of(t) / ((t + 237.3) * (t + 237.3));
  const Pack es = 0.5 * (e0_of(t_max) + e0_of(t_min));
  const Pack wind = u2 < 0.5 ? pack_of(0.5) : u2;
  Pack ratio = rs * per_rso;
  ratio = ratio < 0.33 ? pack_of(0.33) : ratio;
  ratio = ratio > 1.0 ? pack_of(1.0) : ratio;
  const Pack rnl = 0.5 * 4.903e-9 * (fourth_power(t_max) + fourth_power(t_min)) *
                   (0.34 - 0.14 * sqrt_of(ea)) * (1.35 * ratio - 0.35);
  const Pack rn = 0.77 * rs - rnl;
  return (0.408 * delta * rn + gamma * 900.0 / (t + 273.0) * wind * (es - ea)) /
         (delta + gamma * (1.0 + 0.34 * wind));
}

/// 1 / Rso by day of the year.
std::vector<double> per_rso_of_year(const Site& site) {
  constexpr double pi = std::numbers::pi;
  const double phi = site.latitude_deg * pi / 180.0;
  const double sin_phi = std::sin(phi);
  const double cos_phi = std::cos(phi);
  std::vector<double> per_rso(366);
  for (int j = 1; j <= 366; ++j) {
    const double angle = 2.0 * pi / 365.0 * j;
    const double sin_delta = std::sin(0.409 * std::sin(angle - 1.39));
    const double constant = sin_phi * sin_delta;
    const double swing = cos_phi * std::sqrt(1.0 - sin_delta * sin_delta);
    const double x = -constant / swing;
    const double ra = 24.0 * 60.0 / pi * 0.0820 * (1.0 + 0.033 * std::cos(angle)) *
                      (std::acos(x) * constant + swing * std::sqrt(1.0 - x * x));
    per_rso[static_cast<std::size_t>(j - 1)] = 1.0 / ((0.75 + 2e-5 * site.elevation_m) * ra);
  }
  return per_rso;
}

Column eto_by_hand(const EtInputs& in, const Site& site) {
  const Eigen::Index days = in.t_max_c.size();
  const std::vector<double> per_rso = per_rso_of_year(site);
  const double gamma = psychrometric_constant_kpa_c(atmospheric_pressure_kpa(site.elevation_m));
  Column eto(days);
  int year = year_of(in.first_day);
  int j = day_of_year(in.first_day) - 1;
  const auto length_of_year = [&year] { return std::chrono::year{year}.is_leap() ? 366 : 365; };
  for (Eigen::Index i = 0; i + lanes <= days; i += lanes) {
    double sun[lanes];
    for (double& one : sun) {
      one = per_rso[static_cast<std::size_t>(j)];
      if (++j == length_of_year()) {
        j = 0;
        ++year;
      }
    }
    const Pack pack =
        eto_of(load(in.t_max_c.data() + i), load(in.t_min_c.data() + i), load(in.ea_kpa.data() + i),
               load(in.u2_m_s.data() + i), load(in.rs_mj_m2_d.data() + i), load(sun), gamma);
    std::memcpy(eto.data() + i, &pack, sizeof pack);
  }
  return eto;
}

constexpr Site site{.latitude_deg = 41.0, .longitude_deg = 2.0, .elevation_m = 120.0};

EtInputs invented_weather(Eigen::Index days) {
  using namespace std::chrono;
  EtInputs in{.first_day = local_days{year{1995} / January / 1},
              .t_max_c = Column(days),
              .t_min_c = Column(days),
              .ea_kpa = Column(days),
              .u2_m_s = Column(days),
              .rs_mj_m2_d = Column(days),
              .estimated = std::vector<Estimates>(static_cast<std::size_t>(days))};
  for (Eigen::Index i = 0; i < days; ++i) {
    const double season = std::sin(2.0 * std::numbers::pi * static_cast<double>(i) / 365.25 - 1.8);
    const double noise =
        std::sin(static_cast<double>(i) * 1.7) + std::sin(static_cast<double>(i) * 0.31);
    in.t_max_c[i] = 20.0 + 10.0 * season + 2.0 * noise;
    in.t_min_c[i] = in.t_max_c[i] - 9.0 - noise;
    in.ea_kpa[i] = 0.9 * saturation_vapour_pressure_kpa(in.t_min_c[i]);
    in.u2_m_s[i] = 2.0 + 0.8 * noise;
    in.rs_mj_m2_d[i] = 15.0 + 8.0 * season + 2.5 * noise;
  }
  return in;
}

void reference_et(benchmark::State& state) {
  const EtInputs in = invented_weather(state.range(0));
  for (auto _ : state) benchmark::DoNotOptimize(eto_mm_d(in, site, fao56_daily()).data());
  state.SetItemsProcessed(state.iterations() * state.range(0));
}

void reference_et_by_hand(benchmark::State& state) {
  const EtInputs in = invented_weather(state.range(0));
  const Eigen::Index whole = state.range(0) / lanes * lanes;
  const double off =
      (eto_mm_d(in, site, fao56_daily()) - eto_by_hand(in, site)).head(whole).abs().maxCoeff();
  if (!(off < 1e-9)) state.SkipWithError("the two do not compute the same");
  for (auto _ : state) benchmark::DoNotOptimize(eto_by_hand(in, site).data());
  state.SetItemsProcessed(state.iterations() * state.range(0));
}

BENCHMARK(reference_et)->Arg(3650)->Arg(36500);
BENCHMARK(reference_et_by_hand)->Arg(3650)->Arg(36500);

}  // namespace
