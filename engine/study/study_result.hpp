#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "engine/kernel/instruction_set.hpp"
#include "engine/statistics/interval.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/study/tally.hpp"

namespace dullspell {

struct ChargeQuantiles {
  double p05, p25, p50, p75, p95;
};

struct DayRisk {
  int day = 1;  ///< of the plan; 1 is the date of arrival
  Date date{};
  Proportion flat_on_day;
  Proportion flat_by_day;
  std::optional<Interval> flat_by_day_climate;  ///< as TrackRisk::flat_climate
  std::optional<ChargeQuantiles> morning_low;   ///< none without hours between 00:00 and 12:00
};

struct HourCharge {
  std::size_t hour = 0;  ///< index into PreparedPlan::hours
  ChargeQuantiles charge{};
};

/// Mean and quantiles of something per stay.
struct Spread {
  double mean = 0.0, p50 = 0.0, p90 = 0.0, p99 = 0.0;
};

/// When a battery that runs flat does so for the first time.
struct UsualFailure {
  int day = 0;             ///< index into PreparedPlan::dates
  int hour_of_day = 0;     ///< commonest first flat hour of that day
  double day_share = 0.0;  ///< stays that first run flat on that day, of those that do
  double lasts_h = 0.0;    ///< median length of the first outage
};

/// Risk on one track.
struct TrackRisk {
  Proportion flat;
  /// 95 % interval for what the places' records cannot tell, sampling included; none for weather
  /// that is not drawn from places.
  std::optional<Interval> flat_climate;
  std::vector<DayRisk> days;
  std::vector<HourCharge> hours;
  std::optional<UsualFailure> usual_failure;  ///< none if no stay ran flat
  std::vector<double> flat_hour_of_day;       ///< share of all flat hours, 24 entries
  double flat_hours_share = 0.0;              ///< flat hours over all hours
  double shortfall_share = 0.0;               ///< energy not served over energy asked for
  double shortfall_wh = 0.0;                  ///< per stay
  double demand_wh = 0.0;
  double given_up_wh = 0.0;
  double spilled_wh = 0.0;
};

struct GeneratorResult {
  TrackRisk risk;  ///< that remains with it along
  Spread hours, fuel_l, starts;
  std::vector<double> hours_histogram;  ///< share of stays by whole hours: 0, up to 1, ...
  std::optional<Spread> least_hours;    ///< of stays in which enough hours are allowed
  Proportion not_enough;                ///< stays that all allowed hours do not save
};

/// What is known after a study, with the inputs that reproduce it.
struct StudyResult {
  std::uint64_t seed = 1;
  std::uint64_t stays = 0;
  std::optional<double> precision;
  InstructionSet instruction_set = InstructionSet::baseline;  ///< that it ran with
  bool precision_reached = true;
  TrackRisk home;
  std::optional<GeneratorResult> generator;
  double panels_wh_per_day = 0.0;
};

/// What a tally of a plan's stays says; seed, precision and climate intervals are the caller's.
StudyResult study_result(const PreparedPlan& plan, const Tally& tally);

}  // namespace dullspell
