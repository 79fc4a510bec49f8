#include "engine/kernel/block_runner.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

#include "engine/cabin.hpp"
#include "engine/chemistry.hpp"
#include "engine/energy_step.hpp"
#include "weather/random_stream.hpp"

namespace dullspell {

static_assert(kKernelNodes == kClearnessNodes);

namespace {

// What loads can ask for in one hour, or somewhat more, W.
struct MostAsked {
  double dc_w = 0.0, ac_w = 0.0;
};

MostAsked most_asked(const PreparedPlan& plan) {
  MostAsked always;
  if (plan.furnace) always.dc_w += plan.furnace->blower_w;
  if (plan.fridge) {
    double& watts = plan.fridge->ac ? always.ac_w : always.dc_w;
    watts += plan.fridge->coldest_w;
    for (const auto& piece : plan.fridge->pieces) {
      watts += std::max(0.0, piece.w_per_k * piece.length_k);
    }
  }
  MostAsked most;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    MostAsked here{plan.hours[h].fixed_dc_w + always.dc_w, plan.hours[h].fixed_ac_w + always.ac_w};
    for (const FlexibleLoad& load : plan.flexible) {
      (load.ac ? here.ac_w : here.dc_w) += load.watts[h] * load.most;
    }
    most = {std::max(most.dc_w, here.dc_w), std::max(most.ac_w, here.ac_w)};
  }
  return most;
}

std::uint64_t any_of(const std::vector<unsigned long long>& flat) {
  return std::accumulate(flat.begin(), flat.end(), std::uint64_t{0}, std::bit_or<>());
}

const double* data_of(const std::vector<StayRow>& rows) {
  return rows.empty() ? nullptr : rows.front().stay;
}
double* data_of(std::vector<StayRow>& rows) {
  return rows.empty() ? nullptr : rows.front().stay;
}

std::size_t power_rows(const KernelPlan& plan) {
  return static_cast<std::size_t>(plan.controllers * kKernelPowerColumns);
}

}  // namespace

