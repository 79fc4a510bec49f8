#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "tests/support/engine_plan.hpp"

namespace dullspell {

// With fixed efficiencies, a full start and no limit that depends on the capacity, a battery lasts
// a stay exactly if it holds the greatest drawdown of the stay's net energy. The furnace keeps the
// cells at 25 C, where they give all they hold; self-discharge is off.

/// A kit and a stay for which that holds.
inline const std::string kDrawdownPlan = R"(
arrive = 2027-11-05T14:00:00
[[camp]]
place = "port-angeles-wa"
nights = 9
canopy = 0.2
[battery]
capacity_wh = 200000
charge_efficiency = 0.96
discharge_efficiency = 0.94
taper_from = 1.0
charge_limit_w = 100000
discharge_limit_w = 100000
self_discharge_per_month = 0
[inverter]
rated_w = 1500
standby_w = 11
efficiency_at = [[0.1, 0.88], [0.5, 0.92], [1.0, 0.89]]
on = [["06:30", "23:00"]]
[[panels]]
rated_w = 500
mount = { tilt_deg = 40, azimuth_deg = 170 }
[[load]]
name = "always on"
watts = 12
[[load]]
name = "evenings"
side = "ac"
watts = 70
hours_per_day = 3
between = ["17:00", "22:30"]
varies = 0.5
dull_day_factor = 1.5
[fridge]
running_w = 45
[furnace]
blower_w = 30
output_w = 6000
heat_loss_w_per_k = 90
hold_c = [{ from = "00:00", to = "24:00", c = 25 }]
)";

/// Loss of the inverter from its stated form, not through the engine.
inline double inverter_loss_w(const Inverter& inverter, const HourNeeds& needs) {
  return inverter.standby_w * needs.inverter_on + inverter.linear * needs.ac_w +
         inverter.quadratic * needs.ac_w * needs.ac_w / inverter.rated_w;
}

/// Change of an unlimited store in each hour.
inline std::vector<double> changes_wh(const PreparedPlan& plan,
                                      const std::vector<HourRecorder::Hour>& hours) {
  std::vector<double> out;
  for (const auto& [needs, flow] : hours) {
    const double net =
        needs.panels_w - needs.dc_w - needs.ac_w - inverter_loss_w(*plan.inverter, needs);
    out.push_back(net >= 0.0 ? net * plan.battery.charge_efficiency
                             : net / plan.battery.discharge_efficiency);
  }
  return out;
}

struct Drawdown {
  std::vector<double> so_far;  ///< greatest up to the end of each hour
  double greatest() const { return so_far.back(); }

  std::optional<std::size_t> first_above(double capacity_wh) const {
    const auto it = std::upper_bound(so_far.begin(), so_far.end(), capacity_wh);
    if (it == so_far.end()) return std::nullopt;
    return static_cast<std::size_t>(it - so_far.begin());
  }
};

inline Drawdown drawdown_of(const std::vector<double>& changes) {
  Drawdown out;
  double level = 0.0, peak = 0.0, greatest = 0.0;
  for (const double change : changes) {
    level += change;
    peak = std::max(peak, level);
    greatest = std::max(greatest, peak - level);
    out.so_far.push_back(greatest);
  }
  return out;
}

}  // namespace dullspell
