#include "runnel/weather/weather_csv.hpp"

#include <cmath>
#include <string>
#include <vector>

#include "support/near.hpp"
#include "weather_support.hpp"

using namespace runnel;
using V = Variable;

namespace {

struct OneValue {
  std::string header;
  std::string text;
  Variable variable;
  double value;
  double tolerance;
};

double first_value(const std::string& header, const std::string& text, Variable variable,
                   bool hourly) {
  const std::string csv =
      hourly ? "time," + header + "\n2027-06-15T10:00," + text + "\n2027-06-15T11:00," + text + "\n"
             : "date," + header + "\n2027-06-15," + text + "\n";
  return series_of(csv)[variable][hourly ? 10 : 0];
}

/// Days of June 2027 with one column.
std::string june(const std::string& header, const std::vector<std::string>& values) {
  std::string csv = "date," + header + "\n";
  for (std::size_t i = 0; i < values.size(); ++i) {
    csv +=
        "2027-06-" + std::string(i < 9 ? "0" : "") + std::to_string(i + 1) + "," + values[i] + "\n";
  }
  return csv;
}

}  // namespace

TEST_SUITE("weather") {
  TEST_CASE("weather csv - a plain daily file") {
    const WeatherSeries s = series_of(
        "date,tmax [degC],tmin [degC],rain [mm]\n2027-06-15,31.5,18,0\n2027-06-16,29,17.5,4.2\n");
    CHECK(s.step == Step::day);
    CHECK(iso_date(s.first_day) == "2027-06-15");
    CHECK(s.rows() == 2);
    CHECK(s[V::t_max_c][0] == 31.5);
    CHECK(s[V::t_min_c][1] == 17.5);
    CHECK(s[V::rain_mm][1] == 4.2);
    CHECK_FALSE(s.has(V::wind_m_s));
    CHECK(s.origin(V::wind_m_s).empty());
    CHECK(s.origin(V::rain_mm) == std::vector<Origin>{Origin::observed, Origin::observed});
    CHECK(s.lines == std::vector<int>{2, 3});
    CHECK(findings_of("date,tmax [degC]\n2027-06-15,31.5\n").empty());
  }

  TEST_CASE("weather csv - the layout's wind height and clock") {
    WeatherLayout layout;
    layout.wind_height_m = 10.0;
    layout.utc_offset = std::chrono::minutes(60);
    const WeatherSeries s = series_of("date,tmax\n2027-06-15,31.5\n", layout);
    CHECK(s.wind_height_m == 10.0);
    CHECK(s.utc_offset == std::chrono::minutes(60));
  }

  TEST_CASE("weather csv - standard names") {
    for (std::size_t i = 0; i < variable_count; ++i) {
      const auto variable = static_cast<V>(i);
      CHECK(variable_named(standard_name(variable)) == variable);
    }
    CHECK(standard_name(V::t_max_c) == "tmax");
    CHECK(standard_name(V::ea_kpa) == "vapour_pressure");
    CHECK(standard_name(V::eto_mm) == "reference_et");
    CHECK_FALSE(variable_named("temp_max").has_value());
    CHECK_FALSE(variable_named("").has_value());
  }

  TEST_CASE("weather csv - common spellings") {
    const std::vector<std::pair<std::string, Variable>> spellings = {
        {"Temp_Max", V::t_max_c},
        {"max temp", V::t_max_c},
        {"T_MAX", V::t_max_c},
        {"tx", V::t_max_c},
        {"t-min", V::t_min_c},
        {"Minimum Temperature", V::t_min_c},
        {"temperature", V::t_mean_c},
        {"Dew Point", V::t_dew_c},
        {"dew_point", V::t_dew_c},
        {"RH max", V::rh_max_pct},
        {"humidity", V::rh_mean_pct},
        {"vapor pressure", V::ea_kpa},
        {"wind_speed", V::wind_m_s},
        {"solar_radiation", V::rs_mj_m2},
        {"srad", V::rs_mj_m2},
        {"Rs", V::rs_mj_m2},
        {"sunshine hours", V::sunshine_h},
        {"precipitation", V::rain_mm},
        {"Precip.", V::rain_mm},
        {"rainfall", V::rain_mm},
        {"ETo", V::eto_mm},
    };
    for (const auto& [header, variable] : spellings) {
      CAPTURE(header);
      CHECK(first_value(header, "5", variable, false) == 5.0);
    }
  }

  // Factors by definition: inch 25.4 mm, mile 1609.344 m; langley by FAO-56 Table 3, 0.041868 MJ
  // m-2; W m-2 over 86,400 s.
  TEST_CASE("weather csv - units in brackets, parentheses and names") {
    const std::vector<OneValue> days = {
        {"tmax [degF]", "95", V::t_max_c, 35.0, 1e-9},
        {"tmax (°F)", "95", V::t_max_c, 35.0, 1e-9},
        {"tmax_f", "95", V::t_max_c, 35.0, 1e-9},
        {"temp_max_c", "35", V::t_max_c, 35.0, 0.0},
        {"tmin[K]", "300", V::t_min_c, 26.85, 1e-9},
        {"rain (in)", "0.5", V::rain_mm, 12.7, 1e-12},
        {"precip_in", "0.5", V::rain_mm, 12.7, 1e-12},
        {"rain [mm/d]", "3", V::rain_mm, 3.0, 0.0},
        {"wind [mph]", "10", V::wind_m_s, 4.4704, 1e-12},
        {"wind [km/h]", "36", V::wind_m_s, 10.0, 1e-12},
        {"wind_m_s", "3", V::wind_m_s, 3.0, 0.0},
        {"radiation [langley/d]", "500", V::rs_mj_m2, 20.934, 1e-9},
        {"radiation [W/m2]", "250", V::rs_mj_m2, 21.6, 1e-9},
        {"GHI (W/m^2)", "250", V::rs_mj_m2, 21.6, 1e-9},
        {"radiation [MJ m-2 d-1]", "21", V::rs_mj_m2, 21.0, 0.0},
        {"vapour_pressure [hPa]", "15", V::ea_kpa, 1.5, 1e-12},
        {"sunshine [min]", "480", V::sunshine_h, 8.0, 1e-12},
        {"rhmean [share]", "0.65", V::rh_mean_pct, 65.0, 1e-12},
        {"rhmax [%]", "88.5", V::rh_max_pct, 88.5, 0.0},
        {"eto [in]", "0.25", V::eto_mm, 6.35, 1e-12},
    };
    for (const OneValue& one : days) {
      CAPTURE(one.header);
      CHECK(first_value(one.header, one.text, one.variable, false) ==
            near(one.value, one.tolerance));
    }
    const std::vector<OneValue> hours = {
        {"radiation [W/m2]", "500", V::rs_mj_m2, 1.8, 1e-12},
        {"radiation [langley/h]", "50", V::rs_mj_m2, 2.0934, 1e-9},
        {"rain [mm/h]", "3", V::rain_mm, 3.0, 0.0},
    };
    for (const OneValue& one : hours) {
      CAPTURE(one.header);
      CHECK(first_value(one.header, one.text, one.variable, true) ==
            near(one.value, one.tolerance));
    }
  }

  TEST_CASE("weather csv - an unknown unit") {
    CHECK(findings_of("date,tmax [furlong]\n2027-06-15,31\n") ==
          "w.csv:1:6: error: \"furlong\" is not a unit that tmax of a day can have (use one of "
          "degC, degF, K)\n");
    CHECK(contains(errors_of("date,rain,tmax []\n2027-06-15,1,31\n"),
                   "w.csv:1:11: error: \"\" is not a unit"));
    CHECK(contains(errors_of("time,radiation [MJ/m2/d]\n2027-06-15T00:00,1\n2027-06-15T01:00,1\n"),
                   "is not a unit that radiation of an hour can have"));
  }

  TEST_CASE("weather csv - units that were taken and columns that were not are said") {
    CHECK(findings_of("date,tmax,station,rain\n2027-06-15,31,7,0\n") ==
          "w.csv:1:11: remark: columns not used: \"station\"\n"
          "w.csv:1:6: remark: no unit is written, taken: \"tmax\" in degC, \"rain\" in mm "
          "(write it into the header, such as \"tmax [degC]\")\n");
  }

  TEST_CASE("weather csv - two columns for one variable") {
    CHECK(contains(errors_of("date,tmax,temp_max\n2027-06-15,31,31\n"),
                   "w.csv:1:11: error: \"temp_max\" and \"tmax\" both claim to be tmax"));
    WeatherLayout layout;
    layout.columns["tmax"] = "temp_max";
    const WeatherSeries s = series_of("date,tmax,temp_max\n2027-06-15,31,32\n", layout);
    CHECK(s[V::t_max_c][0] == 32.0);
  }

  TEST_CASE("weather csv - columns mapped by the layout") {
    WeatherLayout layout;
    layout.columns = {
        {"date", "Tag"}, {"tmax", "MX [degF]"}, {"rain", "Regen (24 h) [in]"}, {"wind", "WS"}};
    const WeatherSeries s =
        series_of("Tag,MX,Regen (24 h),WS (km/h)\n2027-06-15,95,1,36\n", layout);
    CHECK(s[V::t_max_c][0] == near(35.0, 1e-9));
    CHECK(s[V::rain_mm][0] == near(25.4, 1e-12));
    CHECK(s[V::wind_m_s][0] == near(10.0, 1e-12));
  }

  TEST_CASE("weather csv - mappings that do not fit") {
    WeatherLayout layout;
    layout.columns = {{"tmax", "MXX"}};
    CHECK(contains(
        errors_of("date,MX1,rain\n2027-06-15,31,0\n", layout),
        "w.csv:1: error: weather.columns.tmax: the file has no column \"MXX\" (perhaps \"MX1\")"));
    layout.columns = {{"tmx", "MX"}};
    CHECK(contains(errors_of("date,MX,rain\n2027-06-15,31,0\n", layout),
                   "error: weather.columns.tmx: \"tmx\" is no weather column (perhaps tmax)"));
  }

  TEST_CASE("weather csv - missing values") {
    const WeatherSeries s = series_of(june("tmax", {"20", "", "NA", "nan", "-", "-9999", "-9999.0",
                                                    "null", "N/A", "no record", "21"}));
    for (const int i : {1, 2, 3, 4, 5, 6, 7, 8, 9}) {
      CHECK(std::isnan(s[V::t_max_c][i]));
      CHECK(s.origin(V::t_max_c)[static_cast<std::size_t>(i)] == Origin::missing);
      CHECK(s.lines[static_cast<std::size_t>(i)] == i + 2);
    }
    CHECK(s[V::t_max_c][10] == 21.0);
    CHECK(contains(errors_of(june("tmax", {"NA", "NA"})), "every value of this file is missing"));
  }

  TEST_CASE("weather csv - text in a number column is told once") {
    const std::string says = errors_of(june("tmax", {"20", "warm", "21", "hot", "inf", "1e999"}));
    CHECK(says ==
          "w.csv:3:12: error: \"warm\" is not a number, and so in 3 rows more "
          "(leave the field empty, or write NA, where there is no value)\n");
    CHECK(contains(errors_of("date,tmax\n2027-06-15,\"31,5\"\n"), "write a decimal point"));
  }

  TEST_CASE("weather csv - values that cannot be, and the likely unit") {
    CHECK(errors_of("date,tmax\n2027-06-15,58\n2027-06-16,95\n2027-06-17,96\n") ==
          "w.csv:3:12: error: a tmax of 95 cannot be in degC, and so in 1 row more "
          "(in degF it would be 35 degC: write the header as \"tmax [degF]\")\n");
    CHECK(contains(errors_of("date,rad\n2027-06-15,250\n", {.columns = {{"radiation", "rad"}}}),
                   "in W/m2 it would be 21.6 MJ/m2/d: write the header as \"rad [W/m2]\""));
    CHECK(contains(
        errors_of("date,radiation [MJ/m2]\n2027-06-15,620\n2027-06-16,750\n"),
        "in langley/d it would be 25.96 MJ/m2/d: write the header as \"radiation [langley/d]\""));
    CHECK(contains(errors_of("date,vapour_pressure\n2027-06-15,14\n"),
                   "in mbar it would be 1.4 kPa"));
    CHECK(contains(errors_of("date,sunshine\n2027-06-15,600\n"), "in min it would be 10 h"));
    CHECK(contains(errors_of("date,tmax\n2027-06-15,20\n2027-06-16,-999\n"),
                   "if -999 stands for a missing value, leave it empty or write NA"));
    CHECK(contains(errors_of("date,rain\n2027-06-15,-0.5\n"),
                   "w.csv:2:12: error: a rain of -0.5 cannot be in mm"));
    CHECK(contains(errors_of("date,wind\n2027-06-15,-1\n"), "a wind of -1 cannot be in m/s"));
    CHECK(contains(errors_of("date,rhmean\n2027-06-15,0.6\n2027-06-16,0.7\n"),
                   "write the header as \"rhmean [share]\""));
  }

  // Q01 of an open quality-control package (JOSS 2024, doi 10.21105/joss.06368): -50 to 60 degC,
  // ends included.
  TEST_CASE("weather csv - the ends of what is possible") {
    CHECK(errors_of("date,tmax,tmin\n2027-06-15,60,-50\n").empty());
    CHECK_FALSE(errors_of("date,tmax\n2027-06-15,60.1\n").empty());
    CHECK_FALSE(errors_of("date,tmin\n2027-06-15,-50.1\n").empty());
    CHECK(errors_of("date,rain\n2027-06-15,610\n").empty());
    CHECK_FALSE(errors_of("date,rain\n2027-06-15,610.1\n").empty());
  }

  TEST_CASE("weather csv - a spring in degF without a unit is doubted as a whole") {
    const std::string says =
        findings_of(june("tmax", {"48", "50", "51", "52", "49", "55", "53", "54"}));
    CHECK(contains(says, "w.csv:1:6: doubt: half of \"tmax\" lies above 52 degC"));
    CHECK(contains(says, "write it: \"tmax [degF]\""));
    CHECK_FALSE(contains(
        findings_of(june("tmax", {"38", "40", "41", "46", "44", "45", "43", "44"})), "doubt"));
    CHECK_FALSE(contains(
        findings_of(june("tmax [degC]", {"48", "50", "51", "52", "49", "55", "53"})), "doubt"));
    CHECK(contains(findings_of(june("wind", {"12", "11", "15", "9", "18", "14", "13"})),
                   "\"wind [km/h]\""));
  }

  TEST_CASE("weather csv - rain without a unit beside degF is doubted") {
    const std::string rows = "\n2027-06-15,95,0.5,6\n";
    const std::string says = findings_of("date,tmax [degF],rain,wind" + rows);
    CHECK(contains(says,
                   "w.csv:1:18: doubt: \"rain\" has no unit and is taken in mm, beside \"tmax "
                   "[degF]\" (write its unit: \"rain [in]\" or \"rain [mm]\")\n"));
    CHECK(contains(says, "w.csv:1:23: doubt: \"wind\" has no unit and is taken in m/s"));
    CHECK(contains(says, "\"wind [mph]\""));
    CHECK_FALSE(contains(says, "no unit is written"));
    CHECK_FALSE(contains(findings_of("date,tmax [degF],rain [mm],wind [m/s]" + rows), "doubt"));
    CHECK_FALSE(
        contains(findings_of("date,tmax [degC],rain,wind\n2027-06-15,35,0.5,6\n"), "doubt"));
  }

  // Q06 of the same package: 100 to 110 is capped, not rejected.
  TEST_CASE("weather csv - humidity a little above 100 counts as 100") {
    const std::string csv = june("rhmax", {"99", "103", "110", "100"});
    CHECK(contains(findings_of(csv),
                   "w.csv:3:12: doubt: a rhmax of 103 % counts as 100, and so in 1 row more"));
    const WeatherSeries s = series_of(csv);
    CHECK(s[V::rh_max_pct][1] == 100.0);
    CHECK(s[V::rh_max_pct][2] == 100.0);
    CHECK_FALSE(errors_of(june("rhmax", {"111"})).empty());
  }

  TEST_CASE("weather csv - a logger's offset at night counts as none") {
    const std::string csv = "time,radiation [W/m2]\n2027-06-15T00:00,-3\n2027-06-15T01:00,0\n";
    CHECK(series_of(csv)[V::rs_mj_m2][0] == 0.0);
    CHECK(contains(findings_of(csv), "w.csv:2:18: remark: radiation a little below zero"));
    CHECK_FALSE(
        errors_of("time,radiation [W/m2]\n2027-06-15T00:00,-30\n2027-06-15T01:00,0\n").empty());
    CHECK_FALSE(errors_of("date,radiation\n2027-06-15,-0.01\n").empty());
  }

  TEST_CASE("weather csv - tmin above tmax") {
    CHECK(errors_of("date,tmax,tmin\n2027-06-15,30,18\n2027-06-16,17,18.5\n2027-06-17,17,19\n") ==
          "w.csv:3:15: error: tmin is 18.5 degC, above the tmax of 17 degC on this day, and so in "
          "1 row more "
          "(correct one of them, or leave it empty)\n");
    CHECK(errors_of("date,tmax,tmin\n2027-06-15,18,18\n2027-06-16,,20\n").empty());
  }

  TEST_CASE("weather csv - a file as spreadsheets write it") {
    const WeatherSeries s = series_of(
        "\xEF\xBB\xBF\"date\";\"tmax\";\"rain (mm)\"\r\n2027-06-15;\"31,5\";0,2\r\n"
        "2027-06-16;29;\r\n;;\r\n");
    CHECK(s.rows() == 2);
    CHECK(s[V::t_max_c][0] == 31.5);
    CHECK(s[V::rain_mm][0] == 0.2);
    CHECK(std::isnan(s[V::rain_mm][1]));
    CHECK(series_of("date\ttmax\n2027-06-15\t31.5\n")[V::t_max_c][0] == 31.5);
    CHECK(series_of("date;tmax\n2027-06-15;31.5\n")[V::t_max_c][0] == 31.5);
    CHECK(contains(errors_of("date;tmax\n2027-06-15;31.5\n2027-06-16;31,5\n"),
                   "w.csv:3:12: error: decimal points and decimal commas in one column"));
  }

  TEST_CASE("weather csv - files with nothing to read") {
    CHECK(contains(errors_of(""), "there is nothing in this file"));
    CHECK(contains(errors_of("date,tmax\n"), "w.csv:1: error: there are no rows below the header"));
    CHECK(
        contains(errors_of("date,colour\n2027-06-15,red\n"), "no column is one that Runnel knows"));
    CHECK(contains(errors_of("tmax,rain\n31,0\n"), "no column says which day a row is"));
    CHECK(contains(errors_of("date,tmax,rain\n2027-06-15,31\n"),
                   "w.csv:2:12: error: this row has 2 fields, the header 3"));
    CHECK(contains(errors_of(std::string("date,tmax\n2027-06-15,3\0\n", 24)),
                   "this is not plain text"));
  }

  TEST_CASE("weather csv - every fault of a file is told at once") {
    const std::string says = errors_of(
        "date,tmax,tmin,rain "
        "[furlong]\n2027-06-15,99,x,0\n2027-06-15,20,30,0\n2027-02-29,20,10,0\n");
    CHECK(contains(says, "2027-06-15 stands in the file twice"));
    CHECK(contains(says, "there is no such day"));
    CHECK(contains(says, "a tmax of 99"));
    CHECK(contains(says, "\"x\" is not a number"));
    CHECK(contains(says, "furlong"));
    CHECK(contains(says, "above the tmax"));
  }
}
