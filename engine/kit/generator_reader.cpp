#include "engine/kit/generator_reader.hpp"

#include <string>

#include <fmt/format.h>

#include "engine/kit/key_ranges.hpp"

namespace dullspell {
namespace {

GeneratorLevel read_level(TomlSection& section) {
  const auto at = section.local_time("at");
  if (!at || at->minute_of_day % 60 != 0) {
    section.fail("at", at ? "is not a whole hour" : "is missing",
                 "a local date and whole hour such as 2027-05-21T17:00:00");
  }
  GeneratorLevel level;
  level.date = at->date;
  level.hour_of_day = at->minute_of_day / 60;
  level.start_below = section.required_number("start_below", kShareRange);
  level.stop_at = section.required_number("stop_at", kShareRange);
  section.finish();
  return level;
}

}  // namespace

Generator read_generator(TomlSection& section) {
  Generator g;
  g.rated_w = section.required_number("rated_w", {100.0, 20000.0, "W"});
  g.charger_w = section.required_number("charger_w", {10.0, 20000.0, "W"},
                                        "What the charger puts into the battery.");
  g.charger_efficiency = section.number_or("charger_efficiency", 0.88, {0.5, 1.0});
  const std::string rule = section.choice("rule", {"night", "below", "levels"}).value_or("night");
  g.rule = rule == "below"    ? GeneratorRule::below
           : rule == "levels" ? GeneratorRule::levels
                              : GeneratorRule::night;
  g.start_below = section.number_or("start_below", 0.3, kShareRange);
  g.stop_at = section.number_or("stop_at", 0.8, kShareRange);
  if (g.rule == GeneratorRule::below && g.stop_at <= g.start_below) {
    section.fail("stop_at", fmt::format("is {}", g.stop_at),
                 fmt::format("more than start_below = {}", g.start_below));
  }
  for (TomlSection& level : section.sections("level")) g.levels.push_back(read_level(level));
  if (g.rule == GeneratorRule::levels && g.levels.empty()) {
    section.fail("rule", "is \"levels\" without a table [[generator.level]]",
                 "\"night\" or \"below\"",
                 "`dullspell generator` writes such tables: --levels FILE.");
  }
  g.margin = section.number_or("margin", 0.05, {0.0, 0.5});
  g.min_run_h = section.number_or("min_run_h", 1.0, {0.0, 12.0, kHoursUnit});
  g.allowed = without_overlaps(section.windows("allowed"));
  if (g.allowed.empty()) {
    section.fail("allowed", "is missing", "the hours in which it may run",
                 "Ask for the camp's quiet hours: allowed = [[\"08:00\", \"10:00\"], "
                 "[\"17:00\", \"20:00\"]].");
  }
  g.fuel_l_per_h_idle =
      section.number_or("fuel_l_per_h_idle", 0.11 * g.rated_w / 1000.0, {0.0, 10.0, "L/h"});
  g.fuel_l_per_kwh = section.number_or("fuel_l_per_kwh", 0.35, {0.0, 5.0, "L/kWh"});
  g.tank_l = section.number("tank_l", {0.1, 200.0, "L"});
  section.finish();
  return g;
}

}  // namespace dullspell
