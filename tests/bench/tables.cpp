// Writes the demo plan's tables as JSON for numpy_study.py, with what the kernel counts for it.

#include <iostream>
#include <stdexcept>
#include <vector>

#include <nlohmann/json.hpp>

#include "engine/plan/plan_file.hpp"
#include "engine/study/prepare.hpp"
#include "tests/bench/kernel_study.hpp"

namespace dullspell::bench {
namespace {

using nlohmann::json;

void check_known(const PreparedPlan& plan) {
  bool known = plan.generator && plan.inverter && plan.fridge && !plan.fridge->model.ac &&
               plan.furnace && !plan.furnace->model.has_other_heat &&
               plan.battery.where == BatteryWhere::inside && !plan.sequence.has_known_days();
  for (const HourSlot& slot : plan.hours) known = known && slot.source != Source::mains;
  if (!known) throw std::invalid_argument("the plan has something that numpy_study.py lacks");
}

template <class Items, class Value>
json column(const Items& items, Value value) {
  json out = json::array();
  for (const auto& item : items) out.push_back(value(item));
  return out;
}

json hours_of(const PreparedPlan& plan) {
  const auto of = [&](auto member) {
    return column(plan.hours, [=](const HourSlot& slot) { return slot.*member; });
  };
  return {{"segment", column(plan.hours, [](const HourSlot& slot) { return slot.segment.value; })},
          {"day", column(plan.hours, [](const HourSlot& slot) { return slot.day.value; })},
          {"hour_of_day", of(&HourSlot::hour_of_day)},
          {"temperature_swing", of(&HourSlot::temperature_swing)},
          {"lit", of(&HourSlot::panels_lit)},
          {"at_camp", of(&HourSlot::at_camp)},
          {"fixed_dc_w", of(&HourSlot::fixed_dc_w)},
          {"fixed_ac_w", of(&HourSlot::fixed_ac_w)},
          {"inverter_on", of(&HourSlot::inverter_on)},
          {"vehicle_w", of(&HourSlot::vehicle_w)},
          {"generator_allowed", of(&HourSlot::source_share)},
          {"start_below_wh", of(&HourSlot::start_below_wh)},
          {"stop_at_wh", of(&HourSlot::stop_at_wh)}};
}

// Rows are hours of the day, columns nodes of clearness.
template <class Entry>
json rows_of(Entry entry) {
  json rows = json::array();
  for (int h = 0; h < 24; ++h) {
    json row = json::array();
    for (int node = 0; node < kClearnessNodes; ++node) row.push_back(entry(node, h));
    rows.push_back(row);
  }
  return rows;
}

json segment_of(const Segment& s) {
  return {{"day", s.day.value},
          {"k_of_chi", s.k_of_chi.values()},
          {"temp_mean_c", s.temp_mean_c},
          {"temp_per_chi", s.temp_per_chi},
          {"temp_per_innovation", s.temp_per_innovation},
          {"range_mean_c", s.range_mean_c},
          {"range_k_slope", s.range_k_slope},
          {"k_mean", s.k_mean},
          {"at_25_w", column(s.power,
                             [](const PowerTable& t) {
                               return rows_of([&](int node, int h) { return t.at_25(node, h); });
                             })},
          {"per_k_w", column(s.power, [](const PowerTable& t) {
             return rows_of([&](int node, int h) { return t.per_k(node, h); });
           })}};
}

json link_of(const DayLink& link) {
  return {{"sky_kept", link.sky_kept},
          {"sky_new", link.sky_new},
          {"of_year", link.of_year},
          {"of_day", link.of_day},
          {"innovation_kept", link.innovation_kept},
          {"innovation_new", link.innovation_new}};
}

json load_of(const FlexibleLoad& load, double usable_wh) {
  return {{"watts", load.watts},
          {"ac", load.ac},
          {"optional_below_wh", load.optional_below.value_or(0.0) * usable_wh},
          {"varies", load.varies},
          {"use_of_draw", load.use_of_draw.values()},
          {"dull_day_factor", load.dull_day_factor},
          {"most", load.most}};
}

json furnace_of(const FurnaceTables& furnace) {
  const FurnaceModel& f = furnace.model;
  json hold = json::array();
  for (int h = 0; h < 24; ++h) {
    json holds = json::array();
    for (int i = f.hold_begin[h]; i < f.hold_begin[h + 1]; ++i) {
      const HoldShare& one = furnace.hold[static_cast<std::size_t>(i)];
      holds.push_back(json{one.share, one.set_point_c});
    }
    hold.push_back(holds);
  }
  return {{"blower_w", f.blower_w},
          {"output_w", 1.0 / f.per_output_w},
          {"heat_loss_w_per_k", f.heat_loss_w_per_k},
          {"gains_w", f.gains_w},
          {"hold", hold},
          {"unheld_share", f.unheld_share}};
}

// A function of the temperature at whole degrees from `coldest_c` on, in steps.
template <class Function>
json by_degree(int coldest_c, int warmest_c, int step_k, Function of) {
  std::vector<double> values;
  for (int c = coldest_c; c <= warmest_c; c += step_k) values.push_back(of(c));
  return values;
}

json battery_of(const Battery& b) {
  return {{"usable_wh", b.usable_wh()},
          {"start_wh", b.start_charge * b.usable_wh()},
          {"capacity_wh", b.capacity_wh * b.health},
          {"charge_efficiency", b.charge_efficiency},
          {"discharge_efficiency", b.discharge_efficiency},
          {"charge_limit_w", b.charge_limit_w},
          {"discharge_limit_w", b.discharge_limit_w},
          {"taper_from", b.taper_from},
          {"taper_to_c", b.taper_to_c_rate},
          {"charge_min_c", b.charge_min_c},
          {"self_discharge_per_h", b.self_discharge_per_month / kHoursPerMonth},
          {"cold_share", by_degree(-20, 25, 5,
                                   [&](int c) {
                                     return 1.0 -
                                            cut_off_wh<double>(battery_model(b), c) / b.usable_wh();
                                   })},
          {"cold_from_c", -20},
          {"cold_step_k", 5}};
}

json inverter_of(const Inverter& i) {
  return {{"rated_w", i.rated_w},
          {"standby_w", i.standby_w},
          {"linear", i.linear},
          {"quadratic_per_w", i.quadratic / i.rated_w}};
}

json generator_of(const Generator& g) {
  return {{"rated_w", g.rated_w},
          {"charger_w", g.charger_w},
          {"charger_efficiency", g.charger_efficiency},
          {"min_run_h", g.min_run_h},
          {"fuel_l_per_h_idle", g.fuel_l_per_h_idle},
          {"fuel_l_per_kwh", g.fuel_l_per_kwh}};
}

json track_of(const TrackTally& t) {
  return {{"flat", t.flat_stays},
          {"fails_on_day", t.fails_on_day},
          {"flat_on_day", t.flat_on_day},
          {"sums",
           {{"demand_wh", t.demand_wh.value()},
            {"shortfall_wh", t.shortfall_wh.value()},
            {"given_up_wh", t.given_up_wh.value()},
            {"spilled_wh", t.spilled_wh.value()},
            {"generator_h", t.generator_h_sum.value()},
            {"fuel_l", t.fuel_l_sum.value()},
            {"starts", t.starts_sum.value()}}}};
}

json kernel_counts(const PreparedPlan& plan) {
  KernelStudy study(plan, best_instruction_set());
  study.run(0, 1'048'576);
  return {{"stays", study.tally().stays},
          {"home", track_of(study.tally().home)},
          {"along", track_of(study.tally().along)}};
}

json tables_of(const PreparedPlan& plan) {
  return {
      {"compiler", DULLSPELL_COMPILER},
      {"hours", hours_of(plan)},
      {"links", column(plan.sequence.links(), link_of)},
      {"segments", column(plan.segments, segment_of)},
      // JSON knows no infinity: no limit is null.
      {"controller_limit_w", plan.controller_limit_w},
      {"loads",
       column(plan.flexible, [&](const auto& load) { return load_of(load, plan.usable_wh()); })},
      {"furnace", furnace_of(*plan.furnace)},
      {"fridge",
       {{"coldest_c", -40},
        {"watts",
         by_degree(-40, 70, 1,
                   [&](int c) { return fridge_w<double>(StayTables(plan).hours().fridge, c); })}}},
      {"battery", battery_of(plan.battery)},
      {"inverter", inverter_of(*plan.inverter)},
      {"generator", generator_of(*plan.generator)},
      {"kernel", kernel_counts(plan)}};
}

}  // namespace
}  // namespace dullspell::bench

int main() {
  using namespace dullspell;
  const PreparedPlan plan = prepare(read_plan(DULLSPELL_DEMO_PLAN));
  bench::check_known(plan);
  std::cout << bench::tables_of(plan) << '\n';
}
