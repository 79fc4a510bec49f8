#pragma once

#include <optional>
#include <vector>

#include "engine/hour/hour_tables.hpp"
#include "engine/plan/plan.hpp"
#include "engine/stay/load_tables.hpp"
#include "engine/stay/stay_climate.hpp"
#include "engine/stay/stay_weather.hpp"

namespace dullspell {

/// The part of one calendar date spent at one camp, with the climate that the plan's place states
/// for it. All of a stay's weather is given per segment.
struct Segment : SegmentClimate {
  DayIndex day;
  CampIndex camp;
  int first_hour = 0;  ///< index of the first hour in PreparedPlan::hours
  int end_hour = 0;    ///< one past the last

  std::vector<PowerTable> power;  ///< as PreparedPlan::controller_limit_w
};

/// Everything that a stay needs, immutable and shared by all threads. Physics ends here: what
/// follows is arithmetic on these tables.
struct PreparedPlan {
  Indexed<DayIndex, Date>
      dates;          ///< from arrival, or now, to the last that has an hour of the stay
  int first_day = 0;  ///< of the plan, days since arrival: that of dates[0]
  std::vector<HourSlot> hours;
  Indexed<SegmentIndex, Segment> segments;
  DaySequence sequence{{}};
  ClimateOfStay climate;         ///< what segments and sequence are made from, and its doubts
  std::vector<KnownDate> known;  ///< in order; the day before dates[0] may be the first

  /// Of each controller that its limit may hold back; the others share one entry without a limit.
  std::vector<double> controller_limit_w;
  std::vector<FlexibleLoad> flexible;  ///< optional ones first
  std::vector<FlexibleLoad> fixed;     ///< the others, already summed in the hours; for reports
  std::optional<FurnaceTables> furnace;
  std::optional<FridgeTables> fridge;

  Battery battery;
  std::optional<Inverter> inverter;
  std::optional<Generator> generator;  ///< rated_w already derated
  Derating derating;                   ///< of the generator, at the camp where least is left
  double hookup_charger_w = 0.0;
  double accept_risk = 0.0;  ///< share of stays that may fail
  int accept_flat_h = 0;     ///< a stay fails that is flat for longer in all

  double usable_wh() const { return battery.usable_wh(); }
  int days() const { return static_cast<int>(dates.size()); }
};

/// Builds the tables of a validated plan, from now on if it is under way: what lies before is left
/// out, and weather is drawn as for a stay that begins then. Its generator never starts before
/// prepare() (engine/study/prepare.hpp) has said when.
PreparedPlan prepare_stay(const Plan& plan);

/// The tables of a plan with other kit at the same camps on the same dates as those of `other`: the
/// hours that it expects, and no weather to draw from.
PreparedPlan expected_as(const Plan& plan, const PreparedPlan& other);

/// The same where panels and what shades them are those of the other too: quicker by far.
PreparedPlan expected_with_panels_of(const Plan& plan, const PreparedPlan& other);

/// The same plan with its generator left at home: one track, and half the work.
PreparedPlan without_generator(PreparedPlan prepared);

}  // namespace dullspell
