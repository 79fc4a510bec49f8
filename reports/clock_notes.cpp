#include "reports/clock_notes.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "engine/plan/plan_clock.hpp"
#include "reports/plan_summary.hpp"
#include "weather/time_zone.hpp"

namespace dullspell {
namespace {

constexpr double kNearBorder_km = 5.0;

std::string more_or_less(double ahead_h) {
  return fmt::format("{:g} h {}", std::abs(ahead_h), ahead_h > 0.0 ? "more" : "less");
}

std::string first_camp_note(const Plan& plan) {
  const Camp& first = plan.camps.front();
  const double ahead_h = local_clock_h(plan, first, plan.arrive) - plan.clock_offset_h;
  if (ahead_h == 0.0) return {};
  const char* fix = plan.summer_time_stated   ? "Leave summer_time out to go by them."
                    : first.utc_offset_stated ? "Leave utc_offset_h out to go by them."
                                              : "State the camp's utc_offset_h to go by them.";
  return fmt::format(
      "All hours are by {}. By the table of time zones, clocks at {} show {} on {}. {}",
      clock_name(plan), first.place.name, more_or_less(ahead_h), short_date(plan.arrive), fix);
}

std::string later_camp_note(const Plan& plan, const Camp& camp, Date begin) {
  const double there_h = local_clock_h(plan, camp, begin);
  // A change of the first camp's own clock has a note of its own.
  if (there_h == local_clock_h(plan, plan.camps.front(), begin)) return {};
  if (there_h == plan.clock_offset_h) return {};
  return fmt::format(
      "All hours, also those stated for loads and generator, are by the first camp's clock. At {} "
      "local clocks show {}.",
      camp.place.name, more_or_less(there_h - plan.clock_offset_h));
}

std::string change_note(const Plan& plan, const Camp& camp, Date first, Date last) {
  const TimeZone* zone = zone_of(camp);
  if (zone == nullptr) return {};
  const auto change = zone->summer.change_between(first, last);
  if (!change) return {};
  return fmt::format("Clocks at {} change on {}: the plan keeps its clock ({}) to the end.",
                     camp.place.name, short_date(*change), clock_name(plan));
}

// Another clock that people keep close by, if any: the table is coarse, and camps may go by the
// next town's.
std::optional<double> clock_beyond_border_h(const Camp& camp, Date date) {
  const TimeZoneTable& zones = TimeZoneTable::built_in();
  const double here_h = zones.at(camp.where).clock_h(date);
  for (const TimeZone* zone : zones.around(camp.where, kNearBorder_km)) {
    if (zone->clock_h(date) != here_h) return zone->clock_h(date);
  }
  return std::nullopt;
}

std::string border_note(const Camp& camp, Date date, Units units) {
  const bool zone_decides = camp.place.record == RecordKind::blended && !camp.utc_offset_stated;
  if (!zone_decides) return {};
  const auto beyond_h = clock_beyond_border_h(camp, date);
  if (!beyond_h) return {};
  return fmt::format(
      "A border of time zones lies within {} of {}; beyond it clocks show UTC{:+g}. If the camp "
      "keeps that clock, state its utc_offset_h and summer_time.",
      distance(kNearBorder_km, units), camp.place.name, *beyond_h);
}

}  // namespace

std::vector<std::string> clock_notes(const Plan& plan, Date first, Date last, Units units) {
  std::vector<std::string> notes;
  const auto add = [&](std::string note) {
    if (!note.empty() && std::find(notes.begin(), notes.end(), note) == notes.end()) {
      notes.push_back(std::move(note));
    }
  };
  add(first_camp_note(plan));
  Date begin = plan.arrive;
  for (const Camp& camp : plan.camps) {
    if (begin != plan.arrive) add(later_camp_note(plan, camp, begin));
    add(border_note(camp, begin, units));
    const Date end = begin + std::chrono::days{camp.nights};
    add(change_note(plan, camp, std::max(first, begin), std::min(last, end)));
    begin = end;
  }
  return notes;
}

}  // namespace dullspell
