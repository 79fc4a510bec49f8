#include <optional>

#include "engine/stay/panel_tables.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/stay/sources.hpp"
#include "weather/grid_rounding.hpp"
#include "weather/temperature.hpp"

namespace dullspell {
namespace {

Indexed<SegmentIndex, SolarDay> solar_days(const Plan& plan, const StayCalendar& calendar) {
  Indexed<SegmentIndex, SolarDay> days;
  for (const CampDay& camp_day : calendar.camp_days) {
    days.push_back(solar_day(calendar.dates[camp_day.day], plan.camps[camp_day.camp].where,
                             plan.clock_offset_h));
  }
  return days;
}

Indexed<SegmentIndex, Segment> segments_of(const StayCalendar& calendar, PanelTables& panels,
                                           const std::vector<SegmentClimate>& climates) {
  Indexed<SegmentIndex, Segment> segments;
  for (std::size_t i = 0; i < calendar.camp_days.size(); ++i) {
    const CampDay& camp_day = calendar.camp_days[i];
    segments.push_back({climates[i], camp_day.day, camp_day.camp, camp_day.first_hour,
                        camp_day.end_hour, std::move(panels.power[i])});
  }
  return segments;
}

std::vector<HourSlot> hours_of(const Plan& plan, const StayCalendar& calendar,
                               const Indexed<SegmentIndex, SolarDay>& days,
                               const LoadTables& loads) {
  const std::vector<HourSources> sources = sources_of(plan, calendar);
  const std::vector<double> inverter_on = inverter_on_by_hour(plan);
  std::vector<HourSlot> hours;
  for (std::size_t h = 0; h < calendar.hours.size(); ++h) {
    const CalendarHour& hour = calendar.hours[h];
    const SolarDay& day = days[hour.segment];
    const auto clock_hour = static_cast<std::size_t>(hour.hour_of_day);
    HourSlot slot;
    slot.segment = hour.segment;
    slot.day = hour.day;
    slot.hour_of_day = hour.hour_of_day;
    slot.sun_up = day.hours[clock_hour].share > 0.0;
    slot.panels_lit = slot.sun_up && !plan.panels.empty();
    slot.temperature_swing =
        on_grid(temperature_swing(hour.hour_of_day + 0.5 + day.solar_minus_clock_h));
    slot.at_camp = on_grid(1.0 - hour.driving);
    slot.fixed_dc_w = loads.fixed_dc_w[h];
    slot.fixed_ac_w = loads.fixed_ac_w[h];
    slot.inverter_on = inverter_on[clock_hour];
    slot.vehicle_w = sources[h].vehicle_w;
    slot.source = sources[h].source;
    slot.source_share = sources[h].share;
    hours.push_back(slot);
  }
  return hours;
}

// Mean temperature of the air at a camp in the hours that the generator is allowed, as the place
// expects it for the dates; nothing where there are none.
std::optional<double> air_of_generator_c(const PreparedPlan& prepared, CampIndex camp) {
  double sum_c = 0.0;
  int hours = 0;
  for (const HourSlot& slot : prepared.hours) {
    const Segment& segment = prepared.segments[slot.segment];
    if (slot.source != Source::generator || !(segment.camp == camp)) continue;
    sum_c += segment.temp_mean_c + segment.range_mean_c * slot.temperature_swing;
    ++hours;
  }
  return hours > 0 ? std::optional(sum_c / hours) : std::nullopt;
}

// By the camp still to come where least is left, for the whole stay.
void derate_generator(PreparedPlan& prepared, const Plan& plan) {
  if (!prepared.generator) return;
  constexpr double kCool_c = 0.0;
  prepared.derating = derating(*plan.generator, 0.0, kCool_c);
  for (int i = camp_at(plan, plan.start()).value; i < static_cast<int>(plan.camps.size()); ++i) {
    const Camp& camp = plan.camps[static_cast<std::size_t>(i)];
    const Derating here =
        derating(*plan.generator, camp.elevation_m.value_or(camp.place.elevation_m.value_or(0)),
                 air_of_generator_c(prepared, i).value_or(kCool_c));
    if (here.kept() < prepared.derating.kept()) prepared.derating = here;
  }
  prepared.generator->rated_w = on_grid(plan.generator->rated_w * prepared.derating.kept());
}

// Everything but what weather is drawn from. `segments` and the controllers' limits are those of
// the plan's panels.
PreparedPlan prepared_kit(const Plan& plan, const StayCalendar& calendar,
                          const Indexed<SegmentIndex, SolarDay>& days,
                          Indexed<SegmentIndex, Segment> segments,
                          std::vector<double> controller_limit_w) {
  LoadTables loads = load_tables(plan, calendar, days);
  PreparedPlan out;
  out.dates = calendar.dates;
  out.first_day = calendar.first_day;
  out.hours = hours_of(plan, calendar, days, loads);
  out.segments = std::move(segments);
  out.controller_limit_w = std::move(controller_limit_w);
  out.flexible = std::move(loads.flexible);
  out.fixed = std::move(loads.fixed);
  if (plan.furnace) out.furnace = furnace_tables(*plan.furnace);
  if (plan.fridge) out.fridge = fridge_tables(*plan.fridge, plan.converter.efficiency);
  out.battery = plan.battery;
  out.inverter = plan.inverter;
  out.generator = plan.generator;
  out.hookup_charger_w = plan.hookup_charger_w;
  out.accept_risk = plan.accept_risk;
  out.accept_flat_h = plan.accept_flat_h;
  derate_generator(out, plan);
  return out;
}

PreparedPlan prepared_kit(const Plan& plan, const StayCalendar& calendar,
                          const std::vector<SegmentClimate>& climates) {
  const Indexed<SegmentIndex, SolarDay> days = solar_days(plan, calendar);
  PanelTables panels = panel_tables(plan, calendar, days);
  Indexed<SegmentIndex, Segment> segments = segments_of(calendar, panels, climates);
  return prepared_kit(plan, calendar, days, std::move(segments),
                      std::move(panels.controller_limit_w));
}

}  // namespace

PreparedPlan prepare_stay(const Plan& plan) {
  const StayCalendar calendar = stay_calendar(plan);
  StayWeather weather = stay_weather(plan, calendar);
  StayClimate climate = weather.climate.stated();
  PreparedPlan out = prepared_kit(plan, calendar, climate.segments);
  out.sequence = std::move(climate.sequence);
  out.climate = std::move(weather.climate);
  out.known = std::move(weather.known);
  return out;
}

PreparedPlan expected_as(const Plan& plan, const PreparedPlan& other) {
  const std::vector<SegmentClimate> climates(other.segments.begin(), other.segments.end());
  return prepared_kit(plan, stay_calendar(plan), climates);
}

PreparedPlan expected_with_panels_of(const Plan& plan, const PreparedPlan& other) {
  const StayCalendar calendar = stay_calendar(plan);
  return prepared_kit(plan, calendar, solar_days(plan, calendar), other.segments,
                      other.controller_limit_w);
}

PreparedPlan without_generator(PreparedPlan prepared) {
  prepared.generator.reset();
  for (HourSlot& slot : prepared.hours) {
    if (slot.source != Source::generator) continue;
    slot.source = Source::none;
    slot.source_share = 0.0;
    slot.start_below_wh = -1.0;
    slot.stop_at_wh = 0.0;
  }
  return prepared;
}

}  // namespace dullspell
