#include "engine/plan/plan_file.hpp"

#include <fmt/format.h>

#include "engine/guesses/posterior.hpp"
#include "engine/guesses/reading_reader.hpp"
#include "engine/kit/battery_reader.hpp"
#include "engine/kit/camp_reader.hpp"
#include "engine/kit/fridge_reader.hpp"
#include "engine/kit/furnace_reader.hpp"
#include "engine/kit/generator_reader.hpp"
#include "engine/kit/inverter_reader.hpp"
#include "engine/kit/key_ranges.hpp"
#include "engine/kit/load_reader.hpp"
#include "engine/kit/panels_reader.hpp"
#include "engine/plan/kit_option_reader.hpp"
#include "engine/plan/known_days_reader.hpp"
#include "engine/plan/plan_clock.hpp"
#include "engine/plan/plan_rules.hpp"
#include "engine/plan/time_reader.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {
namespace {

int whole_hour(const TomlSection& root, std::string_view key, int minute) {
  if (minute % 60 != 0) {
    root.fail(key, fmt::format("is {}", clock_text(minute)), "a whole hour",
              "Use a whole hour, e.g. 15:00.");
  }
  return minute / 60;
}

void read_dates(TomlSection& root, Plan& plan) {
  const LocalTime arrive = required_time(root, "arrive");
  plan.arrive = arrive.date;
  plan.arrive_hour = whole_hour(root, "arrive", arrive.minute_of_day);
  if (const auto leave = root.clock_time(
          "leave", "The hour of departure; the date follows from the nights of the camps.")) {
    plan.leave_hour = whole_hour(root, "leave", *leave);
  }
  plan.accept_risk = root.number_or("accept_risk", 0.10, {0.0, 1.0},
                                    "The risk of running flat that you can live with, e.g. 0.1.");
  plan.accept_flat_h = root.integer("accept_flat_h", 0, 1000,
                                    "Hours flat in all that you can live with in one stay, e.g. 2.")
                           .value_or(0);
  plan.summer_time_stated = root.flag("summer_time");
}

std::string hour_text(const Plan& plan, PlanHour at) {
  return iso_time({plan.arrive + std::chrono::days{at.day}, 60 * at.hour_of_day});
}

void read_now(TomlSection& root, Plan& plan) {
  const auto now = root.local_time("now");
  if (!now) return;
  const PlanHour at{static_cast<int>((now->date - plan.arrive).count()),
                    whole_hour(root, "now", now->minute_of_day)};
  const PlanHour arrival{0, plan.arrive_hour}, departure{plan.nights(), plan.leave_hour};
  const auto hours = [](PlanHour h) { return 24 * h.day + h.hour_of_day; };
  if (hours(at) < hours(arrival) || hours(at) >= hours(departure)) {
    root.fail("now", fmt::format("is {}", hour_text(plan, at)),
              fmt::format("from {} to before {}, the plan's stay", hour_text(plan, arrival),
                          hour_text(plan, departure)),
              "Leave it out before the stay begins; a stay that goes on longer needs more nights.");
  }
  plan.now = at;
}

void read_camps(TomlSection& root, const PlaceCatalogue& places, Plan& plan) {
  auto camps = root.sections("camp");
  if (camps.empty()) {
    root.fail("camp", "is missing", "at least one table [[camp]] with place and nights");
  }
  for (TomlSection& section : camps) {
    plan.camps.push_back(read_camp(section, places));
  }
}

void read_battery_of(TomlSection& root, Plan& plan) {
  auto section = root.section("battery");
  if (!section) {
    root.fail("battery", "is missing", "a table [battery] with capacity_wh",
              "Write the energy on the battery's label, e.g. capacity_wh = 1920.");
  }
  const NowStated now = !plan.now                         ? NowStated::no
                        : root.set_on_command_line("now") ? NowStated::on_command_line
                                                          : NowStated::in_file;
  plan.battery = read_battery(*section, now, plan.inverter);
}

void read_loads_of(TomlSection& root, Plan& plan) {
  for (TomlSection& section : root.sections("load")) {
    plan.loads.push_back(read_load(section, plan.loads, plan.battery.nominal_v));
  }
  if (auto section = root.section("furnace")) plan.furnace = read_furnace(*section);
  if (auto section = root.section("fridge")) plan.fridge = read_fridge(*section);
}

void read_inverter_of(TomlSection& root, Plan& plan) {
  if (auto section = root.section("inverter")) {
    ReadInverter read = read_inverter(*section);
    plan.inverter = std::move(read.inverter);
    for (const plan_note::InverterMisfit& misfit : read.misfits) plan.notes.emplace_back(misfit);
  }
  if (auto section = root.section("converter")) plan.converter = read_converter(*section);
}

void read_sources(TomlSection& root, Plan& plan) {
  if (auto section = root.section("generator")) plan.generator = read_generator(*section);
  if (auto section = root.section("vehicle")) {
    plan.vehicle_charge_w = section->required_number("charge_w", kWattsRange);
    section->finish();
  }
  if (auto section = root.section("hookup")) {
    plan.hookup_charger_w = section->required_number("charger_w", {10.0, 20000.0, "W"});
    section->finish();
  } else if (plan.generator) {
    plan.hookup_charger_w = plan.generator->charger_w;
  }
}

void read_guesses(TomlSection& root, Plan& plan) {
  auto section = root.section("guesses");
  if (!section) return;
  const auto spread = [&](const char* key, double& value) {
    value = section->number_or(key, value, {0.0, 0.6},
                               "One standard deviation: 0.2 says that two times in three it is "
                               "right within a fifth. 0 is measured.");
  };
  spread("standby", plan.guesses.standby);
  spread("loads", plan.guesses.loads);
  spread("fridge", plan.guesses.fridge);
  spread("furnace", plan.guesses.furnace);
  spread("harvest", plan.guesses.harvest);
  spread("canopy", plan.guesses.canopy);
  spread("health", plan.guesses.health);
  section->finish();
}

}  // namespace

Plan parse_plan(SourceText source, const PlaceCatalogue& places,
                const std::vector<std::string>& settings) {
  const auto document = std::make_shared<const TomlDocument>(std::move(source), settings);
  TomlSection root = TomlSection::root_of(document);
  Plan plan;
  plan.file = document->source().name;
  plan.settings = settings;
  plan.title = root.text("title").value_or("");
  read_dates(root, plan);
  read_camps(root, places, plan);
  read_now(root, plan);
  read_known_days(root, plan);
  set_clock(plan);

  read_inverter_of(root, plan);
  read_battery_of(root, plan);
  ReadPanels panels = read_panels(root, plan.battery.nominal_v);
  plan.controllers = std::move(panels.controllers);
  plan.panels = std::move(panels.panels);
  read_loads_of(root, plan);
  read_sources(root, plan);
  read_guesses(root, plan);
  plan.readings = read_readings(root, plan);
  plan.currency = root.text("currency").value_or("");
  for (TomlSection& section : root.sections("option")) {
    plan.options.push_back(read_option(section, plan));
  }
  root.finish();
  check_plan(plan, root);
  return corrected_by_readings(std::move(plan));
}

Plan read_plan(const std::string& path, const PlaceCatalogue& places,
               const std::vector<std::string>& settings) {
  return parse_plan(read_source(path, "plan", kLargestPlan_bytes), places, settings);
}

}  // namespace dullspell
