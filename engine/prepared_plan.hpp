#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "engine/panels.hpp"
#include "engine/plan.hpp"
#include "engine/stay_climate.hpp"

namespace dullspell {

/// The part of one calendar date spent at one camp, with the climate that the plan's place states
/// for it. All of a stay's weather is given per segment.
struct Segment : SegmentClimate {
  int day = 0;         ///< index into PreparedPlan::dates
  int camp = 0;        ///< index into Plan::camps
  int first_hour = 0;  ///< index of the first hour in PreparedPlan::hours
  int end_hour = 0;    ///< one past the last

  std::vector<PowerTable> power;  ///< as PreparedPlan::controller_limit_w
};

/// One clock hour of the stay, with everything that the weather does not change.
struct HourSlot {
  int segment = 0;
  int day = 0;
  int hour_of_day = 0;
  double temperature_swing = 0.0;  ///< times the daily range, from the daily mean
  bool sun_up = false;
  bool panels_lit = false;
  double at_camp = 1.0;     ///< share of the hour not spent driving: panels out, mains connected
  double fixed_dc_w = 0.0;  ///< loads that are always wanted and never vary
  double fixed_ac_w = 0.0;
  double inverter_on = 0.0;  ///< share of the hour
  double vehicle_w = 0.0;
  bool hookup = false;
  double generator_allowed = 0.0;     ///< share of the hour
  double generator_target_wh = -1.0;  ///< rule `night`: stored energy to reach; negative: none
};

/// A load by hours of the stay; flexible ones depend on the day or on the state of charge.
struct FlexibleLoad {
  std::string name;
  bool ac = false;            ///< behind the inverter
  std::vector<double> watts;  ///< by hour of the stay, on a usual day
  std::optional<double> optional_below;
  bool varies = false;
  NormalTable use_of_draw;  ///< lognormal of mean 1
  double dull_day_factor = 1.0;
  double most = 1.0;             ///< greatest multiple of the usual day that fits the windows
  std::uint32_t draw_block = 0;  ///< of its name: keys its draws, whatever other loads there are
  double converter_loss = 0.0;   ///< share of `watts` that a converter behind the inverter loses
};

/// Furnace with its windows cut into clock hours.
struct PreparedFurnace {
  struct Hold {
    double share;  ///< of the hour
    double set_point_c;
  };
  double blower_w, output_w, heat_loss_w_per_k, gains_w;
  std::array<std::vector<Hold>, 24> hold;
  std::array<double, 24> unheld_share;
  std::optional<double> other_heat_c;
};

/// Compressor fridge: power by ambient temperature, in straight pieces and constant beyond them.
struct PreparedFridge {
  struct Piece {
    double from_c, length_k, w_per_k;
  };
  bool ac = false;
  double coldest_w = 0.0;  ///< up to where the first piece begins
  std::vector<Piece> pieces;

  double power_at(double ambient_c) const;
};

/// A date whose sky is known, as the plan says it and as it is understood.
struct KnownDate {
  int day;  ///< index into PreparedPlan::dates; -1 is the day before
  Date date;
  KnownSky sky;
  StatedClearness stated;
  double k_median;  ///< of the draws: what is stated, unless the place's statistics end before it
};

/// Everything that a stay needs, immutable and shared by all threads. Physics ends here: what
/// follows is arithmetic on these tables.
struct PreparedPlan {
  std::vector<Date> dates;  ///< from arrival, or now, to departure
  int first_day = 0;        ///< of the plan, days since arrival: that of dates[0]
  std::vector<HourSlot> hours;
  std::vector<Segment> segments;
  DaySequence sequence{{}};
  ClimateOfStay climate;         ///< what segments and sequence are made from, and its doubts
  std::vector<KnownDate> known;  ///< in order; the day before dates[0] may be the first

  /// Of each controller that its limit may hold back; the others share one entry without a limit.
  std::vector<double> controller_limit_w;
  std::vector<FlexibleLoad> flexible;  ///< optional ones first
  std::vector<FlexibleLoad> fixed;     ///< the others, already summed in the hours; for reports
  std::optional<PreparedFurnace> furnace;
  std::optional<PreparedFridge> fridge;

  Battery battery;
  std::optional<Inverter> inverter;
  std::optional<Generator> generator;  ///< rated_w already derated for altitude
  double hookup_charger_w = 0.0;

  double usable_wh() const { return battery.usable_wh(); }
  int days() const { return static_cast<int>(dates.size()); }
};

/// Builds the tables of a validated plan, from now on if it is under way: what lies before is left
/// out, and weather is drawn as for a stay that begins then.
PreparedPlan prepare(const Plan& plan);

/// The same plan with its generator left at home: one track, and half the work.
PreparedPlan without_generator(PreparedPlan prepared);

/// What prepare() makes of the same plan with another battery, at little cost.
PreparedPlan with_battery(PreparedPlan prepared, const Battery& battery);

/// Direct current from all controllers in one hour, W: linear in K between the tables' nodes.
double panel_power_w(const PreparedPlan& prepared, const HourSlot& slot, double k, double air_c);

/// A load's use on a day over its usual use: `variation` is the day's draw (1 for none); the
/// dull-day factor holds in full up to K = 0.25 and not at all from K = 0.50; never more than its
/// windows hold.
double use_on_day(const FlexibleLoad& load, double variation, double k);

/// Weather and use that the plan expects: month-mean temperature on the date, usual loads.
struct ExpectedHour {
  double panels_w;  ///< after the controllers' limits
  double draw_w;    ///< direct current, inverter losses included
  double furnace_w;
  double fridge_w;
  double inverter_loss_w;
  double battery_c;
};

/// One hour at a given clearness, no anomaly of temperature, no day-to-day variation of loads.
ExpectedHour expected_hour(const PreparedPlan& prepared, std::size_t hour, double k);

}  // namespace dullspell
