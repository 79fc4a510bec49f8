#include "engine/stay/sources.hpp"

#include <cmath>

#include "weather/grid_rounding.hpp"

namespace dullspell {
namespace {

// Share of the hour in which the generator is allowed and stands at the camp: not while driving,
// which comes first.
double generator_share(const Generator& generator, const CalendarHour& hour) {
  const int driven_min = static_cast<int>(std::ceil(60.0 * hour.driving));
  if (driven_min >= 60) return 0.0;
  const int begin_min = 60 * hour.hour_of_day;
  const std::vector<ClockWindow> at_camp{{begin_min + driven_min, begin_min + 60}};
  return on_grid(shared_share_of_hour(generator.allowed, at_camp, hour.hour_of_day));
}

HourSources sources_at(const Plan& plan, const Camp& camp, const CalendarHour& hour) {
  HourSources out;
  out.vehicle_w = on_grid(hour.driving * plan.vehicle_charge_w);
  if (camp.hookup && hour.driving < 1.0) {
    out.source = Source::mains;
    out.share = on_grid(1.0 - hour.driving);
  } else if (plan.generator) {
    out.share = generator_share(*plan.generator, hour);
    if (out.share > 0.0) out.source = Source::generator;
  }
  return out;
}

}  // namespace

std::vector<HourSources> sources_of(const Plan& plan, const StayCalendar& calendar) {
  std::vector<HourSources> out;
  for (const CalendarHour& hour : calendar.hours) {
    const CampDay& camp_day = calendar.camp_days[hour.segment];
    out.push_back(sources_at(plan, plan.camps[camp_day.camp], hour));
  }
  return out;
}

}  // namespace dullspell
