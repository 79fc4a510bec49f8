#include "engine/study/prepare.hpp"

#include "engine/study/night_rule.hpp"

namespace dullspell {
namespace {

void set_levels(HourSlot& slot, double start_below, double stop_at, double usable_wh) {
  slot.start_below_wh = start_below * usable_wh;
  slot.stop_at_wh = stop_at * usable_wh;
}

void follow_levels(PreparedPlan& prepared) {
  for (const GeneratorLevel& level : prepared.generator->levels) {
    for (HourSlot& slot : prepared.hours) {
      if (slot.source == Source::generator && slot.hour_of_day == level.hour_of_day &&
          prepared.dates[slot.day] == level.date) {
        set_levels(slot, level.start_below, level.stop_at, prepared.usable_wh());
      }
    }
  }
}

}  // namespace

void set_generator_rule(PreparedPlan& prepared) {
  const auto& generator = prepared.generator;
  if (!generator) return;
  switch (generator->rule) {
    case GeneratorRule::night:
      follow(night_rule(prepared), prepared);
      break;
    case GeneratorRule::below:
      for (HourSlot& slot : prepared.hours) {
        if (slot.source == Source::generator) {
          set_levels(slot, generator->start_below, generator->stop_at, prepared.usable_wh());
        }
      }
      break;
    case GeneratorRule::levels:
      follow_levels(prepared);
      break;
  }
}

PreparedPlan prepare(const Plan& plan) {
  PreparedPlan prepared = prepare_stay(plan);
  set_generator_rule(prepared);
  return prepared;
}

PreparedPlan with_battery(PreparedPlan prepared, const Battery& battery) {
  prepared.battery = battery;
  set_generator_rule(prepared);
  return prepared;
}

}  // namespace dullspell
