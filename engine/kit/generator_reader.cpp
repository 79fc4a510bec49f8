#include "engine/kit/generator_reader.hpp"

#include <optional>
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

Fuel read_fuel(TomlSection& section) {
  const std::string word =
      section.choice("fuel", {"gasoline", "diesel", "propane"}).value_or("gasoline");
  return word == "diesel" ? Fuel::diesel : word == "propane" ? Fuel::propane : Fuel::gasoline;
}

// A key of the plan in liters and the one in kilograms that takes its place for propane.
struct FuelKey {
  const char *litres, *kg;
  Range litres_range, kg_range;
};

constexpr FuelKey kIdle{
    "fuel_l_per_h_idle", "fuel_kg_per_h_idle", {0.0, 10.0, "L/h"}, {0.0, 5.0, "kg/h"}};
constexpr FuelKey kPerKwh{
    "fuel_l_per_kwh", "fuel_kg_per_kwh", {0.0, 5.0, "L/kWh"}, {0.0, 2.5, "kg/kWh"}};
constexpr FuelKey kTank{"tank_l", "tank_kg", {0.1, 200.0, "L"}, {0.1, 200.0, "kg"}};

// Liters, by the key that goes with the fuel; the other one is refused.
std::optional<double> read_litres(TomlSection& section, const FuelKey& key, Fuel fuel) {
  const bool by_weight = fuel == Fuel::propane;
  const std::string other = by_weight ? section.typed_key(key.litres, key.litres_range.unit)
                                      : section.typed_key(key.kg, key.kg_range.unit);
  section.refuse(other, fmt::format("does not go with {}", to_string(fuel)),
                 by_weight ? key.kg : key.litres,
                 by_weight ? "Propane is bought by weight."
                           : "Only propane (fuel = \"propane\") is bought by weight.");
  if (!by_weight) return section.number(key.litres, key.litres_range);
  const auto kg = section.number(key.kg, key.kg_range);
  return kg ? std::optional(propane_l(*kg)) : std::nullopt;
}

void read_fuel_use(TomlSection& section, Generator& g) {
  g.fuel = read_fuel(section);
  if (g.fuel != Fuel::propane) {
    section.refuse("rated_on", fmt::format("does not go with {}", to_string(g.fuel)), "no such key",
                   "It says for which fuel a set that runs on propane is rated.");
  } else if (section.choice("rated_on", {"gasoline", "propane"}) == "propane") {
    g.rated_on = Fuel::propane;
  }
  const FuelUse usual = usual_fuel_use(g.fuel);
  g.fuel_l_per_h_idle =
      read_litres(section, kIdle, g.fuel).value_or(usual.l_per_h_idle_per_kw * g.rated_w / 1000.0);
  g.fuel_l_per_kwh = read_litres(section, kPerKwh, g.fuel).value_or(usual.l_per_kwh);
  g.tank_l = read_litres(section, kTank, g.fuel);
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
  read_fuel_use(section, g);
  section.finish();
  return g;
}

}  // namespace dullspell
