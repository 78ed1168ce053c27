#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

#include "commands.hpp"
#include "print.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/reference_et/hourly.hpp"
#include "runnel/reference_et/penman_monteith.hpp"
#include "runnel/reference_et/temperature_only.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"
#include "runnel/weather/gaps.hpp"
#include "runnel/weather/night.hpp"
#include "runnel/weather/quality.hpp"
#include "runnel/weather/weather_csv.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

/// A mistake on the command line.
struct Usage {
  std::string says;
};

double length_m(const std::string& option, const std::string& text) {
  const MeasureOrFault read = parse_measure(text, Dimension::length);
  if (!read.fault.empty()) throw Usage{option + ": " + read.fault + " (" + read.mend + ")"};
  return read.value;
}

Site site_of(const EtOptions& options) {
  if (std::abs(options.latitude_deg) > 90.0)
    throw Usage{"--latitude: " + shortest(options.latitude_deg) + " is outside -90 to 90"};
  if (std::abs(options.longitude_deg) > 180.0)
    throw Usage{"--longitude: " + shortest(options.longitude_deg) +
                " is outside -180 to 180 (east positive)"};
  const double elevation_m = length_m("--elevation", options.elevation);
  if (elevation_m < -500.0 || elevation_m > 9000.0)
    throw Usage{"--elevation: " + options.elevation + " is nowhere on earth (-500 m to 9000 m)"};
  return {.latitude_deg = options.latitude_deg,
          .longitude_deg = options.longitude_deg,
          .elevation_m = elevation_m};
}

WeatherLayout layout_of(const EtOptions& options) {
  WeatherLayout layout;
  layout.wind_height_m = length_m("--wind-height", options.wind_height);
  if (layout.wind_height_m < 0.5 || layout.wind_height_m > 200.0)
    throw Usage{"--wind-height: " + options.wind_height +
                " is no height of an anemometer (0.5 m to 200 m)"};
  layout.utc_offset = std::chrono::minutes{std::lround(60.0 * options.utc_offset_h)};
  layout.hour_label_is_end = options.hour_label_is_end;
  for (const std::string& column : options.columns) {
    const std::size_t equals = column.find('=');
    if (equals == std::string::npos || !variable_named(column.substr(0, equals)))
      throw Usage{"--column: \"" + column +
                  R"(" does not begin with a standard name and "=", as in "tmax=MX [degF]")"};
    layout.columns[column.substr(0, equals)] = column.substr(equals + 1);
  }
  return layout;
}

const Method& daily_method(const std::string& name) {
  if (name == "asce-short") return asce_short_daily();
  return name == "asce-tall" ? asce_tall_daily() : fao56_daily();
}
const Method& hourly_method(const std::string& name) {
  if (name == "asce-short") return asce_short_hourly();
  return name == "asce-tall" ? asce_tall_hourly() : fao56_hourly();
}

/// The table to print: when, reference ET, what was estimated, and the steps if asked for.
struct EtTable {
  bool hourly = false;
  Date first_day{};
  Column eto;
  std::vector<Estimates> estimated;
  std::vector<std::pair<std::string, Column>> steps;
};

EtTable daily_table(const WeatherSeries& series, const EtOptions& options, const Site& site,
                    const CompletionRules& rules) {
  if (options.method == "temperature") {
    EtTable table{.first_day = series.first_day,
                  .eto = temperature_eto_mm_d(series.first_day, series[Variable::t_max_c],
                                              series[Variable::t_min_c], site),
                  .estimated = std::vector<Estimates>(static_cast<std::size_t>(series.rows()), 0),
                  .steps = {}};
    return table;
  }
  const EtInputs inputs = complete(series, site, rules);
  EtTable table{
      .first_day = inputs.first_day, .eto = {}, .estimated = inputs.estimated, .steps = {}};
  if (!options.steps) {
    table.eto = eto_mm_d(inputs, site, daily_method(options.method));
    return table;
  }
  DailySteps s = daily_steps(inputs, site, daily_method(options.method));
  table.eto = s.eto_mm_d;
  table.steps = {{"t_mean_c", s.t_mean_c},       {"delta_kpa_c", s.delta_kpa_c},
                 {"gamma_kpa_c", s.gamma_kpa_c}, {"es_kpa", s.es_kpa},
                 {"ea_kpa", s.ea_kpa},           {"u2_m_s", s.u2_m_s},
                 {"ra_mj_m2_d", s.ra_mj_m2_d},   {"rso_mj_m2_d", s.rso_mj_m2_d},
                 {"rs_mj_m2_d", s.rs_mj_m2_d},   {"rns_mj_m2_d", s.rns_mj_m2_d},
                 {"rnl_mj_m2_d", s.rnl_mj_m2_d}, {"rn_mj_m2_d", s.rn_mj_m2_d},
                 {"g_mj_m2_d", s.g_mj_m2_d}};
  return table;
}

