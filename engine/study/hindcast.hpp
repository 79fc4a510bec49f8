#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "engine/statistics/year_shares.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/study/progress.hpp"
#include "engine/study/study.hpp"
#include "weather/past_weather.hpp"

namespace dullspell {

struct HindcastOptions {
  /// Periods begin up to so many days before and after the plan's date, 0..45.
  int window_days = 7;
  std::uint64_t seed = 1;  ///< of the loads that vary
  int threads = 0;
  Indexed<CampIndex, double> warmer_k;  ///< than at the record's site; empty if nowhere
};

/// Farther away than this, a record's weather says nothing of a camp's.
inline constexpr double kFarthestRecord_km = 250.0;

/// How far each of the plan's camps lies from where a record was measured, km.
std::vector<double> distances_to_camps_km(const Plan& plan, const Coordinates& measured_at);

/// How much warmer each of the plan's camps is than the site of a record, K, by height: the camp's
/// own, else its place's. 0 where a height is unknown.
Indexed<CampIndex, double> camps_warmer_k(const Plan& plan, const WeatherRecord& record);

/// What one past period did to the kit.
struct PastPeriod {
  int year = 0;  ///< of the plan's own date; the period may reach into the next
  Date begin{};
  std::optional<int> first_flat_day;  ///< index into PreparedPlan::dates; none if it does not fail
  double shortfall_wh = 0.0;
  std::optional<int> first_flat_day_along;  ///< with the generator along
  double generator_h = 0.0;
};

/// The periods that began in one year.
struct PastYear {
  int year = 0;
  int periods = 0;
  int flat = 0;
  int flat_along = 0;
  double shortfall_wh = 0.0;          ///< mean of the periods
  std::optional<int> first_flat_day;  ///< the earliest of all periods
};

struct HindcastResult {
  int window_days = 0;
  int periods_left_out = 0;          ///< for a gap; those beyond the record's ends do not count
  int days_without_temperature = 0;  ///< given the plan's expectation; each counted once
  std::vector<PastPeriod> periods;
  std::vector<PastYear> years;          ///< in order
  YearsShare flat;                      ///< generator left at home
  std::vector<YearsShare> flat_by_day;  ///< one entry a date of the plan
  std::optional<YearsShare> flat_along;
  std::optional<Spread> generator_h;
};

/// Runs a prepared plan on every past period that begins near the plan's own date in any year of
/// the record, through the same engine. A day's clearness and temperature come from the past day,
/// the sun's path from the plan's own dates. Throws std::invalid_argument, in words for people, if
/// the record holds no whole period.
HindcastResult run_hindcast(const PreparedPlan& plan, const PastWeather& past,
                            const HindcastOptions& options, const Progress& progress = {});

}  // namespace dullspell
