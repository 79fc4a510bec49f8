#include "engine/plan/plan_clock.hpp"

namespace dullspell {
namespace {

double summer_h(const Plan& plan) {
  if (plan.summer_time_stated) return *plan.summer_time_stated ? 1.0 : 0.0;
  const Camp& first = plan.camps.front();
  const TimeZone* zone = zone_of(first);
  return zone == nullptr || first.utc_offset_stated ? 0.0 : zone->summer.ahead_h(plan.arrive);
}

}  // namespace

const TimeZone* zone_of(const Camp& camp) {
  // Coordinates of places are rounded, and towns by a border may keep the clock beyond it.
  constexpr double kNear_km = 10.0;
  const TimeZoneTable& zones = TimeZoneTable::built_in();
  const double offset_h = camp.place.utc_offset_h;
  if (const TimeZone& here = zones.at(camp.where); here.utc_offset_h == offset_h) return &here;
  for (const TimeZone* zone : zones.around(camp.where, kNear_km)) {
    if (zone->utc_offset_h == offset_h) return zone;
  }
  return nullptr;
}

void set_clock(Plan& plan) {
  const double ahead_h = summer_h(plan);
  plan.summer_time = ahead_h != 0.0;
  plan.clock_offset_h = plan.camps.front().place.utc_offset_h + ahead_h;
}

double local_clock_h(const Plan& plan, const Camp& camp, Date date) {
  if (const TimeZone* zone = zone_of(camp)) return zone->clock_h(date);
  if (!camp.utc_offset_stated) return TimeZoneTable::built_in().at(camp.where).clock_h(date);
  const double ahead_h = plan.clock_offset_h - plan.camps.front().place.utc_offset_h;
  return camp.place.utc_offset_h + ahead_h;
}

}  // namespace dullspell
