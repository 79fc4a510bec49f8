#include "engine/plan/plan_rules.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "weather/daylight.hpp"

namespace dullspell {
namespace {

void check_length(const Plan& plan, const TomlSection& root) {
  if (plan.accept_flat_h > 0 && plan.accept_flat_h >= 24 * plan.nights()) {
    root.fail("accept_flat_h", fmt::format("is {}, as long as the stay", plan.accept_flat_h),
              fmt::format("0 to {} (h)", 24 * plan.nights() - 1));
  }
  constexpr int kLongest = 366;
  if (plan.nights() > kLongest) {
    root.fail("camp", fmt::format("add up to {} nights", plan.nights()),
              fmt::format("up to {} nights", kLongest));
  }
}

// All times at which a load may run on any date of the stay.
std::vector<ClockWindow> windows_in_stay(const Plan& plan, const Load& load) {
  if (!load.only) return load.between;
  std::vector<ClockWindow> windows;
  Date date = plan.arrive;
  for (const Camp& camp : plan.camps) {
    for (int night = 0; night <= camp.nights; ++night) {
      const SolarDay sun =
          solar_day(date + std::chrono::days{night}, camp.where, plan.clock_offset_h);
      const auto on_date = windows_on(load, daylight(sun, camp.where.latitude_deg));
      windows.insert(windows.end(), on_date.begin(), on_date.end());
    }
    date += std::chrono::days{camp.nights};
  }
  return without_overlaps(windows);
}

void check_alternating_current(Plan& plan, const TomlSection& root) {
  const auto needs_inverter = [](LoadSide side) { return side != LoadSide::dc; };
  std::string first;
  for (const auto& load : plan.loads) {
    if (first.empty() && needs_inverter(load.side)) first = load.name;
  }
  if (first.empty() && plan.fridge && needs_inverter(plan.fridge->side)) first = "fridge";
  if (!plan.inverter) {
    if (!first.empty()) {
      root.fail("inverter", fmt::format("is missing, but \"{}\" is on the ac side", first),
                "a table [inverter] with rated_w", "Or give that load side = \"dc\".");
    }
    return;
  }
  for (const auto& load : plan.loads) {
    if (!needs_inverter(load.side)) continue;
    const std::vector<ClockWindow> windows = windows_in_stay(plan, load);
    for (int h = 0; h < 24; ++h) {
      if (shared_share_of_hour(windows, plan.inverter->on, h) < share_of_hour(windows, h) - 1e-9) {
        plan.notes.emplace_back(plan_note::LoadBesideInverterHours{load.name});
        break;
      }
    }
  }
  const auto rated = plan.inverter->rated_w;
  for (const auto& load : plan.loads) {
    if (needs_inverter(load.side) && load.greatest_w() > rated) {
      plan.notes.emplace_back(plan_note::LoadAboveInverter{load.name, load.greatest_w(), rated});
    }
  }
}

void check_sources(Plan& plan, const TomlSection& root) {
  const bool any_hookup =
      std::any_of(plan.camps.begin(), plan.camps.end(), [](const auto& c) { return c.hookup; });
  if (any_hookup && plan.hookup_charger_w <= 0.0) {
    root.fail("hookup", "is missing, but a camp has hookup = true",
              "a table [hookup] with charger_w",
              "Write the watts that the shore-power charger gives.");
  }
  if (plan.camps.front().drive_in_h > 0.0) {
    plan.notes.emplace_back(plan_note::DriveBeforeArrival{});
  }
  const bool drives = std::any_of(plan.camps.begin() + 1, plan.camps.end(),
                                  [](const auto& c) { return c.drive_in_h > 0.0; });
  if (plan.vehicle_charge_w > 0.0 && !drives) {
    plan.notes.emplace_back(plan_note::VehicleNeverDriven{});
  }
  if (plan.panels.empty() && !plan.controllers.empty()) {
    plan.notes.emplace_back(plan_note::ControllersWithoutPanels{});
  }
  if (plan.loads.empty() && !plan.furnace && !plan.fridge) {
    root.fail("load", "is missing", "at least one [[load]], a [furnace] or a [fridge]",
              "Without loads a battery never runs flat. List standby loads first: they run day "
              "and night.");
  }
}

void note_cables(Plan& plan) {
  constexpr double kMuch = 0.03;  // common practice, no source
  for (const PanelGroup& group : plan.panels) {
    if (!group.wiring) continue;
    const double share = cable_share(*group.wiring, group.rated_w);
    if (share <= kMuch) continue;
    plan.notes.emplace_back(
        plan_note::CableTakesMuch{group.name, share, group.rated_w / group.wiring->vmp_v});
  }
}

void note_peaks(Plan& plan) {
  std::array<double, 24> sum_w{};
  for (const auto& load : plan.loads) {
    const std::vector<ClockWindow> windows = windows_in_stay(plan, load);
    for (int h = 0; h < 24; ++h) {
      if (share_of_hour(windows, h) > 0.0) {
        sum_w[static_cast<std::size_t>(h)] += load.greatest_w();
      }
    }
  }
  const double largest_w = *std::max_element(sum_w.begin(), sum_w.end());
  if (largest_w > plan.battery.discharge_limit_w) {
    plan.notes.emplace_back(
        plan_note::LoadsAboveBattery{largest_w, plan.battery.discharge_limit_w});
  }
}

void note_charger(Plan& plan) {
  if (!plan.generator) return;
  const Generator& generator = *plan.generator;
  constexpr double kRounding_w = 1.0;
  if (generator.charger_w > plan.battery.charge_limit_w + kRounding_w) {
    plan.notes.emplace_back(
        plan_note::ChargerAboveBattery{generator.charger_w, plan.battery.charge_limit_w});
  }
  const double takes_w = generator.charger_w / generator.charger_efficiency;
  if (takes_w > generator.rated_w + kRounding_w) {
    plan.notes.emplace_back(plan_note::GeneratorBelowCharger{generator.rated_w, takes_w});
  }
}

}  // namespace

void check_plan(Plan& plan, const TomlSection& root) {
  check_length(plan, root);
  check_sources(plan, root);
  check_alternating_current(plan, root);
  note_cables(plan);
  note_peaks(plan);
  note_charger(plan);
}

}  // namespace dullspell
