#pragma once

namespace runnel {

/// What the tables of coefficients assume otherwise: wind 2 m/s, least humidity 45 %. Means over
/// the days in question.
struct Climate {
  double u2_m_s, rh_min_pct;
};

/// Mid-season Kc (Eq. 62) or Kcb (Eq. 70) under that climate. FAO-56; wind counts within 1-6 m/s,
/// humidity within 20-80 %, plant height within 0.1-10 m.
[[nodiscard]] double adjusted_kc(double kc_table, const Climate& climate, double height_m);
/// The same for the end of the season, where a table value below 0.45 stays. FAO-56 Eq. 65, 70.
[[nodiscard]] double adjusted_kc_end(double kc_table, const Climate& climate, double height_m);

/// What an alfalfa-based coefficient is multiplied by to become grass-based. FAO-56 Eq. 68 (alfalfa
/// 0.5 m high).
[[nodiscard]] double alfalfa_over_grass(const Climate& climate);

}  // namespace runnel
