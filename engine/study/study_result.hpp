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
  Proportion flat_by_day;                       ///< failed by then, as TrackRisk::flat
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

/// When a stay that fails does so: when it is flat for the first time, or, where some hours flat
/// are accepted, when they are over.
struct UsualFailure {
  int day = 0;             ///< index into PreparedPlan::dates
  int hour_of_day = 0;     ///< commonest hour of that day
  double day_share = 0.0;  ///< stays that fail on that day, of those that do
  double flat_h = 0.0;     ///< median hours flat of stays that fail
};

/// Risk on one track.
struct TrackRisk {
  Proportion flat;  ///< stays that are flat for longer than the plan accepts; at all by default
  /// 95 % interval for what the places' records cannot tell, sampling included; none for weather
  /// that is not drawn from places.
  std::optional<Interval> flat_climate;
  std::vector<DayRisk> days;
  std::vector<HourCharge> hours;
  std::optional<UsualFailure> usual_failure;  ///< none if no stay ran flat
  std::vector<double> flat_hour_of_day;       ///< share of all flat hours, 24 entries
  double flat_hours_share = 0.0;              ///< flat hours over all hours
  Spread flat_h;                              ///< hours flat of a stay
  Spread flat_nights;                         ///< nights with a flat hour of a stay, noon to noon
  Spread missing_wh;                          ///< energy not served of a stay
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
