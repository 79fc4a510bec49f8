#include "engine/stay/stay_calendar.hpp"

#include <algorithm>

namespace dullspell {
namespace {

// Days since arrival on which a camp begins.
int camp_begins(const Plan& plan, CampIndex camp) {
  int day = 0;
  for (int before = 0; before < camp.value; ++before) day += plan.camps[CampIndex(before)].nights;
  return day;
}

void lay_out_hours(const Plan& plan, StayCalendar& out) {
  const int last_day = out.days() - 1;
  for (int day = 0; day <= last_day; ++day) {
    const int from = day == 0 ? plan.start().hour_of_day : 0;
    const bool leaves = out.first_day + day == plan.nights();
    const int to = leaves ? plan.leave_hour : 24;
    for (int hour = from; hour < to; ++hour) {
      const CampIndex camp = camp_at(plan, {out.first_day + day, hour});
      const int index = static_cast<int>(out.hours.size());
      if (out.camp_days.empty() || out.camp_days.back().day != day ||
          out.camp_days.back().camp != camp) {
        out.camp_days.push_back({day, camp, index, index});
      }
      out.camp_days.back().end_hour = index + 1;
      out.hours.push_back({static_cast<int>(out.camp_days.size()) - 1, day, hour, 0.0});
    }
  }
}

void drive(const Plan& plan, StayCalendar& out) {
  const PlanHour start = plan.start();
  CampIndex camp = camp_at(plan, start);
  // A stay under way may begin in the middle of a drive; what leads to the first camp lies before.
  constexpr double kArrived_h = 1e9;
  double driven_h = camp == 0 ? kArrived_h
                              : 24.0 * (start.day - camp_begins(plan, camp)) + start.hour_of_day -
                                    plan.leave_hour;
  for (CalendarHour& hour : out.hours) {
    const CampIndex here = out.camp_days[hour.segment].camp;
    if (here != camp) {
      camp = here;
      driven_h = 0.0;
    }
    hour.driving = std::clamp(plan.camps[camp].drive_in_h - driven_h, 0.0, 1.0);
    driven_h += 1.0;
  }
}

}  // namespace

StayCalendar stay_calendar(const Plan& plan) {
  StayCalendar out;
  out.first_day = plan.start().day;
  for (int d = out.first_day; d <= plan.last_day(); ++d) {
    out.dates.push_back(plan.arrive + std::chrono::days{d});
  }
  lay_out_hours(plan, out);
  drive(plan, out);
  return out;
}

CampIndex camp_at(const Plan& plan, PlanHour at) {
  int camp = 0;
  int change = plan.camps.front().nights;  // days since arrival
  while (camp + 1 < static_cast<int>(plan.camps.size())) {
    if (at.day < change || (at.day == change && at.hour_of_day < plan.leave_hour)) break;
    change += plan.camps[CampIndex(++camp)].nights;
  }
  return camp;
}

CampIndex waking_camp(const Plan& plan, int day) {
  return camp_at(plan, day == plan.start().day ? plan.start() : PlanHour{day, 0});
}

}  // namespace dullspell
