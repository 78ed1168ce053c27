// What a garden's weather files say of the site, where the garden file leaves it open.
#include "runnel/garden/site_weather.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "runnel/garden/doubts.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/sky/psychrometrics.hpp"
#include "runnel/sky/radiation.hpp"
#include "runnel/units/number.hpp"
#include "site_fit.hpp"
#include "support/near.hpp"
#include "support/temporary_folder.hpp"

namespace runnel {
namespace {

constexpr double latitude_deg = 38.72;
constexpr double latitude_rad = latitude_deg * std::numbers::pi / 180.0;
constexpr double k_rs = 0.174, below_c = 3.1;
constexpr double t_min_c = 15.0, t_max_c = 24.0;  // a range of 9 degC: its root is 3

/// A folder with days of June and July 2027, of which the last, or a forecast, have temperatures
/// alone. Every third measured day is cloudy and moist: the median does not heed it.
class Files {
 public:
  explicit Files(int measured, double k_rs_per_sqrt_c = k_rs, double dew_below_c = below_c) {
    std::string days = "date,tmax,tmin,tdew,radiation,wind,rain\n";
    Date date = first;
    for (int i = 0; i < measured; ++i, date += std::chrono::days{1}) {
      const double ra = extraterrestrial_radiation_mj_m2_d(latitude_rad, day_of_year(date));
      const bool cloudy = i % 3 == 2;
      days += iso_date(date) + ",24,15," + fixed(t_min_c - (cloudy ? 0.0 : dew_below_c), 4) + "," +
              fixed((cloudy ? 0.08 : k_rs_per_sqrt_c) * 3.0 * ra, 4) + ",2,0\n";
    }
    folder_.write("observed.csv", days);
    std::string ahead = "date,tmax,tmin,wind,rain\n";
    for (int i = 0; i < 10; ++i, date += std::chrono::days{1})
      ahead += iso_date(date) + ",24,15,2,0\n";
    folder_.write("forecast.csv", ahead);
  }

  [[nodiscard]] Garden garden(const std::string& site = "", const std::string& weather = "") const {
    const std::string yaml =
        "garden: g\nsite: {latitude: 38.72, longitude: -9.14, elevation: 95 m, timezone: "
        "Europe/Lisbon" +
        site + "}\nweather: {observed: observed.csv, forecast: forecast.csv" + weather +
        "}\nwatering hours: [\"04:30-08:00\"]\nzones:\n  - {name: bed, valve: 1, area: 9 m2, "
        "plants: {kind: shrubs}, soil: {texture: loam}, emitters: {type: dripline, flow: 2 L/h, "
        "spacing: 30 cm, rows: 30 cm}}\n";
    Read<Garden> read = read_garden(yaml, folder_ / "garden.yaml");
    for (const Finding& finding : read.findings)
      if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
    return *read.value;
  }

 private:
  static constexpr Date first{std::chrono::days{20971}};  // 2027-06-02
  TemporaryFolder folder_;
};

struct Taken {
  std::vector<Finding> findings;
  SiteWeather weather;

  explicit Taken(const Garden& garden) : weather(read_site_weather(garden, findings)) {}

