#include "engine/plan/kit_option_reader.hpp"

#include <fmt/format.h>

#include "engine/kit/battery_reader.hpp"
#include "engine/kit/panels_reader.hpp"

namespace dullspell {
namespace {

void read_capacity_ah(TomlSection& section, const Plan& plan, KitOption& option) {
  const auto ah = section.number("capacity_ah", kCapacityRange_ah);
  if (!ah) return;
  if (option.battery_wh) {
    section.fail("capacity_ah", "is given besides battery_wh", "one of the two");
  }
  if (!plan.battery.nominal_v) {
    section.fail("capacity_ah", "needs the battery's nominal_v",
                 "battery_wh, or capacity_ah with battery.nominal_v");
  }
  option.battery_wh = *ah * *plan.battery.nominal_v;
  if (*option.battery_wh < kCapacityRange_wh.low || *option.battery_wh > kCapacityRange_wh.high) {
    section.fail("capacity_ah", fmt::format("makes {:.0f} Wh", *option.battery_wh),
                 "50 to 200000 (Wh)");
  }
}

}  // namespace

KitOption read_option(TomlSection& section, const Plan& plan) {
  KitOption option;
  option.name = section.required_text("name");
  for (const KitOption& other : plan.options) {
    if (other.name == option.name) {
      section.fail("name", fmt::format("is \"{}\" a second time", option.name),
                   "a name of its own for each option");
    }
  }
  option.battery_wh = section.number("battery_wh", kCapacityRange_wh);
  if (section.has("capacity_wh")) {
    section.fail("capacity_wh", "is not a key of an option", "", "Did you mean `battery_wh`?");
  }
  read_capacity_ah(section, plan, option);
  option.panels_w =
      section.number("panels_w", kPanelsRange_w, "The rated watts of all panels together.");
  if (option.panels_w && plan.panels.empty()) {
    section.fail("panels_w", "is given, but the plan has no panels", "at least one [[panels]]",
                 "An option has the plan's panels in another size: they say how they are mounted.");
  }
  option.weight_kg = section.number("weight_kg", {0.0, 100000.0, "kg"});
  option.price = section.number("price", {0.0, 1e9}, "A number; `currency` says of what.");
  section.finish();
  if (!option.battery_wh && !option.panels_w) {
    section.fail_here("changes nothing", "battery_wh (or capacity_ah), panels_w, or both");
  }
  return option;
}

}  // namespace dullspell
