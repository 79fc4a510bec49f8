#include "tests/calibration/kits.hpp"

#include "engine/study/budget.hpp"
#include "engine/study/prepare.hpp"

namespace dullspell::calibration {
namespace {

constexpr double kTrial_w = 1000.0;

PreparedPlan trial(const Place& place, Date begin, double tilt_deg) {
  Plan plan;
  plan.arrive = begin;
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
  plan.battery.capacity_wh = kDraw_wh;
  plan.controllers.push_back({"sun", kNoLimit_w});
  PanelGroup panels;
  panels.rated_w = kTrial_w;
  panels.mount = PlaneDirection{tilt_deg, 180.0};
  plan.panels.push_back(panels);
  Load load;
  load.name = "everything";
  load.watts = kDraw_wh / 24.0;
  load.between = {kWholeDay};
  plan.loads.push_back(load);
  return prepare(plan);
}

}  // namespace

KitPlans::KitPlans(const Place& place, Date begin)
    : flat_(trial(place, begin, 0.0)), tilted_(trial(place, begin, 50.0)) {}

PreparedPlan KitPlans::plan(const Kit& kit, double panels_w) const {
  PreparedPlan out = kit.tilted ? tilted_ : flat_;
  out.battery.capacity_wh = kit.autonomy_days * kDraw_wh / out.battery.discharge_efficiency;
  for (Segment& segment : out.segments) {
    for (PowerTable& table : segment.power) {
      for (auto& row : table.row) {
        for (double& entry : row) entry *= panels_w / kTrial_w;
      }
    }
  }
  return out;
}

double KitPlans::harvest_wh_per_w(const Kit& kit) const {
  return expected_budget(kit.tilted ? tilted_ : flat_).panels_wh_per_day / kTrial_w;
}

}  // namespace dullspell::calibration
