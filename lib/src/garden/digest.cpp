#include "runnel/garden/digest.hpp"

#include <cstdint>

#include "runnel/units/number.hpp"

namespace runnel {

std::string digest(std::string_view text) {
  constexpr std::uint64_t offset_basis = 0xCBF29CE484222325U;
  constexpr std::uint64_t prime = 0x100000001B3U;
  std::uint64_t hash = offset_basis;
  for (const char c : text) {
    if (c == '\r') continue;
    hash ^= static_cast<unsigned char>(c);
    hash *= prime;
  }
  constexpr std::string_view digits = "0123456789abcdef";
  std::string written;
  for (unsigned shift = 64; shift > 0; shift -= 4) written += digits[hash >> (shift - 4) & 0xFU];
  return written;
}

std::string digest(const DailyWeather& weather, Date before) {
  std::string text;
  for (Eigen::Index day = 0; day < weather.days(); ++day) {
    const Date date = weather.first_day + std::chrono::days{day};
    if (date >= before) break;
    text += iso_date(date);
    const auto add = [&](double value) { text += " " + fixed(value, 4); };
    if (weather.inputs) {
      const EtInputs& inputs = *weather.inputs;
      for (const Column* column :
           {&inputs.t_max_c, &inputs.t_min_c, &inputs.ea_kpa, &inputs.u2_m_s, &inputs.rs_mj_m2_d})
        add((*column)[day]);
    } else {
      add(weather.eto_mm[day]);
    }
    add(weather.rain_mm[day]);
    text += "\n";
  }
  return digest(text);
}

}  // namespace runnel
