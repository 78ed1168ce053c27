#include "runnel/demand/plant_growth.hpp"

#include <algorithm>
#include <stdexcept>

namespace runnel {
namespace {

constexpr double lawn_height_m = 0.10;  // FAO-56 Table 12, turf grass

/// The day of that month of a year; 29 February is 28 in years without it.
Date date_in(std::chrono::year year, std::chrono::month_day when) {
  using namespace std::chrono;
  const year_month_day day = year / when.month() / when.day();
  return local_days{day.ok() ? day : year / when.month() / last};
}

std::chrono::month_day green_up_day(const Crop& crop, const Growing& growing) {
  using namespace std::chrono;
  if (growing.green_up) {
    const year_month_day stated{*growing.green_up};
    return stated.month() / stated.day();
  }
  constexpr unsigned half_a_year = 6, middle_of_the_month = 15;
  const unsigned months = crop.green_up_month - 1 + (growing.southern ? half_a_year : 0);
  return month{months % 12 + 1} / day{middle_of_the_month};
}

Date last_green_up(const Crop& crop, const Growing& growing, Date date) {
  const std::chrono::month_day when = green_up_day(crop, growing);
  const std::chrono::year year = std::chrono::year_month_day{date}.year();
  const Date this_year = date_in(year, when);
  return this_year <= date ? this_year : date_in(year - std::chrono::years{1}, when);
}

const StageLengths& stages_of(const Crop& crop) {
  if (!crop.stages) throw std::invalid_argument("a crop needs its stage lengths");
  return *crop.stages;
}

/// Share of the way from the root ball to full depth, 0-1.
double established_share(const Plant& plant, const Growing& growing, Date date) {
  if (!is_young(plant, growing, date)) return 1.0;
  const double days_since = static_cast<double>((date - *growing.planted).count());
  return std::clamp(days_since / establishment_days(plant), 0.0, 1.0);
}

double root_ball_m(const Plant& plant, const Growing& growing) {
  if (growing.root_ball_m) return *growing.root_ball_m;
  const auto* planting = std::get_if<Landscape>(&plant);
  return planting != nullptr ? planting->root_ball_m : usual_root_ball_m;
}

const Crop* annual(const Plant& plant) {
  const auto* crop = std::get_if<Crop>(&plant);
  return crop != nullptr && crop->season == Season::annual ? crop : nullptr;
}

double crop_roots_m(const Crop& crop, const Growing& growing, double full_m, Date date) {
  const StageLengths& stages = stages_of(crop);
  const StageValues roots{
      .ini = std::min(seedling_root_depth_m, full_m), .mid = full_m, .end = full_m};
  const StageLengths growth{
      .ini = 0, .dev = stages.ini + stages.dev, .mid = stages.mid, .late = stages.late};
  return stage_value(season_day(crop, growing, date), growth, roots);
}

double full_height_m(const Plant& plant) {
  if (const auto* crop = std::get_if<Crop>(&plant)) return crop->height_m;
  if (const auto* planting = std::get_if<Landscape>(&plant)) return planting->height_m;
  return lawn_height_m;
}

double crop_height_m(const Crop& crop, const Growing& growing, Date date) {
  const StageValues height{.ini = crop.height_m * std::min(crop.kcb.ini / crop.kcb.mid, 1.0),
                           .mid = crop.height_m,
                           .end = crop.height_m};
  return stage_value(season_day(crop, growing, date), stages_of(crop), height);
}

}  // namespace

int season_day(const Crop& crop, const Growing& growing, Date date) {
  const bool yearly = crop.season != Season::annual;
  if (!yearly && !growing.planted)
    throw std::invalid_argument("season_day: an annual crop needs its planting date");
  const Date first = yearly ? last_green_up(crop, growing, date) : *growing.planted;
  return static_cast<int>((date - first).count()) + 1;
}

int establishment_days(const Plant& plant) {
  if (const auto* planting = std::get_if<Landscape>(&plant)) return planting->establishment_days;
  const auto* crop = std::get_if<Crop>(&plant);
  return crop != nullptr && crop->season != Season::annual ? usual_establishment_days : 0;
}

bool is_young(const Plant& plant, const Growing& growing, Date date) {
  const int days = establishment_days(plant);
  return days > 0 && growing.planted && date < *growing.planted + std::chrono::days{days};
}

Column root_depth_by_day_m(const Plant& plant, const Growing& growing, double full_m,
                           Date first_day, Eigen::Index days) {
  const Crop* crop = annual(plant);
  const double ball_m = std::min(root_ball_m(plant, growing), full_m);
  Column depth(days);
  for (Eigen::Index day = 0; day < days; ++day) {
    const Date date = first_day + std::chrono::days{day};
    depth[day] = crop != nullptr
                     ? crop_roots_m(*crop, growing, full_m, date)
                     : ball_m + established_share(plant, growing, date) * (full_m - ball_m);
  }
  return depth;
}

Column height_by_day_m(const Plant& plant, const Growing& growing, Date first_day,
                       Eigen::Index days) {
  const Crop* crop = annual(plant);
  if (crop == nullptr) {
    const double full_m = root_depth_m(plant);
    return full_height_m(plant) / full_m *
           root_depth_by_day_m(plant, growing, full_m, first_day, days);
  }
  Column height(days);
  for (Eigen::Index day = 0; day < days; ++day)
    height[day] = crop_height_m(*crop, growing, first_day + std::chrono::days{day});
  return height;
}

}  // namespace runnel