EtTable hourly_table(const WeatherSeries& series, const EtOptions& options, const Site& site,
                     const CompletionRules& rules) {
  if (!options.has_longitude || !options.has_utc_offset)
    throw Usage{
        "an hourly file needs --longitude and --utc-offset: where the sun stands depends on them"};
  if (options.method == "temperature") throw Usage{"--method temperature needs a daily file"};
  const HourlyEtInputs inputs = complete_hourly(series, site, rules);
  HourlySteps s = hourly_steps(inputs, site, hourly_method(options.method));
  EtTable table{.hourly = true,
                .first_day = inputs.first_day,
                .eto = s.eto_mm_h,
                .estimated = inputs.estimated,
                .steps = {}};
  if (options.steps)
    table.steps = {{"t_mean_c", s.t_c},
                   {"delta_kpa_c", s.delta_kpa_c},
                   {"gamma_kpa_c", s.gamma_kpa_c},
                   {"es_kpa", s.es_kpa},
                   {"ea_kpa", s.ea_kpa},
                   {"u2_m_s", s.u2_m_s},
                   {"ra_mj_m2_h", s.ra_mj_m2_h},
                   {"rso_mj_m2_h", s.rso_mj_m2_h},
                   {"rs_mj_m2_h", s.rs_mj_m2_h},
                   {"rns_mj_m2_h", s.rns_mj_m2_h},
                   {"rnl_mj_m2_h", s.rnl_mj_m2_h},
                   {"rn_mj_m2_h", s.rn_mj_m2_h},
                   {"g_mj_m2_h", s.g_mj_m2_h}};
  return table;
}

std::string when(const EtTable& table, Eigen::Index row) {
  if (!table.hourly) return iso_date(table.first_day + std::chrono::days{row});
  return iso_date(table.first_day + std::chrono::days{row / 24}) + "T" +
         clock(std::chrono::hours{row % 24});
}

void print_csv(const EtTable& table, std::ostream& out) {
  out << (table.hourly ? "time" : "date") << ",eto_mm,estimated";
  for (const auto& [name, column] : table.steps) out << ',' << name;
  out << '\n';
  for (Eigen::Index row = 0; row < table.eto.size(); ++row) {
    out << when(table, row) << ',' << shortest(table.eto[row]) << ','
        << to_text(table.estimated[static_cast<std::size_t>(row)]);
    for (const auto& [name, column] : table.steps) out << ',' << shortest(column[row]);
    out << '\n';
  }
}

/// Name and value of each step, as many in a line as 78 columns take.
std::string step_lines(const EtTable& table, Eigen::Index row) {
  std::string text;
  std::string line;
  for (const auto& [name, column] : table.steps) {
    const std::string step = "  " + name + " " + fixed(column[row], 4);
    if (display_width(line) + display_width(step) > 76) {
      text += "  " + line + "\n";
      line.clear();
    }
    line += step;
  }
  return line.empty() ? text : text + "  " + line + "\n";
}

/// Day by day at 80 columns; steps, too many for one line, in lines below.
void print_text(const EtTable& table, std::ostream& out) {
  const TextTable rows(
      {{table.hourly ? "time" : "date", 16}, {"ETo mm", 7, true}, {"estimated", 50}});
  out << rows.heading();
  for (Eigen::Index row = 0; row < table.eto.size(); ++row) {
    out << rows.row({when(table, row), fixed(table.eto[row], 2),
                     to_text(table.estimated[static_cast<std::size_t>(row)])});
    out << step_lines(table, row);
  }
  const auto estimated = std::count_if(table.estimated.begin(), table.estimated.end(),
                                       [](Estimates e) { return e != 0; });
  const std::string unit = table.hourly ? " hour" : " day";
  out << '\n'
      << table.eto.size() << unit << (table.eto.size() == 1 ? "" : "s") << ", sum "
      << fixed(table.eto.sum(), 1) << " mm, mean " << fixed(table.eto.mean(), 2)
      << " mm; something estimated on " << estimated << " of them\n";
}

}  // namespace

int et(const EtOptions& options, const Streams& streams) {
  try {
    const Site site = site_of(options);
    const WeatherLayout layout = layout_of(options);
    const CompletionRules rules{
        .k_rs_per_sqrt_c = options.coast ? 0.19 : 0.16,           // FAO-56 Eq. 50
        .dew_point_below_t_min_c = options.dry_air ? 2.0 : 0.0};  // FAO-56 Eq. 48
    std::vector<Finding> findings;
    const std::string text = read_file(options.weather);
    WeatherSeries series = value_or_throw(parse_weather(text, options.weather, layout), findings);
    std::vector<Finding> doubts = check_quality(series, site, options.weather);
    if (has_error(doubts)) throw InputError(std::move(doubts));
    findings.insert(findings.end(), doubts.begin(), doubts.end());
    series = value_or_throw(fill_gaps(with_dark_hours(std::move(series), site), options.weather),
                            findings);

    const bool hourly = series.step == Step::hour;
    if (hourly && !series.has(Variable::rs_mj_m2))
      throw InputError(Finding{.kind = Finding::Kind::error,
                               .at = in_file(options.weather),
                               .says = "an hourly file needs a radiation column",
                               .mend = "add one, or make daily values of it"});
    const EtTable table = hourly ? hourly_table(series, options, site, rules)
                                 : daily_table(series, options, site, rules);
    print_findings(findings, streams.err);
    if (options.format == "csv") {
      print_csv(table, streams.out);
    } else {
      print_text(table, streams.out);
    }
    return done;
  } catch (const Usage& usage) {
    streams.err << "runnel et: " << usage.says << '\n';
    return wrong_usage;
  }
}

}  // namespace runnel::cli
