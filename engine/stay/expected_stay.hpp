#pragma once

#include <cstddef>

#include "engine/stay/stay_tables.hpp"

namespace dullspell {

/// Weather and use that the plan expects: month-mean temperature on the date, usual loads.
struct ExpectedHour {
  double panels_w;  ///< after the controllers' limits
  double draw_w;    ///< direct current, inverter losses included
  double furnace_w;
  double fridge_w;
  double inverter_loss_w;
  double battery_c;
};

/// The hours of a stay as the plan expects them. The plan must outlive it.
class ExpectedStay {
 public:
  explicit ExpectedStay(const PreparedPlan& plan) : plan_(plan), tables_(plan) {}

  /// One hour at a given clearness, no anomaly of temperature, no day-to-day variation of loads.
  ExpectedHour at(std::size_t hour, double k) const;

  /// The same at the mean clearness of the date.
  ExpectedHour usual(std::size_t hour) const;

 private:
  const PreparedPlan& plan_;
  StayTables tables_;
};

/// Direct current from all controllers in one hour, W: linear in K between the tables' nodes.
double panel_power_w(const HourTables& tables, const HourSlot& slot, double k, double air_c);

/// Of the hours' averages that the plan expects, without what comes in, W.
double greatest_draw_w(const PreparedPlan& plan);

/// Share of what the battery holds that the cold withholds in the coldest hour that is expected.
double coldest_cut_off_share(const PreparedPlan& plan);

}  // namespace dullspell
