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
    ideal_share_.resize(hours);
    ideal_stored_.resize(hours + 1);
    ideal_used_up_.resize(hours);
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

std::optional<double> StayRunner::least_generator_h(std::uint32_t stay) {
  sky_.fill(stay, weather_);
  draw_use(stay);
  prepare_hours();
  return least_hours();
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
    hour.needs.inverter_on = slot.inverter_on;
    hour.needs.panels_w = panel_power_w(plan_, slot, sky.k, air_c);
    hour.needs.vehicle_w = slot.vehicle_w;
    hour.needs.battery_c = battery_temperature_c(plan_, cabin, air_c, false);
    hour.powerless_battery_c = battery_temperature_c(plan_, cabin, air_c, true);
    trace_.panels_wh += hour.needs.panels_w;
  }
}

HourNeeds StayRunner::needs_at(std::size_t h, double stored_wh, bool was_flat,
                               double& given_up_wh) const {
  HourNeeds needs = hours_[h].needs;
  if (was_flat) needs.battery_c = hours_[h].powerless_battery_c;
  const std::size_t loads = plan_.flexible.size();
  const double* use = use_.data() + static_cast<std::size_t>(plan_.hours[h].segment) * loads;
  for (std::size_t i = 0; i < loads; ++i) {
    const FlexibleLoad& load = plan_.flexible[i];
    const double watts = load.watts[h] * use[i];
    if (load.optional_below && stored_wh < *load.optional_below * plan_.usable_wh()) {
      given_up_wh += watts;
    } else if (load.ac) {
      needs.ac_w += watts;
    } else {
      needs.dc_w += watts;
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
  track.demand_wh = track.shortfall_wh = track.given_up_wh = track.spilled_wh = 0.0;
  track.generator_h = track.fuel_l = 0.0;
  track.generator_starts = 0;

  GeneratorState state;
  double stored_wh = plan_.battery.start_charge * plan_.usable_wh();
  bool was_flat = false;
  for (std::size_t h = 0; h < hours_.size(); ++h) {
    const HourSlot& slot = plan_.hours[h];
    const HourNeeds needs = needs_at(h, stored_wh, was_flat, track.given_up_wh);
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
    track.demand_wh += needs.dc_w + needs.ac_w;
    track.shortfall_wh += flow.shortfall_wh;
    track.spilled_wh += flow.spilled_wh;
    stored_wh = flow.stored_after_wh;
    was_flat = flow.flat;
    track.flat[h] = flow.flat ? 1 : 0;
    track.charge[h] = stored_wh * (1.0 / plan_.usable_wh());
  }
}

// One hour of the search for the least hours; the stay is kept from going flat before it.
HourFlow StayRunner::ideal_hour(std::size_t h) const {
  const double stored_wh = ideal_stored_[h];
  double given_up_wh = 0.0;
  const HourNeeds needs = needs_at(h, stored_wh, false, given_up_wh);
  const HourSlot& slot = plan_.hours[h];
  return step_hour(plan_.battery, inverter_, needs, outside_at(h, true),
                   slot.hookup ? slot.at_camp : ideal_share_[h], stored_wh);
}

// Hour `h` if the generator ran for `share` of hour `from` <= h, all other shares as they stand.
HourFlow StayRunner::hour_after(std::size_t h, std::size_t from, double share) {
  ideal_share_[from] = share;
  for (std::size_t i = from; i < h; ++i) {
    ideal_stored_[i + 1] = ideal_hour(i).stored_after_wh;
  }
  return ideal_hour(h);
}

// The latest hour up to `h` in which the generator can still run longer; nothing if there is none.
std::optional<std::size_t> StayRunner::latest_usable_hour(std::size_t h) const {
  for (std::size_t u = h + 1; u-- > 0;) {
    const HourSlot& slot = plan_.hours[u];
    if (!slot.hookup && !ideal_used_up_[u] && ideal_share_[u] < slot.generator_allowed) return u;
  }
  return std::nullopt;
}

// Perfect foresight: go forward to the first shortage, fill it from the latest allowed hour that
// can still help, and go on. An hour later than another loses less to a full battery, so the latest
// is never the worse choice.
std::optional<double> StayRunner::least_hours() {
  std::fill(ideal_share_.begin(), ideal_share_.end(), 0.0);
  ideal_stored_[0] = plan_.battery.start_charge * plan_.usable_wh();
  for (std::size_t h = 0; h < hours_.size(); ++h) {
    HourFlow now = ideal_hour(h);
    if (now.flat) {
      std::fill(ideal_used_up_.begin(), ideal_used_up_.begin() + static_cast<std::ptrdiff_t>(h) + 1,
                std::uint8_t{0});
    }
    while (now.flat) {
      const auto usable = latest_usable_hour(h);
      if (!usable) return std::nullopt;
      now = fill_shortage(h, *usable, now);
    }
    ideal_stored_[h + 1] = now.stored_after_wh;
  }
  return std::accumulate(ideal_share_.begin(), ideal_share_.end(), 0.0);
}

// Runs the generator in hour `from` for as long as the shortage at `h` needs, or as it may.
HourFlow StayRunner::fill_shortage(std::size_t h, std::size_t from, const HourFlow& shortage) {
  constexpr double kCloseEnough_wh = 1.0;
  double low = ideal_share_[from], high = plan_.hours[from].generator_allowed;
  double missing_wh = -shortage.spare_wh;
  HourFlow best = hour_after(h, from, high);
  if (best.flat) {
    if (-best.spare_wh < missing_wh - kServed_wh) return best;
    // No help from there: the battery is full in between, or cannot charge faster.
    ideal_used_up_[from] = 1;
    return hour_after(h, from, low);
  }
  // What is spared grows almost linearly with the share: false position takes a step or two.
  for (int step = 0; step < 20 && best.spare_wh > kCloseEnough_wh; ++step) {
    const double share = low + (high - low) * missing_wh / (missing_wh + best.spare_wh);
    const HourFlow tried = hour_after(h, from, share + 1e-6);
    if (tried.flat) {
      low = share;
      missing_wh = -tried.spare_wh;
    } else {
      high = share + 1e-6;
      best = tried;
    }
  }
  return hour_after(h, from, high);
}

}  // namespace dullspell
