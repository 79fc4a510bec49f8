#include "engine/kit/battery_reader.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "engine/kit/key_ranges.hpp"
#include "weather/input/nearest_word.hpp"

namespace dullspell {
namespace {

// Lead-acid has names enough to be asked for; other words are more likely misspelled.
void check_chemistry(TomlSection& section) {
  if (!section.is_text("chemistry")) return;
  const std::string name = section.required_text("chemistry");
  if (name == "agm" || name == "flooded" || name == "lead-acid" || name == "gel") {
    section.fail("chemistry", fmt::format("is \"{}\"", name), "\"lfp\", \"nmc\"",
                 "Lithium only in this version.");
  }
  const std::vector<std::string> known{"lfp", "nmc"};
  if (name != "lfp" && name != "nmc" && did_you_mean(name, known).empty()) {
    section.fail("chemistry", fmt::format("is \"{}\"", name), "\"lfp\", \"nmc\"",
                 "lfp is lithium iron phosphate (LiFePO4), nmc the lighter lithium-ion.");
  }
}

void read_capacity(TomlSection& section, Battery& battery) {
  auto wh = section.number("capacity_wh", kCapacityRange_wh,
                           "Write the energy on the label in Wh, e.g. capacity_wh = 1920.");
  auto ah = section.number("capacity_ah", kCapacityRange_ah);
  const auto nominal_v = section.number("nominal_v", kNominalRange_v);
  battery.nominal_v = nominal_v;
  // What the command line says stands in place of what the file says in the other unit.
  const bool wh_typed = section.set_on_command_line("capacity_wh");
  const bool ah_typed = section.set_on_command_line("capacity_ah");
  if (wh_typed && !ah_typed) ah.reset();
  if (ah_typed && !wh_typed) wh.reset();
  if (wh && ah) section.fail("capacity_ah", "is given besides capacity_wh", "one of the two");
  if (ah && !nominal_v) {
    section.fail("capacity_ah", "needs nominal_v", "",
                 "For a 12 V lithium battery: nominal_v = 12.8.");
  }
  if (!wh && !ah) {
    section.fail("capacity_wh", "is missing", "50 to 200000 (Wh), or capacity_ah with nominal_v",
                 "Write the energy on the battery's label, e.g. capacity_wh = 1920.");
  }
  battery.capacity_wh = wh ? *wh : *ah * *nominal_v;
  if (battery.capacity_wh < kCapacityRange_wh.low || battery.capacity_wh > kCapacityRange_wh.high) {
    section.fail("capacity_ah", fmt::format("makes {:.0f} Wh", battery.capacity_wh),
                 "50 to 200000 (Wh)");
  }
}

void read_start_charge(TomlSection& section, NowStated now, Battery& battery) {
  battery.start_charge =
      section.number_or("start_charge", 1.0, kShareRange,
                        "What the box's display shows on arrival, or now, as a share: 0.85.");
  // A file's start_charge is that of arrival where `now` comes from the command line.
  if (now == NowStated::on_command_line && section.has("start_charge") &&
      !section.set_on_command_line("start_charge")) {
    section.fail("start_charge", "is that of arrival, and `now` is set", "0 to 1",
                 "Say what the battery's display shows at `now`, as a share: "
                 "--set battery.start_charge=0.55.");
  }
  if (now != NowStated::no && !section.has("start_charge")) {
    section.fail("start_charge", "is missing, and `now` is given", "0 to 1",
                 "Say what the battery's display shows at `now`, as a share: 0.55.");
  }
}

// One full discharge, as a display counts it, at one draw. What the cells gave for it was also the
// inverter's loss, and theirs.
void read_delivered(TomlSection& section, const std::optional<Inverter>& inverter,
                    Battery& battery) {
  const auto wh = section.number("delivers_wh", {10.0, 200000.0, "Wh"},
                                 "What one full discharge gave, in Wh by the display.");
  const auto at_w = section.number("at_w", {1.0, 20000.0, "W"},
                                   "The draw of that discharge, in W by the display.");
  if (!wh && !at_w) return;
  if (!wh) section.fail("at_w", "is given without delivers_wh", "both of the two");
  if (!at_w)
    section.fail("delivers_wh", "needs at_w", "the draw of that discharge, e.g. at_w = 60");
  if (section.has("usable_share")) {
    section.fail("usable_share", "is given besides delivers_wh", "one of the two",
                 "What was measured holds the usable share already.");
  }
  const double loss_w = inverter ? inverter->loss_w(*at_w) : 0.0;
  const double stored_wh = *wh * (*at_w + loss_w) / *at_w / battery.discharge_efficiency;
  battery.usable_share = stored_wh / (battery.capacity_wh * battery.health);
  constexpr double kRounding = 1.02;  // of labels and displays
  if (battery.usable_share > kRounding || battery.usable_share < 0.05) {
    section.fail("delivers_wh",
                 fmt::format("is {:.0f}, for which the cells give {:.0f} Wh with all losses", *wh,
                             stored_wh),
                 fmt::format("5 to 100 % of the {:.0f} Wh that label and health leave",
                             battery.capacity_wh * battery.health),
                 "Measured energy has lost to age already: leave health out.");
  }
  battery.usable_share = std::min(1.0, battery.usable_share);
}

void read_limits(TomlSection& section, const ChemistryPreset& preset, Battery& battery) {
  constexpr Range kRate{0.01, 10.0, "of the capacity per hour"};
  const double capacity = battery.capacity_wh * battery.health;
  const auto limit = [&](const char* watts_key, const char* rate_key, double preset_rate) {
    const auto watts = section.number(watts_key, {1.0, 100000.0, "W"});
    const double rate = section.number_or(rate_key, preset_rate, kRate);
    return std::pair(watts.value_or(rate * capacity), !watts.has_value());
  };
  std::tie(battery.charge_limit_w, battery.charge_limit_follows) =
      limit("charge_limit_w", "charge_limit_c_rate", preset.charge_limit_c_rate);
  std::tie(battery.discharge_limit_w, battery.discharge_limit_follows) =
      limit("discharge_limit_w", "discharge_limit_c_rate", preset.discharge_limit_c_rate);
  battery.taper_from = section.number_or("taper_from", preset.taper_from, {0.3, 1.0});
  battery.taper_to_c_rate = section.number_or("taper_to_c_rate", preset.taper_to_c_rate, kRate);
}

}  // namespace

Battery read_battery(TomlSection& section, NowStated now, const std::optional<Inverter>& inverter) {
  Battery battery;
  check_chemistry(section);
  battery.chemistry = section.choice("chemistry", {"lfp", "nmc"}).value_or("lfp");
  const ChemistryPreset preset = *chemistry_preset(battery.chemistry);
  read_capacity(section, battery);
  battery.health = section.number_or("health", 1.0, {0.2, 1.0}, "1 is new, 0.8 an old battery.");
  battery.usable_share = section.number_or("usable_share", preset.usable_share, {0.05, 1.0});
  read_start_charge(section, now, battery);
  battery.charge_efficiency =
      section.number_or("charge_efficiency", preset.charge_efficiency, {0.5, 1.0});
  battery.discharge_efficiency =
      section.number_or("discharge_efficiency", preset.discharge_efficiency, {0.5, 1.0});
  read_delivered(section, inverter, battery);
  read_limits(section, preset, battery);
  battery.charge_min_c = section.number_or(
      "charge_min_c", preset.charge_min_c, {-40.0, 10.0, "C"},
      "The coldest cell that may be charged; a self-heating battery may go lower.");
  battery.self_discharge_per_month =
      section.number_or("self_discharge_per_month", preset.self_discharge_per_month, {0.0, 0.3});
  battery.where = section.choice("where", {"inside", "outside"}).value_or("inside") == "outside"
                      ? BatteryWhere::outside
                      : BatteryWhere::inside;
  section.finish();
  return battery;
}

}  // namespace dullspell
