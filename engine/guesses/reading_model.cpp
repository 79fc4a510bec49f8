#include "engine/guesses/reading_model.hpp"

#include <algorithm>
#include <cmath>

#include "engine/hour/energy_step.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/stay/expected_stay.hpp"
#include "weather/daylight.hpp"

namespace dullspell {
namespace {

// How well displays show and skies hold. Common practice, no source.
constexpr double kDisplayError = 0.02;
constexpr double kChargeError = 0.05;  // of what changed: a display guesses charge, it counts watts
constexpr double kRounded_w = 0.3, kRounded_wh = 3.0;  // whole numbers, 1 and 10
constexpr double kRoundedCharge = 0.01 * 0.4082;       // two whole percents: 0.01 sqrt(2/12)

// Of the hour's mean, by how much a moment's sun differs from it.
double passing_clouds(const std::optional<KnownSky>& sky, double k) {
  constexpr double kClear = 0.04, kDull = 0.15, kMixed = 0.25;
  if (!sky) return kMixed;
  return k >= 0.60 ? kClear : k <= 0.25 ? kDull : kMixed;
}

bool named(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

void run_all_day(Load& load) {
  load.between = {kWholeDay};
  load.hours_per_day = 24.0;
  load.dull_day_factor = 1.0;
  load.only.reset();
}

Load running(std::string name, LoadSide side, double watts) {
  Load load;
  load.name = std::move(name);
  load.side = side;
  load.watts = watts;
  run_all_day(load);
  return load;
}

// Only these run, and what never stops.
void switch_on_only(Plan& plan, const std::vector<std::string>& on) {
  for (Load& load : plan.loads) {
    if (named(on, load.name)) {
      run_all_day(load);
    } else if (!load.never_stops()) {
      load.watts = 0.0;
    }
  }
  if (plan.fridge && named(on, kFridgeName)) {
    plan.loads.push_back(running(kFridgeName, plan.fridge->side, plan.fridge->running_w));
  }
  if (plan.furnace && named(on, kFurnaceName)) {
    plan.loads.push_back(running(kFurnaceName, LoadSide::dc, plan.furnace->blower_w));
  }
  plan.fridge.reset();
  plan.furnace.reset();
}

void switch_off(Plan& plan, const std::vector<std::string>& off) {
  for (Load& load : plan.loads) {
    if (named(off, load.name)) load.watts = 0.0;
  }
  if (named(off, kFridgeName)) plan.fridge.reset();
  if (named(off, kFurnaceName)) plan.furnace.reset();
  if (plan.inverter && named(off, kInverterName)) {
    for (Load& load : plan.loads) {
      if (load.side != LoadSide::dc) load.watts = 0.0;
    }
    if (plan.fridge && plan.fridge->side != LoadSide::dc) plan.fridge.reset();
    plan.inverter->standby_w = 0.0;
  }
}

// An hour of a prepared plan, and the share of it, or its weight, that a reading sees.
struct SeenHour {
  std::size_t hour;
  double share;
};

// The hours that a reading sees: between its times, or the middles of hours on both sides of one.
std::vector<SeenHour> hours_seen(const PreparedPlan& prepared, const Reading& reading) {
  std::vector<SeenHour> out;
  const int from = reading.from.minute_of_day;  // after the first midnight
  const int to = from + minutes_between(reading.from, reading.to);
  for (std::size_t h = 0; h < prepared.hours.size(); ++h) {
    const HourSlot& slot = prepared.hours[h];
    const int begins = 1440 * slot.day.value + 60 * slot.hour_of_day;
    const double share = is_at_a_time(reading.kind)
                             ? 1.0 - std::abs(from - (begins + 30)) / 60.0
                             : (std::min(to, begins + 60) - std::max(from, begins)) / 60.0;
    if (share > 0.0) out.push_back({h, share});
  }
  return out;
}

double sum_of_shares(const std::vector<SeenHour>& hours) {
  double sum = 0.0;
  for (const SeenHour& seen : hours) sum += seen.share;
  return sum;
}

// What one full discharge gives on the display.
double shown_delivery(const Plan& plan, const Reading& reading) {
  const double given_wh = plan.battery.usable_wh() * plan.battery.discharge_efficiency;
  if (reading.counted_at == CountedAt::battery || !plan.inverter) return given_wh;
  return given_wh * plan.inverter->efficiency(reading.at_w);
}

// At a moment a load runs or it does not: how far that is from what it takes on average, where the
// reading does not say.
double by_chance_w(const Plan& plan, const Reading& reading) {
  if (reading.on) return 0.0;
  const Plan seen = plan_of_reading(plan, reading);
  const int hour = reading.from.minute_of_day / 60;
  const Coordinates& where = seen.camps.front().where;
  const std::vector<ClockWindow> sunny =
      daylight(solar_day(reading.from.date, where, seen.clock_offset_h), where.latitude_deg);
  double variance = 0.0;
  for (const Load& load : seen.loads) {
    const std::vector<ClockWindow> windows = windows_on(load, sunny);
    const double share = share_of_hour(windows, hour);
    if (share <= 0.0) continue;
    const double window_h = length_h(windows);
    const double hours = load.only ? std::min(load.hours_per_day, window_h) : load.hours_per_day;
    const double runs = share * hours / window_h;
    variance += load.watts * load.watts * runs * std::max(0.0, 1.0 - runs);
  }
  if (seen.fridge) {
    constexpr double kDuty = 0.3;
    variance += seen.fridge->running_w * seen.fridge->running_w * kDuty * (1.0 - kDuty);
  }
  return std::sqrt(variance);
}

double clearness(const std::vector<ReadingSky>& skies, std::span<const double> deviates, Date date,
                 double otherwise) {
  for (std::size_t i = 0; i < skies.size(); ++i) {
    if (skies[i].date != date) continue;
    return std::clamp(skies[i].k + skies[i].k_spread * deviates[i], 0.02, 0.85);
  }
  return otherwise;
}

}  // namespace

Plan plan_of_reading(const Plan& plan, const Reading& reading) {
  Plan out = plan;
  Camp camp = plan.camps[reading.camp];
  camp.nights = static_cast<int>((reading.to.date - reading.from.date).count()) + 1;
  camp.drive_in_h = 0.0;
  camp.hookup = false;
  out.camps = {camp};
  out.now.reset();
  out.forecast.clear();
  out.yesterday.reset();
  out.generator.reset();
  out.vehicle_charge_w = 0.0;
  out.options.clear();
  out.readings.clear();
  for (Load& load : out.loads) load.optional_below.reset();
  // A reading at a time looks at the middles of the hours before and after.
  out.arrive_hour = is_at_a_time(reading.kind) ? 0 : reading.from.minute_of_day / 60;
  out.leave_hour = 0;
  if (!is_of_panels(reading.kind) && reading.kind != ReadingKind::charge) {
    out.panels.clear();
    out.controllers.clear();
  }
  if (reading.in_the_open) out = in_the_open(std::move(out));
  if (reading.on) switch_on_only(out, *reading.on);
  switch_off(out, reading.off);
  return arriving_on(std::move(out), reading.from.date);
}

ReadingModel::ReadingModel(const Plan& plan, const Reading& reading) : reading_(reading) {
  if (reading.kind != ReadingKind::delivered_wh) {
    stated_ = std::make_shared<const PreparedPlan>(prepare_stay(plan_of_reading(plan, reading)));
  }
  if (is_of_panels(reading.kind) || (reading.kind == ReadingKind::charge && !plan.panels.empty())) {
    for (const SeenHour& seen : hours_seen(*stated_, reading)) {
      const HourSlot& slot = stated_->hours[seen.hour];
      const Date date = stated_->dates[slot.day];
      if (!slot.panels_lit || (!skies_.empty() && skies_.back().date == date)) continue;
      const Segment& segment = stated_->segments[slot.segment];
      const StatedClearness sky =
          reading.sky ? stated_clearness(*reading.sky, segment.k_mean)
                      : StatedClearness{segment.k_of_chi.mean(), segment.k_of_chi.sd()};
      skies_.push_back({date, sky.k, sky.k_spread});
    }
  }
  switch (reading.kind) {
    case ReadingKind::panels_w:
      stated_w_ = shown(plan);
      break;
    case ReadingKind::draw_w:
      by_chance_ = by_chance_w(plan, reading);
      break;
    case ReadingKind::used_wh:
      by_chance_ = varying_wh(plan);
      break;
    case ReadingKind::charge:
      by_chance_ = varying_wh(plan) / plan.battery.usable_wh();
      break;
    case ReadingKind::panels_wh:
    case ReadingKind::delivered_wh:
      break;
  }
}

bool ReadingModel::depends_on(const Guess& guess) const {
  const bool panels = !skies_.empty();
  const bool sheltered = !reading_.in_the_open && (!guess.camp || *guess.camp == reading_.camp);
  switch (reading_.kind) {
    case ReadingKind::panels_w:
    case ReadingKind::panels_wh:
      return guess.about == GuessAbout::harvest || (guess.about == GuessAbout::canopy && sheltered);
    case ReadingKind::draw_w:
    case ReadingKind::used_wh:
      return guess.about == GuessAbout::use ||
             (guess.about == GuessAbout::inverter && reading_.counted_at == CountedAt::battery);
    case ReadingKind::delivered_wh:
      return guess.about == GuessAbout::battery ||
             (guess.about == GuessAbout::inverter && reading_.counted_at == CountedAt::loads);
    case ReadingKind::charge:
      break;
  }
  if (guess.about == GuessAbout::harvest) return panels;
  if (guess.about == GuessAbout::canopy) return panels && sheltered;
  return true;
}

std::shared_ptr<const PreparedPlan> ReadingModel::prepared(const Plan& plan) const {
  const Plan seen = plan_of_reading(plan, reading_);
  std::vector<double> lit{seen.camps.front().canopy};
  for (const PanelGroup& group : seen.panels) lit.push_back(group.rated_w);
  const bool as_before = latest_ && lit == lit_;
  latest_ = std::make_shared<const PreparedPlan>(as_before ? expected_with_panels_of(seen, *latest_)
                                                           : expected_as(seen, *stated_));
  lit_ = std::move(lit);
  return latest_;
}

double ReadingModel::shown(const Plan& plan) const {
  return shown(plan, std::vector<double>(skies_.size(), 0.0));
}

double ReadingModel::shown(const Plan& plan, std::span<const double> deviates) const {
  if (reading_.kind == ReadingKind::delivered_wh) return shown_delivery(plan, reading_);
  if (reading_.kind == ReadingKind::charge) return shown_charge(plan, deviates);
  const std::shared_ptr<const PreparedPlan> latest = this->prepared(plan);
  const PreparedPlan& prepared = *latest;
  const ExpectedStay expected(prepared);
  const std::vector<SeenHour> hours = hours_seen(prepared, reading_);
  double sum = 0.0;
  for (const SeenHour& seen : hours) {
    const HourSlot& slot = prepared.hours[seen.hour];
    const double k = clearness(skies_, deviates, prepared.dates[slot.day],
                               prepared.segments[slot.segment].k_mean);
    const ExpectedHour hour = expected.at(seen.hour, k);
    const double watts = is_of_panels(reading_.kind) ? hour.panels_w
                         : reading_.counted_at == CountedAt::battery
                             ? hour.draw_w
                             : hour.draw_w - hour.inverter_loss_w;
    sum += seen.share * watts;
  }
  return is_at_a_time(reading_.kind) ? sum / sum_of_shares(hours) : sum;
}

double ReadingModel::shown_charge(const Plan& plan, std::span<const double> deviates) const {
  const std::shared_ptr<const PreparedPlan> latest = this->prepared(plan);
  const PreparedPlan& prepared = *latest;
  const ExpectedStay expected(prepared);
  const BatteryModel battery = battery_model(prepared.battery);
  double stored_wh = reading_.charge_from * battery.usable_wh;
  for (const SeenHour& seen : hours_seen(prepared, reading_)) {
    const HourSlot& slot = prepared.hours[seen.hour];
    const double k = clearness(skies_, deviates, prepared.dates[slot.day],
                               prepared.segments[slot.segment].k_mean);
    const ExpectedHour hour = expected.at(seen.hour, k);
    const double accepted_w = acceptance_w<double>(
        battery, stored_wh, cold_acceptance_w<double>(battery, hour.battery_c));
    Needs<double> needs{};
    stored_wh = battery_hour<Charging::maybe, double>(battery, needs,
                                                      seen.share * (hour.panels_w - hour.draw_w),
                                                      seen.share * accepted_w, stored_wh)
                    .stored_after_wh;
  }
  return stored_wh / battery.usable_wh;
}

double ReadingModel::error(double shown) const {
  const double display = reading_.kind == ReadingKind::charge
                             ? kChargeError * (shown - reading_.charge_from)
                             : kDisplayError * shown;
  switch (reading_.kind) {
    case ReadingKind::charge:
      return std::hypot(kRoundedCharge, display, by_chance_);
    case ReadingKind::panels_w: {
      const double clouds = skies_.empty() ? 0.0 : passing_clouds(reading_.sky, skies_.front().k);
      // Of the larger of the two: a display at 0 knows no better what the sky does.
      return std::hypot(kRounded_w, display, clouds * std::max(shown, stated_w_));
    }
    case ReadingKind::draw_w:
      return std::hypot(kRounded_w, display, by_chance_);
    case ReadingKind::panels_wh:
    case ReadingKind::used_wh:
    case ReadingKind::delivered_wh:
      break;
  }
  return std::hypot(kRounded_wh, display, by_chance_);
}

// Uses of single days are not those of the average day, Wh.
double ReadingModel::varying_wh(const Plan& plan) const {
  const std::vector<SeenHour> hours = hours_seen(*stated_, reading_);
  double variance_wh2 = 0.0;
  for (const Load& load : plan_of_reading(plan, reading_).loads) {
    if (load.varies <= 0.0) continue;
    for (const FlexibleLoad& flexible : stated_->flexible) {
      if (flexible.name != load.name) continue;
      double energy_wh = 0.0;
      for (const SeenHour& seen : hours) energy_wh += seen.share * flexible.watts[seen.hour];
      variance_wh2 += load.varies * load.varies * energy_wh * energy_wh;
    }
  }
  return std::sqrt(variance_wh2);
}

}  // namespace dullspell