KernelTables::KernelTables(const PreparedPlan& plan) {
  KernelPlan& k = plan_;
  for (const HourSlot& slot : plan.hours) {
    const bool charging = slot.panels_lit || slot.vehicle_w > 0.0 || slot.hookup ||
                          (plan.generator && slot.generator_allowed > 0.0);
    hours_.push_back({slot.segment, slot.hour_of_day, slot.panels_lit, slot.hookup, charging,
                      slot.temperature_swing, slot.at_camp, slot.fixed_dc_w, slot.fixed_ac_w,
                      slot.inverter_on, slot.vehicle_w, slot.generator_allowed,
                      slot.generator_target_wh});
  }
  k.hours = static_cast<int>(hours_.size());
  k.segments = static_cast<int>(plan.segments.size());
  k.controllers = static_cast<int>(plan.controller_limit_w.size());
  for (const Segment& segment : plan.segments) {
    KernelSegment in{segment.first_hour, segment.end_hour, 24, 0};
    for (int h = segment.first_hour; h < segment.end_hour; ++h) {
      const HourSlot& slot = plan.hours[static_cast<std::size_t>(h)];
      if (!slot.panels_lit) continue;
      in.lit_from = std::min(in.lit_from, slot.hour_of_day);
      in.lit_to = slot.hour_of_day + 1;
    }
    segments_.push_back(in);
    for (const PowerTable& table : segment.power) {
      for (int node = 0; node < kClearnessNodes; ++node) {
        PowerRow& row = power_.emplace_back();
        for (int h = 0; h < 24; ++h) {
          row.value[2 * h] = table.at_25(node, h);
          row.value[2 * h + 1] = table.per_k(node, h);
        }
      }
    }
  }
  k.controller_limit_w = plan.controller_limit_w.data();
  for (const FlexibleLoad& load : plan.flexible) {
    loads_.push_back({load.ac, load.optional_below.value_or(0.0) * plan.usable_wh()});
    k.optional_loads += load.optional_below.has_value();
  }
  k.loads = static_cast<int>(loads_.size());
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    for (const FlexibleLoad& load : plan.flexible) load_w_.push_back(load.watts[h]);
  }

  if (plan.furnace) {
    const PreparedFurnace& f = *plan.furnace;
    k.has_furnace = 1;
    k.blower_w = f.blower_w;
    k.heat_loss_w_per_k = f.heat_loss_w_per_k;
    k.gains_w = f.gains_w;
    k.per_output_w = 1.0 / f.output_w;
    k.gains_k = f.gains_w / f.heat_loss_w_per_k;
    k.output_and_gains_k = (f.output_w + f.gains_w) / f.heat_loss_w_per_k;
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
    k.fridge_coldest_w = plan.fridge->coldest_w;
    for (const auto& piece : plan.fridge->pieces) {
      fridge_.push_back({piece.from_c, piece.length_k, piece.w_per_k});
    }
    k.fridge_piece = fridge_.data();
    k.fridge_pieces = static_cast<int>(fridge_.size());
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
  k.taper_least_w = std::min(b.charge_limit_w, b.taper_to_c * k.capacity_wh);
  k.tapers = b.taper_from < 1.0 && std::isfinite(b.charge_limit_w);
  k.full_accepts_less = b.taper_from < 1.0;
  if (k.tapers) {
    const double fall_w = (b.charge_limit_w - k.taper_least_w) / (1.0 - b.taper_from);
    k.taper_at_empty_w = k.taper_least_w + fall_w;
    k.taper_w_per_wh = fall_w / k.usable_wh;
  }
  k.charge_min_c = b.charge_min_c;
  k.kept_per_h = b.kept_per_h();
  k.per_kept_per_h = 1.0 / k.kept_per_h;
  k.start_wh = b.start_charge * b.usable_wh();
  k.battery_outside = b.where == BatteryWhere::outside;
  k.powerless_differs = plan.furnace && b.where == BatteryWhere::inside;
  static_assert(kColdLines.size() == kKernelColdLines && kTaperHalvings == kKernelTaperHalvings);
  std::transform(kColdLines.begin(), kColdLines.end(), k.cold_share, [](const ColdLine& line) {
    return KernelLine{line.at_0_c, line.per_k};
  });
  k.coldest_share = kColdestShare;
  if (!plan.furnace && b.where == BatteryWhere::inside) {
    // The lines are in order of temperature and meet where the next one begins to be the lowest.
    const auto meets_next_c = [&](int i) {
      const KernelLine &line = k.cold_share[i], &next = k.cold_share[i + 1];
      return (next.at_0_c - line.at_0_c) / (line.per_k - next.per_k);
    };
    while (k.first_cold_line + 1 < kKernelColdLines &&
           meets_next_c(k.first_cold_line) < kLivedIn_c - 1.0) {
      ++k.first_cold_line;
    }
    k.charges_in_any_weather = b.charge_min_c + kColdCharge_k <= kLivedIn_c;
  }

  const MostAsked most = most_asked(plan);
  double most_drawn_w = most.dc_w;
  if (plan.inverter) {
    k.has_inverter = 1;
    k.may_overload = most.ac_w > plan.inverter->rated_w;
    most_drawn_w += plan.inverter->loss_w(most.ac_w) + most.ac_w;
    k.inverter_rated_w = plan.inverter->rated_w;
    k.inverter_standby_w = plan.inverter->standby_w;
    k.inverter_linear = plan.inverter->linear;
    k.inverter_quadratic_per_w = plan.inverter->quadratic / plan.inverter->rated_w;
  }
  k.may_overdraw = most_drawn_w > b.discharge_limit_w;
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
  k.segment = segments_.data();
  k.power = power_.empty() ? nullptr : power_.front().value;
  k.load = loads_.data();
  k.load_w = load_w_.data();
  k.hold = holds_.data();
}

BlockWeather::BlockWeather(const PreparedPlan& plan)
    : k(plan.segments.size()),
      temp_mean_c(plan.segments.size()),
      temp_range_c(plan.segments.size()),
      use(plan.segments.size() * plan.flexible.size()) {}

KernelWeather BlockWeather::rows() const {
  return {data_of(k), data_of(temp_mean_c), data_of(temp_range_c), data_of(use)};
}

BlockRunner::BlockRunner(const PreparedPlan& plan, const KernelTables& tables, const Sky& sky,
                         std::uint64_t seed, const Kernel& kernel, BlockDetail detail)
    : plan_(plan),
      tables_(tables),
      sky_(sky),
      seed_(seed),
      kernel_(kernel),
      sky_of_stay_(plan.segments.size()),
      weather_(plan),
      power_(power_rows(tables.plan())),
      home_flat_(plan.hours.size()),
      along_flat_(plan.generator ? plan.hours.size() : 0),
      home_bins_(detail == BlockDetail::all ? plan.hours.size() * kBlockStays : 0),
      along_bins_(plan.generator ? home_bins_.size() : 0) {}

