#include "reports/generator_data.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "reports/data_parts.hpp"
#include "reports/plan_data.hpp"

namespace dullspell {
namespace {

std::string time_of(const PreparedPlan& prepared, const HourSlot& slot) {
  return iso_time({prepared.dates[slot.day], 60 * slot.hour_of_day});
}

double share_of(double wh, const PreparedPlan& prepared) {
  return std::clamp(wh / prepared.usable_wh(), 0.0, 1.0);
}

Data outcome_data(const RuleOutcome& outcome) {
  return {{"flat", share(outcome.flat)}, {"flat_h", outcome.flat_h}, {"hours", outcome.hours}};
}

}  // namespace

std::string levels_as_plan(const PreparedPlan& prepared) {
  std::string out = "rule = \"levels\"\n";
  for (const HourSlot& slot : prepared.hours) {
    if (slot.source != Source::generator || slot.start_below_wh <= 0.0) continue;
    out += fmt::format(
        "\n[[generator.level]]\nat          = {}\nstart_below = {:.4f}\n"
        "stop_at     = {:.4f}\n",
        time_of(prepared, slot), share_of(slot.start_below_wh, prepared),
        share_of(slot.stop_at_wh, prepared));
  }
  return out;
}

Data generator_schedule_data(const GeneratorReport& report, std::string_view program) {
  const GeneratorSchedule& schedule = report.schedule;
  const StudyResult& result = schedule.result;
  const GeneratorResult& own = *result.generator;
  Data levels = Data::list(), careful = Data::list();
  for (const HourSlot& slot : report.prepared.hours) {
    if (slot.source != Source::generator) continue;
    levels.push_back({{"at", time_of(report.prepared, slot)},
                      {"start_below", share_of(slot.start_below_wh, report.prepared)},
                      {"stop_at", share_of(slot.stop_at_wh, report.prepared)}});
  }
  for (const CarefulRule& rule : schedule.careful) {
    Data entry = outcome_data(rule);
    entry["lasts_in"] = rule.lasts_in;
    careful.push_back(std::move(entry));
  }
  Data plain;
  if (schedule.plain) {
    plain = outcome_data(*schedule.plain);
    plain["start_below"] = schedule.plain->start_below;
    plain["stop_at"] = schedule.plain->stop_at;
  }
  Data least = own.least_hours ? spread(*own.least_hours) : Data();
  Data out{{"format", "dullspell.generator/1"},
           {"program", program},
           {"seed", result.seed},
           {"stays", result.stays},
           {"instruction_set", to_string(result.instruction_set)},
           {"plan", plan_data(report.plan, report.prepared)},
           {"flat_home", share(result.home.flat, result.home.flat_climate)},
           {"flat", share(own.risk.flat, own.risk.flat_climate)},
           {"flat_h", spread(own.risk.flat_h)},
           {"hours", spread(own.hours)},
           {"fuel_l", spread(own.fuel_l)},
           {"starts", spread(own.starts)},
           {"least_hours", least},
           {"levels", std::move(levels)},
           {"careful", std::move(careful)},
           {"plain", std::move(plain)}};
  add_fuel_kg(out, own.fuel_l, report.plan.generator->fuel);
  return out;
}

}  // namespace dullspell
