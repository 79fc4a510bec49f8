#include "tests/calibration/kits.hpp"

#include "engine/budget.hpp"
#include "engine/prepared_plan.hpp"

namespace dullspell::calibration {
namespace {

constexpr double kLoad_w = 40.0;

}  // namespace

Plan kit_plan(const Place& place, const Kit& kit, int month, double panels_w) {
  Plan plan;
  // The middle date of the stay falls on the 15th or 16th, so that periods that begin up to fifteen
  // days before and after see the month and as much of its neighbours on either side.
  plan.arrive =
      make_date(2027, static_cast<unsigned>(month) + 1, 15) - std::chrono::days{kDays / 2};
  plan.arrive_hour = 0;
  plan.leave_hour = 23;
  Camp camp;
  camp.place = place;
  camp.where = place.where;
  camp.nights = kDays - 1;
  plan.camps.push_back(camp);
  plan.clock_offset_h = place.utc_offset_h;
  plan.battery.charge_limit_w = plan.battery.discharge_limit_w = 1e6;
  plan.battery.taper_from = 1.0;
  plan.battery.capacity_wh = kit.autonomy_days * 24.0 * kLoad_w / plan.battery.discharge_efficiency;
  plan.controllers.push_back({"sun", kNoLimit_w});
  PanelGroup panels;
  panels.rated_w = panels_w;
  panels.mount = PlaneDirection{kit.tilt_deg, 180.0};
  plan.panels.push_back(panels);
  Load load;
  load.name = "everything";
  load.watts = kLoad_w;
  load.between = {kWholeDay};
  plan.loads.push_back(load);
  return plan;
}

double kit_panels_w(const Place& place, const Kit& kit, int month) {
  constexpr double kTrial_w = 1000.0;
  const Budget budget = expected_budget(prepare(kit_plan(place, kit, month, kTrial_w)));
  return kTrial_w * kit.sun_to_load * 24.0 * kLoad_w / budget.panels_wh_per_day;
}

}  // namespace dullspell::calibration
