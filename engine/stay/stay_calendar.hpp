#pragma once

#include <cstddef>
#include <vector>

#include "engine/plan/plan.hpp"

namespace dullspell {

/// The part of one calendar date spent at one camp.
struct CampDay {
  DayIndex day;
  CampIndex camp;
  int first_hour = 0;  ///< index of the first hour in StayCalendar::hours
  int end_hour = 0;    ///< one past the last
};

/// One clock hour of the stay.
struct CalendarHour {
  SegmentIndex segment;
  DayIndex day;
  int hour_of_day = 0;
  double driving = 0.0;  ///< share of the hour, 0..1, at its begin: the drive ends in the camp
};

/// Which camp and hour follows which, from now on if the stay is under way. Camps change at the
/// hour of leaving, and the drive into a camp comes first there.
struct StayCalendar {
  int first_day = 0;              ///< days since arrival of dates[0]
  Indexed<DayIndex, Date> dates;  ///< to the last that has an hour of the stay
  Indexed<SegmentIndex, CampDay> camp_days;
  std::vector<CalendarHour> hours;

  int days() const { return static_cast<int>(dates.size()); }
};

StayCalendar stay_calendar(const Plan& plan);

/// Camp at an hour of the plan.
CampIndex camp_at(const Plan& plan, PlanHour at);

/// The camp where one wakes up on a day of the plan, days since arrival, or where one arrives.
CampIndex waking_camp(const Plan& plan, int day);

}  // namespace dullspell
