#include "engine/stay/sources.hpp"

#include "weather/grid_rounding.hpp"

namespace dullspell {
namespace {

HourSources sources_at(const Plan& plan, const Camp& camp, const CalendarHour& hour) {
  HourSources out;
  out.vehicle_w = on_grid(hour.driving * plan.vehicle_charge_w);
  if (camp.hookup && hour.driving < 1.0) {
    out.source = Source::mains;
    out.share = on_grid(1.0 - hour.driving);
  } else if (plan.generator) {
    out.share = on_grid(share_of_hour(plan.generator->allowed, hour.hour_of_day));
    if (out.share > 0.0) out.source = Source::generator;
  }
  return out;
}

}  // namespace

std::vector<HourSources> sources_of(const Plan& plan, const StayCalendar& calendar) {
  std::vector<HourSources> out;
  for (const CalendarHour& hour : calendar.hours) {
    const CampDay& camp_day = calendar.camp_days[static_cast<std::size_t>(hour.camp_day)];
    out.push_back(sources_at(plan, plan.camps[static_cast<std::size_t>(camp_day.camp)], hour));
  }
  return out;
}

}  // namespace dullspell
