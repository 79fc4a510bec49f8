#include "engine/stay/stay.hpp"

#include <algorithm>

#include "engine/hour/stay_hour.hpp"
#include "engine/stay/expected_stay.hpp"
#include "weather/random_stream.hpp"
#include "weather/standard_normal_pair.hpp"

namespace dullspell {

int TrackTrace::flat_h() const {
  return static_cast<int>(std::count(flat.begin(), flat.end(), std::uint8_t{1}));
}

StayRunner::StayRunner(const PreparedPlan& prepared, const Sky& sky, std::uint64_t seed,
                       StayDetail detail)
    : plan_(prepared), sky_(sky), seed_(seed), detail_(detail), tables_(prepared) {
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
  run_track(Track::home, trace_.home, witness);
  if (plan_.generator) {
    run_track(Track::along, trace_.along, witness);
    if (detail_ == StayDetail::all) {
      trace_.least_generator_h = trace_.home.flat_h() > plan_.accept_flat_h ? least_hours() : 0.0;
    }
  }
  return trace_;
}

// Each load draws by its name, so that taking another load away leaves its days alone.
void StayRunner::draw_use(std::uint32_t stay) {
  const StandardNormalPair normal_pair;
  const std::size_t loads = plan_.flexible.size();
  for (std::size_t s = 0; s < plan_.segments.size(); ++s) {
    const auto day = static_cast<std::uint32_t>(plan_.segments[s].day.value);
    for (std::size_t i = 0; i < loads; ++i) {
      const FlexibleLoad& load = plan_.flexible[i];
      double variation = 1.0;
      if (load.varies) {
        RandomStream stream({seed_, stay, day, DrawPurpose::load}, load.draw_block);
        variation = load.use_of_draw(normal_pair(stream).first);
      }
      use_[s * loads + i] = use_on_day(load, static_cast<int>(s), variation, weather_[s].k);
    }
  }
}

const double* StayRunner::load_w(std::size_t h) const {
  return tables_.hours().load_w + h * plan_.flexible.size();
}

StayRunner::UseOfStay StayRunner::use_at(std::size_t h) const {
  const auto segment = static_cast<std::size_t>(plan_.hours[h].segment.value);
  return {use_.data() + segment * plan_.flexible.size()};
}

// What the weather alone decides, once for both tracks.
void StayRunner::prepare_hours() {
  const HourTables& tables = tables_.hours();
  trace_.panels_wh = 0.0;
  wanted_wh_ = 0.0;
  for (std::size_t h = 0; h < hours_.size(); ++h) {
    const HourSlot& slot = plan_.hours[h];
    const SegmentSky& sky = weather_[slot.segment];
    const double air_c = sky.temp_mean_c + sky.temp_range_c * slot.temperature_swing;
    const HourWeather<double> weather =
        hour_weather(tables, tables.fridge, slot, load_w(h), use_at(h), air_c);
    Hour& hour = hours_[h];
    hour.needs = {weather.dc_w,     weather.ac_w,
                  slot.inverter_on, panel_power_w(tables, slot, sky.k, air_c),
                  slot.vehicle_w,   weather.battery_c};
    hour.powerless_battery_c = weather.powerless_c;
    wanted_wh_ += weather.dc_w + weather.ac_w + weather.optional_w;
    trace_.panels_wh += hour.needs.panels_w;
  }
}

HourNeeds StayRunner::needs_at(std::size_t h, double stored_wh, bool was_flat,
                               double& given_up_wh) const {
  HourNeeds needs = hours_[h].needs;
  if (was_flat) needs.battery_c = hours_[h].powerless_battery_c;
  Needs<double> loads{needs.dc_w, needs.ac_w, 0.0, 0.0, 0.0, 0.0};
  given_up_wh += add_optional_loads(tables_.hours(), load_w(h), use_at(h), stored_wh, loads);
  needs.dc_w = loads.dc_w;
  needs.ac_w = loads.ac_w;
  return needs;
}

const OutsidePower& StayRunner::outside_at(std::size_t h, Track track) const {
  static constexpr OutsidePower kNone;
  switch (plan_.hours[h].source) {
    case Source::none:
      break;
    case Source::mains:
      return tables_.hours().mains;
    case Source::generator:
      if (track == Track::along) return tables_.hours().generator.power;
      break;
  }
  return kNone;
}

Rates<double> StayRunner::rates_at(const HourNeeds& needs, const OutsidePower& outside,
                                   double stored_wh) const {
  const HourTables& tables = tables_.hours();
  return rates_of(tables.inverter, needs_of(tables.battery, needs), outside,
                  accepted_w(tables.battery, stored_wh, needs.battery_c));
}

void StayRunner::run_track(Track track, TrackTrace& trace, HourWitness* witness) {
  trace.shortfall_wh = trace.given_up_wh = trace.spilled_wh = 0.0;
  trace.generator_h = trace.fuel_l = 0.0;
  trace.generator_starts = 0;

  const HourTables& tables = tables_.hours();
  GeneratorState<double> state{false, 0.0};
  double stored_wh = tables.battery.start_wh;
  bool was_flat = false;
  for (std::size_t h = 0; h < hours_.size(); ++h) {
    const HourSlot& slot = plan_.hours[h];
    const HourNeeds needs = needs_at(h, stored_wh, was_flat, trace.given_up_wh);
    const bool may_run = track == Track::along && slot.source == Source::generator;
    const Rates<double> rates = rates_at(needs, outside_at(h, track), stored_wh);
    double x = slot.source == Source::mains ? slot.source_share : 0.0;
    if (may_run) {
      const GeneratorHour<double> ran =
          run_generator(tables, slot, needs_of(tables.battery, needs), rates, stored_wh, state);
      x = ran.share;
      trace.generator_starts += ran.started;
    } else {
      state = {false, 0.0};
    }
    const HourFlow flow = flow_of(tables, needs, rates, x, stored_wh);
    if (witness) witness->hour(h, needs, flow);
    if (may_run && x > 0.0) {
      trace.generator_h += x;
      trace.fuel_l += fuel_l(tables.generator, x, flow.served_outside_wh, flow.charger_wh);
    }
    trace.shortfall_wh += flow.shortfall_wh;
    trace.spilled_wh += flow.spilled_wh;
    stored_wh = flow.stored_after_wh;
    was_flat = flow.flat;
    trace.flat[h] = flow.flat ? 1 : 0;
    trace.charge[h] = stored_wh * tables.battery.per_usable_wh;
  }
  trace.demand_wh = wanted_wh_ - trace.given_up_wh;
}

// Stored energy that each hour must begin with so that the stay never goes flat, the generator
// running from there on in every hour that allows it; last the end of the stay.
void StayRunner::find_needed_energy() {
  const HourTables& tables = tables_.hours();
  needed_wh_.back() = 0.0;
  for (std::size_t h = hours_.size(); h-- > 0;) {
    // Loads that so little energy would have given up need less: the most that always suffices.
    double least_wh = kInfinite;
    for (int i = 0; i <= tables.optional_loads; ++i) {
      double given_up_wh = 0.0;
      const HourNeeds needs = needs_at(h, least_wh, false, given_up_wh);
      least_wh =
          least_stored_wh(tables.battery, tables.inverter, needs_of(tables.battery, needs),
                          outside_at(h, Track::along), plan_.hours[h].source_share,
                          cold_acceptance_w(tables.battery, needs.battery_c), needed_wh_[h + 1]);
    }
    needed_wh_[h] = std::min(least_wh, tables.battery.usable_wh);
  }
}

// Perfect foresight: in each hour the generator runs no longer than the rest of the stay needs if
// it ran in all allowed hours to come. So it runs as late as it can, where the least is lost to a
// full battery.
std::optional<double> StayRunner::least_hours() {
  find_needed_energy();
  const HourTables& tables = tables_.hours();
  double stored_wh = tables.battery.start_wh;
  double sum_h = 0.0;
  for (std::size_t h = 0; h < hours_.size(); ++h) {
    const HourSlot& slot = plan_.hours[h];
    double given_up_wh = 0.0;
    const HourNeeds needs = needs_at(h, stored_wh, false, given_up_wh);
    const Rates<double> rates = rates_at(needs, outside_at(h, Track::along), stored_wh);
    double x = slot.source_share;
    if (slot.source == Source::generator) {
      const Needs<double> asked = needs_of(tables.battery, needs);
      const double target_wh =
          std::max(needed_wh_[h + 1] * tables.battery.per_kept_per_h, asked.cut_off_wh);
      x = share_to_reach(tables.battery, asked, rates, slot.source_share, stored_wh, target_wh);
      sum_h += x;
    }
    const HourFlow flow = flow_of(tables, needs, rates, x, stored_wh);
    if (flow.flat) return std::nullopt;
    stored_wh = flow.stored_after_wh;
  }
  return sum_h;
}

}  // namespace dullspell
