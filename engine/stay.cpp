#include "engine/stay.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "engine/cabin.hpp"
#include "weather/random_stream.hpp"
#include "weather/standard_normal_pair.hpp"

namespace dullspell {

bool TrackTrace::ever_flat() const {
  return std::find(flat.begin(), flat.end(), std::uint8_t{1}) != flat.end();
}

StayRunner::StayRunner(const PreparedPlan& prepared, const Sky& sky, std::uint64_t seed,
                       StayDetail detail)
    : plan_(prepared),
      sky_(sky),
      seed_(seed),
      detail_(detail),
      inverter_(prepared.inverter ? &*prepared.inverter : nullptr) {
  const std::size_t hours = prepared.hours.size();
  weather_.resize(prepared.segments.size());
  use_.resize(prepared.segments.size() * prepared.flexible.size());
  hours_.resize(hours);
  trace_.home.charge.resize(hours);
  trace_.home.flat.resize(hours);
  if (prepared.generator) {
    trace_.along.charge.resize(hours);
    trace_.along.flat.resize(hours);
    needed_wh_.resize(hours + 1);
  }
}

const StayTrace& StayRunner::run(std::uint32_t stay, HourWitness* witness) {
  sky_.fill(stay, weather_);
  draw_use(stay);
  prepare_hours();
  run_track(false, trace_.home, witness);
  if (plan_.generator) {
    run_track(true, trace_.along, witness);
    if (detail_ == StayDetail::all) {
      trace_.least_generator_h = trace_.home.ever_flat() ? least_hours() : 0.0;
    }
  }
  return trace_;
}

// Each load draws by its name, so that taking another load away leaves its days alone.
void StayRunner::draw_use(std::uint32_t stay) {
  const StandardNormalPair normal_pair;
  const std::size_t loads = plan_.flexible.size();
  for (std::size_t s = 0; s < plan_.segments.size(); ++s) {
    const auto day = static_cast<std::uint32_t>(plan_.segments[s].day);
    for (std::size_t i = 0; i < loads; ++i) {
      const FlexibleLoad& load = plan_.flexible[i];
      double variation = 1.0;
      if (load.varies) {
        RandomStream stream({seed_, stay, day, DrawPurpose::load}, load.draw_block);
        variation = load.use_of_draw(normal_pair(stream).first);
      }
      use_[s * loads + i] = use_on_day(load, variation, weather_[s].k);
    }
  }
}

// What the weather alone decides, once for both tracks.
void StayRunner::prepare_hours() {
  trace_.panels_wh = 0.0;
  wanted_wh_ = 0.0;
  for (std::size_t h = 0; h < hours_.size(); ++h) {
    const HourSlot& slot = plan_.hours[h];
    const SegmentSky& sky = weather_[static_cast<std::size_t>(slot.segment)];
    const double air_c = sky.temp_mean_c + sky.temp_range_c * slot.temperature_swing;
    const CabinHour cabin = cabin_hour(plan_, slot.hour_of_day, air_c);
    HourWeather& hour = hours_[h];
    hour.needs.dc_w = slot.fixed_dc_w + cabin.furnace_w;
    hour.needs.ac_w = slot.fixed_ac_w;
    if (plan_.fridge) {
      if (plan_.fridge->ac) {
        hour.needs.ac_w += cabin.fridge_w * slot.inverter_on;
      } else {
        hour.needs.dc_w += cabin.fridge_w;
      }
    }
    double optional_w = 0.0;
    for (std::size_t i = 0; i < plan_.flexible.size(); ++i) {
      const FlexibleLoad& load = plan_.flexible[i];
      const double watts = flexible_w(h, i);
      if (load.optional_below) {
        optional_w += watts;
      } else {
        (load.ac ? hour.needs.ac_w : hour.needs.dc_w) += watts;
      }
    }
    hour.needs.inverter_on = slot.inverter_on;
    hour.needs.panels_w = panel_power_w(plan_, slot, sky.k, air_c);
    hour.needs.vehicle_w = slot.vehicle_w;
    hour.needs.battery_c = battery_temperature_c(plan_, cabin, air_c, false);
    hour.powerless_battery_c = battery_temperature_c(plan_, cabin, air_c, true);
    wanted_wh_ += hour.needs.dc_w + hour.needs.ac_w + optional_w;
    trace_.panels_wh += hour.needs.panels_w;
  }
}

double StayRunner::flexible_w(std::size_t h, std::size_t load) const {
  const auto segment = static_cast<std::size_t>(plan_.hours[h].segment);
  return plan_.flexible[load].watts[h] * use_[segment * plan_.flexible.size() + load];
}

HourNeeds StayRunner::needs_at(std::size_t h, double stored_wh, bool was_flat,
                               double& given_up_wh) const {
  HourNeeds needs = hours_[h].needs;
  if (was_flat) needs.battery_c = hours_[h].powerless_battery_c;
  for (std::size_t i = 0; i < plan_.flexible.size(); ++i) {
    const FlexibleLoad& load = plan_.flexible[i];
    if (!load.optional_below) continue;
    const double watts = flexible_w(h, i);
    if (stored_wh < *load.optional_below * plan_.usable_wh()) {
      given_up_wh += watts;
    } else {
      (load.ac ? needs.ac_w : needs.dc_w) += watts;
    }
  }
  return needs;
}

OutsidePower StayRunner::outside_at(std::size_t h, bool generator) const {
  OutsidePower outside;
  if (plan_.hours[h].hookup) {
    outside.charger_w = plan_.hookup_charger_w;
    outside.carries_dc = true;
  } else if (generator && plan_.generator) {
    outside.charger_w = plan_.generator->charger_w;
    outside.ac_limit_w = plan_.generator->rated_w;
    outside.charger_efficiency = plan_.generator->charger_efficiency;
  }
  return outside;
}

double StayRunner::generator_share(std::size_t h, const HourNeeds& needs,
                                   const OutsidePower& outside, double stored_wh,
                                   GeneratorState& state) const {
  const Generator& g = *plan_.generator;
  const HourSlot& slot = plan_.hours[h];
  const double allowed = slot.generator_allowed;
  double share = 0.0;
  if (allowed > 0.0) {
    double target_wh = slot.generator_target_wh;
    if (g.rule == GeneratorRule::below) {
      const bool wanted = state.running || stored_wh < g.start_below * plan_.usable_wh();
      target_wh = wanted ? g.stop_at * plan_.usable_wh() : -1.0;
    }
    if (target_wh >= 0.0) {
      share =
          share_to_reach(plan_.battery, inverter_, needs, outside, allowed, stored_wh, target_wh);
    }
    if (share > 0.0 && !state.running) state.must_run_h = g.min_run_h;
    share = std::max(share, std::min(allowed, state.must_run_h));
  }
  state.must_run_h = allowed > 0.0 ? std::max(0.0, state.must_run_h - share) : 0.0;
  return share;
}

void StayRunner::run_track(bool generator, TrackTrace& track, HourWitness* witness) {
  track.shortfall_wh = track.given_up_wh = track.spilled_wh = 0.0;
  track.generator_h = track.fuel_l = 0.0;
  track.generator_starts = 0;

  GeneratorState state;
  double stored_wh = plan_.battery.start_charge * plan_.usable_wh();
  bool was_flat = false;
  for (std::size_t h = 0; h < hours_.size(); ++h) {
    const HourSlot& slot = plan_.hours[h];
    double given_up_wh = 0.0;
    const HourNeeds needs = needs_at(h, stored_wh, was_flat, given_up_wh);
    track.given_up_wh += given_up_wh;
    const OutsidePower outside = outside_at(h, generator);
    const bool may_run = generator && !slot.hookup;
    double share = slot.hookup ? slot.at_camp : 0.0;
    if (may_run) {
      const bool was_running = state.running;
      share = generator_share(h, needs, outside, stored_wh, state);
      if (share > 0.0 && !was_running) ++track.generator_starts;
      // Still running at the hour's end only if it used up all that the hour allows.
      state.running = share > 0.0 && share >= slot.generator_allowed;
    }
    const HourFlow flow = step_hour(plan_.battery, inverter_, needs, outside, share, stored_wh);
    if (witness) witness->hour(h, needs, flow);
    if (may_run && share > 0.0) {
      const Generator& g = *plan_.generator;
      const double load_kwh =
          (flow.served_outside_wh + flow.charger_wh * (1.0 / g.charger_efficiency)) * 0.001;
      track.generator_h += share;
      track.fuel_l += share * g.fuel_l_per_h_idle + load_kwh * g.fuel_l_per_kwh;
    }
    track.shortfall_wh += flow.shortfall_wh;
    track.spilled_wh += flow.spilled_wh;
    stored_wh = flow.stored_after_wh;
    was_flat = flow.flat;
    track.flat[h] = flow.flat ? 1 : 0;
    track.charge[h] = stored_wh * (1.0 / plan_.usable_wh());
  }
  track.demand_wh = wanted_wh_ - track.given_up_wh;
}

// Stored energy that each hour must begin with so that the stay never goes flat, the generator
// running from there on in every hour that allows it; last the end of the stay.
void StayRunner::find_needed_energy() {
  const auto optional_loads = std::count_if(plan_.flexible.begin(), plan_.flexible.end(),
                                            [](const auto& load) { return load.optional_below; });
  needed_wh_.back() = 0.0;
  for (std::size_t h = hours_.size(); h-- > 0;) {
    const HourSlot& slot = plan_.hours[h];
    const double share = slot.hookup ? slot.at_camp : slot.generator_allowed;
    // Loads that so little energy would have given up need less: the most that always suffices.
    double least_wh = kNoLimit_w;
    for (std::ptrdiff_t i = 0; i <= optional_loads; ++i) {
      double given_up_wh = 0.0;
      const HourNeeds needs = needs_at(h, least_wh, false, given_up_wh);
      least_wh = least_stored_wh(plan_.battery, inverter_, needs, outside_at(h, true), share,
                                 needed_wh_[h + 1]);
    }
    needed_wh_[h] = std::min(least_wh, plan_.usable_wh());
  }
}

// Perfect foresight: in each hour the generator runs no longer than the rest of the stay needs if
// it ran in all allowed hours to come. So it runs as late as it can, where the least is lost to a
// full battery.
std::optional<double> StayRunner::least_hours() {
  find_needed_energy();
  double stored_wh = plan_.battery.start_charge * plan_.usable_wh();
  double sum_h = 0.0;
  for (std::size_t h = 0; h < hours_.size(); ++h) {
    const HourSlot& slot = plan_.hours[h];
    double given_up_wh = 0.0;
    const HourNeeds needs = needs_at(h, stored_wh, false, given_up_wh);
    const OutsidePower outside = outside_at(h, true);
    double share = slot.at_camp;
    if (!slot.hookup) {
      const double target_wh = std::max(needed_wh_[h + 1] * (1.0 / plan_.battery.kept_per_h()),
                                        cut_off_wh(plan_.battery, needs.battery_c));
      share = share_to_reach(plan_.battery, inverter_, needs, outside, slot.generator_allowed,
                             stored_wh, target_wh);
      sum_h += share;
    }
    const HourFlow flow = step_hour(plan_.battery, inverter_, needs, outside, share, stored_wh);
    if (flow.flat) return std::nullopt;
    stored_wh = flow.stored_after_wh;
  }
  return sum_h;
}

}  // namespace dullspell