  /// Of the first day of the forecast.
  [[nodiscard]] double k() const {
    const EtInputs& days = *weather.forecast->inputs;
    const double ra = extraterrestrial_radiation_mj_m2_d(latitude_rad, day_of_year(days.first_day));
    return days.rs_mj_m2_d[0] / (ra * std::sqrt(t_max_c - t_min_c));
  }
  [[nodiscard]] double below() const {
    return t_min_c - dew_point_c(weather.forecast->inputs->ea_kpa[0]);
  }
  [[nodiscard]] long remarks() const {
    return std::count_if(findings.begin(), findings.end(), [](const Finding& one) {
      return one.says.find("days of this file that have it") != std::string::npos;
    });
  }
};

bool in_doubt(const Garden& garden, std::string_view input) {
  const std::vector<Doubt> all = doubts(garden, plan_garden(garden, {}), {});
  return std::any_of(all.begin(), all.end(),
                     [input](const Doubt& one) { return one.input == input; });
}

}  // namespace

TEST_SUITE("garden/site weather") {
  // FAO-56 Eq. 50 and 48: the days were made by these equations with figures of our own.
  TEST_CASE("days without radiation and humidity go by the site's measured days") {
    const Files files(30);
    const Taken taken(files.garden());
    CHECK(taken.k() == near(k_rs, 1e-4));
    CHECK(taken.below() == near(below_c, 1e-3));
    CHECK(taken.remarks() == 2);
    const auto says = [&](const std::string& words) {
      return std::any_of(taken.findings.begin(), taken.findings.end(), [&](const Finding& one) {
        return one.kind == Finding::Kind::remark && one.says == words;
      });
    };
    CHECK(
        says("where radiation is not measured FAO-56 Eq. 50 is taken with 0.174: the median of "
             "the 30 days of this file that have it"));
    CHECK(
        says("where humidity is not measured the dew point is taken 3.1 degC below the lowest "
             "temperature: the median of the 30 days of this file that have it"));
    // What was measured stays as it was.
    CHECK(taken.weather.observed.inputs->rs_mj_m2_d[0] ==
          near(k_rs * 3.0 *
                   extraterrestrial_radiation_mj_m2_d(
                       latitude_rad, day_of_year(taken.weather.observed.first_day)),
               1e-4));
    CHECK_FALSE(in_doubt(files.garden(), "site.setting"));
    CHECK_FALSE(in_doubt(files.garden(), "site.air"));
    Garden american = files.garden();
    american.display.units = UnitSystem::us;
    const Taken shown(american);
    CHECK(std::any_of(shown.findings.begin(), shown.findings.end(), [](const Finding& one) {
      return one.says.find("taken 5.6 degF below") != std::string::npos;
    }));
  }

  TEST_CASE("29 measured days are too few - inland and humid air are taken and in doubt") {
    const Files files(29);
    const Taken taken(files.garden());
    CHECK(taken.k() == near(0.16, 1e-9));
    CHECK(taken.below() == near(0.0, 1e-6));
    CHECK(taken.remarks() == 0);
    CHECK(in_doubt(files.garden(), "site.setting"));
    CHECK(in_doubt(files.garden(), "site.air"));
  }

  TEST_CASE("what the garden file states is not fitted") {
    const Files files(40);
    const Taken both(files.garden(", setting: coast, air: dry"));
    CHECK(both.k() == near(0.19, 1e-9));
    CHECK(both.below() == near(2.0, 1e-6));
    CHECK(both.remarks() == 0);
    const Taken setting(files.garden(", setting: coast"));
    CHECK(setting.k() == near(0.19, 1e-9));
    CHECK(setting.below() == near(below_c, 1e-3));
    CHECK(setting.remarks() == 1);
  }

  TEST_CASE("a fit is the median and stays within bounds") {
    const auto k_of = [](const std::vector<double>& k_by_day) {
      const auto days = static_cast<Eigen::Index>(k_by_day.size());
      EtInputs inputs{.first_day = Date{std::chrono::days{20971}},
                      .t_max_c = Column::Constant(days, 19.0),
                      .t_min_c = Column::Constant(days, 10.0),
                      .ea_kpa = Column::Constant(days, 1.0),
                      .u2_m_s = Column::Constant(days, 2.0),
                      .rs_mj_m2_d = Column(days),
                      .estimated = std::vector<Estimates>(k_by_day.size(), 0)};
      for (Eigen::Index i = 0; i < days; ++i)
        inputs.rs_mj_m2_d[i] =
            k_by_day[static_cast<std::size_t>(i)] * 3.0 *
            extraterrestrial_radiation_mj_m2_d(
                latitude_rad, day_of_year(inputs.first_day + std::chrono::days{i}));
      return fitted_k_rs_per_sqrt_c({&inputs}, {latitude_deg, -9.14, 95.0}).value().value;
    };
    std::vector<double> half(30, 0.15);
    std::fill(half.begin() + 15, half.end(), 0.17);
    CHECK(k_of(half) == near(0.16, 1e-12));
    half.push_back(0.17);
    CHECK(k_of(half) == near(0.17, 1e-12));
    CHECK(k_of(std::vector<double>(30, 0.25)) == 0.22);
    CHECK(k_of(std::vector<double>(30, 0.05)) == 0.12);
    CHECK(Taken(Files(40, k_rs, 12.0).garden()).below() == near(8.0, 1e-6));
    CHECK(Taken(Files(40, k_rs, -1.0).garden()).below() == near(0.0, 1e-6));
  }

  TEST_CASE("the record counts where it has more of such days - and nothing is said in vain") {
    const Files files(40);
    const Taken taken(files.garden("", ", record: observed.csv"));
    CHECK(taken.k() == near(k_rs, 1e-4));
    CHECK(taken.remarks() == 2);
    Garden no_forecast = files.garden();
    no_forecast.weather.forecast.reset();
    CHECK(Taken(no_forecast).remarks() == 0);
  }
}

}  // namespace runnel
