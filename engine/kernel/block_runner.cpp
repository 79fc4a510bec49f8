#include "engine/kernel/block_runner.hpp"

#include <algorithm>
#include <functional>
#include <numeric>

#include "engine/chemistry.hpp"
#include "engine/energy_step.hpp"
#include "weather/random_stream.hpp"

namespace dullspell {

static_assert(kKernelNodes == kClearnessNodes);

KernelTables::KernelTables(const PreparedPlan& plan) {
  KernelPlan& k = plan_;
  for (const HourSlot& slot : plan.hours) {
    hours_.push_back({slot.segment, slot.hour_of_day, slot.panels_lit, slot.hookup,
                      slot.temperature_swing, slot.at_camp, slot.fixed_dc_w, slot.fixed_ac_w,
                      slot.inverter_on, slot.vehicle_w, slot.generator_allowed,
                      slot.generator_target_wh});
  }
  k.hours = static_cast<int>(hours_.size());
  k.segments = static_cast<int>(plan.segments.size());
  k.controllers = static_cast<int>(plan.controller_limit_w.size());
  for (const Segment& segment : plan.segments) {
    for (const PowerTable& table : segment.power) {
      for (int node = 0; node < kClearnessNodes; ++node) {
        for (int h = 0; h < 24; ++h) {
          power_.push_back(table.at_25(node, h));
          power_.push_back(table.per_k(node, h));
        }
      }
    }
  }
  k.controller_limit_w = plan.controller_limit_w.data();
  for (const FlexibleLoad& load : plan.flexible) {
    loads_.push_back({load.watts.data(), load.ac, load.optional_below.has_value(),
                      load.optional_below.value_or(0.0) * plan.usable_wh()});
  }
  k.loads = static_cast<int>(loads_.size());

  if (plan.furnace) {
    const PreparedFurnace& f = *plan.furnace;
    k.has_furnace = 1;
    k.blower_w = f.blower_w;
    k.output_w = f.output_w;
    k.heat_loss_w_per_k = f.heat_loss_w_per_k;
    k.gains_w = f.gains_w;
    k.per_output_w = 1.0 / f.output_w;
    k.has_other_heat = f.other_heat_c.has_value();
    k.other_heat_c = f.other_heat_c.value_or(0.0);
    for (std::size_t h = 0; h < 24; ++h) {
      k.hold_begin[h] = static_cast<int>(holds_.size());
      for (const auto& hold : f.hold[h]) holds_.push_back({hold.share, hold.set_point_c});
      k.unheld_share[h] = f.unheld_share[h];
    }
    k.hold_begin[24] = static_cast<int>(holds_.size());
  }
  if (plan.fridge) {
    k.has_fridge = 1;
    k.fridge_ac = plan.fridge->ac;
    k.fridge_w = plan.fridge->power_w.data();
    k.fridge_points = static_cast<int>(plan.fridge->power_w.size());
    k.fridge_coldest_c = PreparedFridge::kColdest_c;
    k.fridge_warmest_c = PreparedFridge::kWarmest_c;
  }

  const Battery& b = plan.battery;
  k.usable_wh = b.usable_wh();
  k.per_usable_wh = 1.0 / k.usable_wh;
  k.capacity_wh = b.capacity_wh * b.health;
  k.charge_efficiency = b.charge_efficiency;
  k.discharge_efficiency = b.discharge_efficiency;
  k.per_charge_efficiency = 1.0 / b.charge_efficiency;
  k.per_discharge_efficiency = 1.0 / b.discharge_efficiency;
  k.charge_limit_w = b.charge_limit_w;
  k.discharge_limit_w = b.discharge_limit_w;
  k.taper_from = b.taper_from;
  k.per_taper = 1.0 / (1.0 - b.taper_from);
  k.taper_to_c = b.taper_to_c;
  k.charge_min_c = b.charge_min_c;
  k.self_discharge_per_h = b.self_discharge_per_month / kHoursPerMonth;
  k.start_wh = b.start_charge * b.usable_wh();
  k.battery_outside = b.where == BatteryWhere::outside;
  static_assert(kColdShare.size() == kKernelColdPoints);
  std::copy(kColdShare.begin(), kColdShare.end(), k.cold_share);
  k.cold_from_c = kColdShareFrom_c;
  k.cold_points_per_k = kColdSharePoints_per_k;

  if (plan.inverter) {
    k.has_inverter = 1;
    k.inverter_rated_w = plan.inverter->rated_w;
    k.inverter_standby_w = plan.inverter->standby_w;
    k.inverter_linear = plan.inverter->linear;
    k.inverter_quadratic_per_w = plan.inverter->quadratic / plan.inverter->rated_w;
  }
  k.hookup_charger_w = plan.hookup_charger_w;
  if (plan.generator) {
    const Generator& g = *plan.generator;
    k.has_generator = 1;
    k.generator_rated_w = g.rated_w;
    k.generator_charger_w = g.charger_w;
    k.generator_charger_efficiency = g.charger_efficiency;
    k.per_charger_efficiency = 1.0 / g.charger_efficiency;
    k.rule_below = g.rule == GeneratorRule::below;
    k.start_below_wh = g.start_below * b.usable_wh();
    k.stop_at_wh = g.stop_at * b.usable_wh();
    k.min_run_h = g.min_run_h;
    k.fuel_l_per_h_idle = g.fuel_l_per_h_idle;
    k.fuel_l_per_kwh = g.fuel_l_per_kwh;
  }
  k.hour = hours_.data();
  k.power = power_.data();
  k.load = loads_.data();
  k.hold = holds_.data();
}

BlockRunner::BlockRunner(const PreparedPlan& plan, const KernelTables& tables, const Sky& sky,
                         std::uint64_t seed, const Kernel& kernel)
    : plan_(plan),
      tables_(tables),
      sky_(sky),
      seed_(seed),
      kernel_(kernel),
      sky_of_stay_(plan.segments.size()),
      k_(plan.segments.size()),
      temp_mean_c_(plan.segments.size()),
      temp_range_c_(plan.segments.size()),
      use_(plan.segments.size() * plan.flexible.size()),
      home_flat_(plan.hours.size()),
      along_flat_(plan.generator ? plan.hours.size() : 0),
      home_bins_(plan.hours.size() * kBlockStays),
      along_bins_(plan.generator ? home_bins_.size() : 0) {}

const KernelResult& BlockRunner::run(std::uint32_t first) {
  fill_weather(first);
  fill_use(first);
  result_.home.flat = home_flat_.data();
  result_.home.charge_bin = home_bins_.data();
  result_.along.flat = along_flat_.data();
  result_.along.charge_bin = along_bins_.data();
  const auto data = [](const std::vector<Row>& rows) {
    return rows.empty() ? nullptr : rows.front().stay;
  };
  kernel_.run(tables_.plan(), {data(k_), data(temp_mean_c_), data(temp_range_c_), data(use_)},
              result_);
  return result_;
}

std::uint64_t BlockRunner::flat_at_home() const {
  return std::accumulate(home_flat_.begin(), home_flat_.end(), std::uint64_t{0}, std::bit_or<>());
}

void BlockRunner::fill_weather(std::uint32_t first) {
  if (const KernelDraws* draws = sky_.block_draws()) {
    kernel_.draw(*draws, first, k_.front().stay, temp_mean_c_.front().stay,
                 temp_range_c_.front().stay);
    return;
  }
  for (std::uint32_t i = 0; i < kBlockStays; ++i) {
    sky_.fill(first + i, sky_of_stay_);
    for (std::size_t s = 0; s < sky_of_stay_.size(); ++s) {
      k_[s].stay[i] = sky_of_stay_[s].k;
      temp_mean_c_[s].stay[i] = sky_of_stay_[s].temp_mean_c;
      temp_range_c_[s].stay[i] = sky_of_stay_[s].temp_range_c;
    }
  }
}

void BlockRunner::fill_use(std::uint32_t first) {
  const std::size_t loads = plan_.flexible.size();
  Row draw, unused;
  for (std::size_t s = 0; s < plan_.segments.size(); ++s) {
    for (std::size_t l = 0; l < loads; ++l) {
      const FlexibleLoad& load = plan_.flexible[l];
      Row& use = use_[s * loads + l];
      if (load.varies) {
        kernel_.normals(seed_, first, static_cast<unsigned>(plan_.segments[s].day),
                        static_cast<unsigned>(DrawPurpose::load), load.draw_block, draw.stay,
                        unused.stay);
      }
      for (std::size_t i = 0; i < kBlockStays; ++i) {
        const double variation = load.varies ? load.use_of_draw(draw.stay[i]) : 1.0;
        use.stay[i] = use_on_day(load, variation, k_[s].stay[i]);
      }
    }
  }
}

}  // namespace dullspell
