#pragma once

#include <cmath>

#include <catch2/catch.hpp>

#include "tests/support/one_hour.hpp"

namespace dullspell {

/// Requires that one hour's sources equal its sinks, that the store changes by what went through
/// it, that every load is either served or short, and that the store stays within its bounds.
inline void check_balance(const Battery& battery, const HourNeeds& needs,
                          const OutsidePower& outside, const HourFlow& flow) {
  const double sources = flow.panels_wh + flow.vehicle_wh + flow.charger_wh + flow.from_battery_wh;
  const double sinks = flow.served_dc_wh + flow.served_inverted_wh + flow.inverter_loss_wh +
                       flow.to_battery_wh + flow.spilled_wh;
  const double scale = sources + needs.dc_w + needs.ac_w + battery.usable_wh();
  constexpr double kRounding = 1e-12;
  // A deficit below kServed_wh counts as served in full.
  REQUIRE(sources == Approx(sinks).epsilon(1e-9).margin(kRounding * scale));

  const double stored_wh = flow.stored_before_wh + flow.to_battery_wh * battery.charge_efficiency -
                           flow.from_battery_wh / battery.discharge_efficiency -
                           flow.self_discharge_wh;
  REQUIRE(flow.stored_after_wh ==
          Approx(stored_wh).epsilon(1e-9).margin(kServed_wh / battery.discharge_efficiency));
  REQUIRE(flow.stored_after_wh >= -kRounding * scale);
  REQUIRE(flow.stored_after_wh <= battery.usable_wh() + kRounding * scale);

  const double served =
      flow.served_dc_wh + flow.served_inverted_wh + flow.served_outside_wh + flow.shortfall_wh;
  REQUIRE(served == Approx(needs.dc_w + needs.ac_w).epsilon(1e-9).margin(kRounding * scale));

  for (const double part :
       {flow.charger_wh, flow.from_battery_wh, flow.to_battery_wh, flow.served_dc_wh,
        flow.served_inverted_wh, flow.served_outside_wh, flow.inverter_loss_wh, flow.spilled_wh,
        flow.self_discharge_wh, flow.shortfall_wh}) {
    REQUIRE(part >= -kRounding * scale);
  }
  // Never into and out of the battery at once; nothing spilled while something is missing.
  REQUIRE(flow.to_battery_wh * flow.from_battery_wh == 0.0);
  if (flow.from_battery_wh > 0.0) REQUIRE(flow.spilled_wh == 0.0);
  REQUIRE(flow.panels_wh == needs.panels_w);
  REQUIRE(flow.vehicle_wh == needs.vehicle_w);
  // A flat battery may leave nothing but the inverter's standby unserved.
  if (flow.flat && needs.dc_w + needs.ac_w > 0.0) REQUIRE(flow.shortfall_wh > 0.0);
  // Outside power carries no more than its rating, the charger's loss included.
  const double carried_wh = flow.served_outside_wh + flow.charger_wh / outside.charger_efficiency;
  if (flow.outside_share == 0.0) {
    REQUIRE(carried_wh == 0.0);
  } else {
    REQUIRE(carried_wh <= flow.outside_share * outside.ac_limit_w * (1.0 + kRounding));
  }
}

}  // namespace dullspell