const KernelResult& BlockRunner::run(std::uint32_t first) {
  fill_weather(first);
  fill_use(first);
  result_.home.flat = home_flat_.data();
  result_.home.charge_bin = home_bins_.empty() ? nullptr : home_bins_.data();
  result_.along.flat = along_flat_.data();
  result_.along.charge_bin = along_bins_.empty() ? nullptr : along_bins_.data();
  kernel_.run(tables_.plan(), weather_.rows(), data_of(power_), result_);
  return result_;
}

std::uint64_t BlockRunner::flat_at_home() const {
  return any_of(home_flat_);
}

std::uint64_t BlockRunner::flat_along() const {
  return any_of(along_flat_);
}

void BlockRunner::fill_weather(std::uint32_t first) {
  if (const KernelDraws* draws = sky_.block_draws()) {
    kernel_.draw(*draws, first, data_of(weather_.k), data_of(weather_.temp_mean_c),
                 data_of(weather_.temp_range_c));
    return;
  }
  for (std::uint32_t i = 0; i < kBlockStays; ++i) {
    sky_.fill(first + i, sky_of_stay_);
    for (std::size_t s = 0; s < sky_of_stay_.size(); ++s) {
      weather_.k[s].stay[i] = sky_of_stay_[s].k;
      weather_.temp_mean_c[s].stay[i] = sky_of_stay_[s].temp_mean_c;
      weather_.temp_range_c[s].stay[i] = sky_of_stay_[s].temp_range_c;
    }
  }
}

void BlockRunner::fill_use(std::uint32_t first) {
  const std::size_t loads = plan_.flexible.size();
  StayRow draw, unused;
  for (std::size_t l = 0; l < loads; ++l) {
    const FlexibleLoad& load = plan_.flexible[l];
    int drawn_day = -1;
    for (std::size_t s = 0; s < plan_.segments.size(); ++s) {
      const int day = plan_.segments[s].day;
      if (load.varies && day != drawn_day) {
        drawn_day = day;
        kernel_.normals(seed_, first, static_cast<unsigned>(day),
                        static_cast<unsigned>(DrawPurpose::load), load.draw_block, draw.stay,
                        unused.stay);
      }
      StayRow& use = weather_.use[s * loads + l];
      for (std::size_t i = 0; i < kBlockStays; ++i) {
        const double variation = load.varies ? load.use_of_draw(draw.stay[i]) : 1.0;
        use.stay[i] = use_on_day(load, variation, weather_.k[s].stay[i]);
      }
    }
  }
}

LeastHoursRunner::LeastHoursRunner(const PreparedPlan& plan, const KernelTables& tables,
                                   const Kernel& kernel)
    : tables_(tables),
      kernel_(kernel),
      weather_(plan),
      power_(power_rows(tables.plan())),
      needed_wh_(plan.hours.size() + 1) {}

void LeastHoursRunner::add(const BlockWeather& block, int i, const Take& take) {
  const auto copy = [&](const std::vector<StayRow>& from, std::vector<StayRow>& to) {
    for (std::size_t row = 0; row < from.size(); ++row) {
      to[row].stay[gathered_] = from[row].stay[i];
    }
  };
  copy(block.k, weather_.k);
  copy(block.temp_mean_c, weather_.temp_mean_c);
  copy(block.temp_range_c, weather_.temp_range_c);
  copy(block.use, weather_.use);
  if (++gathered_ == kBlockStays) finish(take);
}

void LeastHoursRunner::finish(const Take& take) {
  if (gathered_ == 0) return;
  StayRow sum_h;
  const auto flat = kernel_.least_hours(tables_.plan(), weather_.rows(), data_of(power_),
                                        data_of(needed_wh_), sum_h.stay);
  for (int i = 0; i < gathered_; ++i) {
    if (flat >> i & 1) {
      take(std::nullopt);
    } else {
      take(sum_h.stay[i]);
    }
  }
  gathered_ = 0;
}

}  // namespace dullspell
