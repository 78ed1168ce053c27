#include "likely_column.hpp"

#include <algorithm>
#include <initializer_list>
#include <vector>

#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"
#include "variables.hpp"

namespace runnel {
namespace {

using Words = std::vector<std::string>;

/// "MaxTemp_F" in lower case: max, temp, f.
Words words_of(std::string_view text) {
  Words words{""};
  char before = ' ';
  for (const char c : text) {
    const bool upper = c >= 'A' && c <= 'Z';
    const bool letter = upper || (c >= 'a' && c <= 'z');
    if ((!letter || (upper && before >= 'a' && before <= 'z')) && !words.back().empty())
      words.emplace_back();
    if (letter) words.back() += lower(std::string_view(&c, 1));
    before = c;
  }
  return words;
}

bool any_of(const Words& words, std::initializer_list<std::string_view> wanted) {
  return std::any_of(wanted.begin(), wanted.end(), [&words](std::string_view word) {
    return std::find(words.begin(), words.end(), word) != words.end();
  });
}

std::optional<Variable> variable_of(const Words& words) {
  const bool most = any_of(words, {"max", "maximum", "high", "hi", "highest"});
  const bool least = any_of(words, {"min", "minimum", "low", "lo", "lowest"});
  if (most && least) return std::nullopt;
  if (any_of(words, {"dew", "dewpoint"})) return Variable::t_dew_c;
  if (any_of(words, {"temp", "temperature"}))
    return most ? Variable::t_max_c : least ? Variable::t_min_c : Variable::t_mean_c;
  if (any_of(words, {"humidity", "rh"}))
    return most ? Variable::rh_max_pct : least ? Variable::rh_min_pct : Variable::rh_mean_pct;
  if (any_of(words, {"rain", "rainfall", "precip", "precipitation"})) return Variable::rain_mm;
  if (any_of(words, {"wind"}) && !any_of(words, {"gust", "gusts", "dir", "direction"}) && !most)
    return Variable::wind_m_s;
  if (any_of(words, {"solar", "radiation"})) return Variable::rs_mj_m2;
  if (any_of(words, {"et", "eto", "evapotranspiration"})) return Variable::eto_mm;
  return std::nullopt;
}

}  // namespace

std::optional<LikelyColumn> likely_column(std::string_view header) {
  const CsvHeader parts = split_csv_header(header);
  const Words words = words_of(parts.base);
  const auto variable = variable_of(words);
  if (!variable) return std::nullopt;
  LikelyColumn likely{.variable = *variable, .mapping = std::string(header)};
  if (parts.bracket) return likely;
  const VariableFacts& known = facts(*variable, Step::day);
  const Unit* unit = unit_for(known, words.back());
  likely.mapping += " [" + std::string(unit != nullptr ? unit->name : known.unit) + "]";
  return likely;
}

}  // namespace runnel
