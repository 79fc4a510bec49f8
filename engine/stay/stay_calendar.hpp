#pragma once

#include <cstddef>
#include <vector>

#include "engine/plan.hpp"

namespace dullspell {

/// The part of one calendar date spent at one camp.
struct CampDay {
  int day = 0;         ///< index into StayCalendar::dates
  int camp = 0;        ///< index into Plan::camps
  int first_hour = 0;  ///< index of the first hour in StayCalendar::hours
  int end_hour = 0;    ///< one past the last
};

/// One clock hour of the stay.
struct CalendarHour {
  int camp_day = 0;  ///< index into StayCalendar::camp_days
  int day = 0;
  int hour_of_day = 0;
  double driving = 0.0;  ///< share of the hour, 0..1, at its begin: the drive ends in the camp
};

/// Which camp and hour follows which, from now on if the stay is under way. Camps change at the
/// hour of leaving, and the drive into a camp comes first there.
struct StayCalendar {
  int first_day = 0;        ///< days since arrival of dates[0]
  std::vector<Date> dates;  ///< to the last that has an hour of the stay
  std::vector<CampDay> camp_days;
  std::vector<CalendarHour> hours;

  int days() const { return static_cast<int>(dates.size()); }
};

StayCalendar stay_calendar(const Plan& plan);

/// Camp at an hour of the plan.
std::size_t camp_at(const Plan& plan, PlanHour at);

/// The camp where one wakes up on a day of the plan, days since arrival, or where one arrives.
std::size_t waking_camp(const Plan& plan, int day);

}  // namespace dullspell
