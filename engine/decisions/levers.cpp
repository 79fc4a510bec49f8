#include "engine/decisions/levers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "engine/decisions/flat_by_climate.hpp"
#include "engine/plan/guarding_load.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/study/climate_interval.hpp"
#include "engine/study/parallel.hpp"
#include "engine/study/prepare.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {
namespace {

constexpr double kMorePanels_w = 100.0, kMoreBattery_wh = 500.0, kCooler_k = 3.0;
constexpr ClockWindow kNight{23 * 60, 7 * 60}, kGeneratorHour{17 * 60, 18 * 60};
constexpr double kColdestHold_c = -20.0;  // that a plan may state

bool uses_energy(const Plan& plan, const Load& load) {
  if (load.watts <= 0.0 || load.hours_per_day <= 0.0) return false;
  if (load.side == LoadSide::dc) return true;
  for (int h = 0; h < 24; ++h) {
    if (shared_share_of_hour(load.between, plan.inverter->on, h) > 0.0) return true;
  }
  return false;
}

// A plan without any use of energy is none.
bool has_other_use(const Plan& plan) {
  return plan.loads.size() + (plan.furnace ? 1 : 0) + (plan.fridge ? 1 : 0) > 1;
}

std::string amount(double value) {
  return fmt::format("{:.4g}", value);
}

struct MiddleOfStay {
  Coordinates where{};
  SolarDay sun;
};

MiddleOfStay middle_of(const Plan& plan) {
  const int day = (plan.start().day + plan.nights()) / 2;
  std::size_t camp = 0;
  for (int left = plan.camps[0].nights; camp + 1 < plan.camps.size() && day >= left;) {
    left += plan.camps[++camp].nights;
  }
  const Coordinates& where = plan.camps[camp].where;
  return {where, solar_day(plan.arrive + std::chrono::days{day}, where, plan.clock_offset_h)};
}

class LeverList {
 public:
  explicit LeverList(const Plan& plan) : plan_(plan) {}

  std::vector<Lever> all() {
    for (std::size_t i = 0; i < plan_.loads.size(); ++i) leave_out(i);
    for (std::size_t i = 0; i < plan_.loads.size(); ++i) halve(i);
    leave_fridge();
    tilt_panels();
    turn_panels();
    enlarge();
    move_into_the_open();
    cool_cabin();
    switch_inverter_off();
    shorten();
    run_generator();
    return std::move(out_);
  }

 private:
  void add(LeverKind kind, std::string change, std::string doing, Plan plan,
           std::string subject = "") {
    out_.push_back(
        {kind, std::move(subject), std::move(change), std::move(doing), std::move(plan)});
  }

  void leave_out(std::size_t i) {
    const Load& load = plan_.loads[i];
    if (!uses_energy(plan_, load) || !has_other_use(plan_) || guards_people(load.name)) return;
    add(LeverKind::load_left_out, load.name + " left out", "Leaving out the " + load.name,
        without_load(plan_, i), load.name);
  }

  void halve(std::size_t i) {
    const Load& load = plan_.loads[i];
    if (!uses_energy(plan_, load) || guards_people(load.name)) return;
    Plan halved = with_load_halved(plan_, i);
    const Load& now = halved.loads[i];
    const std::string use =
        now.watts < load.watts
            ? fmt::format("{} W in place of {} W", amount(now.watts), amount(load.watts))
            : fmt::format("{} h a day in place of {} h", amount(now.hours_per_day),
                          amount(load.hours_per_day));
    add(LeverKind::load_halved, fmt::format("{}: {}", load.name, use),
        fmt::format("Half as much use of the {} ({})", load.name, use), std::move(halved),
        load.name);
  }

  void leave_fridge() {
    if (!plan_.fridge || !has_other_use(plan_)) return;
    add(LeverKind::fridge_left_out, "fridge left out (food is kept cold another way)",
        "Leaving out the fridge (food then needs another way to keep cold)", without_fridge(plan_));
  }

  // Towards the sun at noon in the middle of the stay.
  void tilt_panels() {
    if (std::none_of(plan_.panels.begin(), plan_.panels.end(), lies_flat)) return;
    const MiddleOfStay middle = middle_of(plan_);
    const double from_zenith_deg = middle.where.latitude_deg - middle.sun.declination_deg;
    const PlaneDirection plane{std::clamp(std::round(std::abs(from_zenith_deg)), 10.0, 75.0),
                               from_zenith_deg >= 0.0 ? 180.0 : 0.0};
    const std::string how = fmt::format("{:.0f}° to the {}", plane.tilt_deg,
                                        from_zenith_deg >= 0.0 ? "south" : "north");
    add(LeverKind::panels_tilted, "flat panels tilted " + how, "Tilting the flat panels " + how,
        with_flat_panels_at(plan_, plane));
  }

  // On whole hours of the clock. Panels keep the last direction until the first turn of the next
  // morning: a later one than this gives more of the morning away than the turning brings.
  void turn_panels() {
    if (std::all_of(plan_.panels.begin(), plan_.panels.end(), [](const PanelGroup& group) {
          return std::holds_alternative<AimedMount>(group.mount);
        })) {
      return;
    }
    const double solar_minus_clock_h = middle_of(plan_).sun.solar_minus_clock_h;
    AimedMount aimed;
    std::string times;
    for (const double solar_h : {8.0, 11.0, 14.0}) {
      const int hour = static_cast<int>(std::lround(solar_h - solar_minus_clock_h + 48.0)) % 24;
      aimed.at_min.push_back(60 * hour);
    }
    std::sort(aimed.at_min.begin(), aimed.at_min.end());
    for (const int t : aimed.at_min) times += (times.empty() ? "" : ", ") + clock_text(t);
    add(LeverKind::panels_turned, "all panels turned to the sun by hand at " + times,
        "Turning all panels to the sun by hand at " + times, with_fixed_panels_aimed(plan_, aimed));
  }

  void enlarge() {
    const double panels_w = rated_panels_w(plan_);
    if (panels_w > 0.0 && panels_w + kMorePanels_w <= kMostPanels_w) {
      add(LeverKind::more_panels, "100 W more of the same panels",
          "Bringing 100 W more of the same panels", with_panels_w(plan_, panels_w + kMorePanels_w));
    }
    if (plan_.battery.capacity_wh + kMoreBattery_wh <= kMostBattery_wh) {
      add(LeverKind::more_battery, "500 Wh more battery", "Bringing 500 Wh more battery",
          with_battery_wh(plan_, plan_.battery.capacity_wh + kMoreBattery_wh));
    }
  }

  void move_into_the_open() {
    if (std::all_of(plan_.camps.begin(), plan_.camps.end(),
                    [](const Camp& camp) { return camp.canopy == 0.0 && camp.skyline.empty(); })) {
      return;
    }
    add(LeverKind::open_camp, "camp in the open, no crowns and no skyline", "Camping in the open",
        in_the_open(plan_));
  }

  void cool_cabin() {
    if (!plan_.furnace) return;
    const auto& hold = plan_.furnace->hold;
    if (std::any_of(hold.begin(), hold.end(), [](const HoldWindow& window) {
          return window.set_point_c - kCooler_k < kColdestHold_c;
        })) {
      return;
    }
    add(LeverKind::cooler_furnace, "furnace set 3 °C (5 °F) lower",
        "Setting the furnace 3 °C (5 °F) lower", with_furnace_warmer(plan_, -kCooler_k));
  }

  // What needs the inverter at night.
  std::vector<std::string> hanging_on_inverter(const std::vector<ClockWindow>& lost) const {
    std::vector<std::string> names;
    for (const Load& load : plan_.loads) {
      if (load.side == LoadSide::dc || load.watts <= 0.0 || load.hours_per_day <= 0.0) continue;
      for (int h = 0; h < 24; ++h) {
        if (shared_share_of_hour(load.between, lost, h) <= 0.0) continue;
        names.push_back(load.name);
        break;
      }
    }
    if (plan_.fridge && plan_.fridge->side != LoadSide::dc) names.push_back("fridge");
    return names;
  }

  void switch_inverter_off() {
    if (!plan_.inverter) return;
    const auto& on = plan_.inverter->on;
    const auto left = windows_without(on, {kNight});
    const auto lost = windows_without(on, left);
    if (left.empty() || lost.empty()) return;
    const auto hanging = hanging_on_inverter(lost);
    if (hanging.empty() && plan_.inverter->standby_w <= 0.0) return;
    if (std::any_of(hanging.begin(), hanging.end(), guards_people)) return;
    const std::string with =
        hanging.empty() ? "" : fmt::format(" (and with it: {})", fmt::join(hanging, ", "));
    add(LeverKind::inverter_off_at_night, "inverter off from 23:00 to 07:00" + with,
        "Switching the inverter off from 23:00 to 07:00" + with, with_inverter_off(plan_, kNight));
  }

  void shorten() {
    if (plan_.nights() < 2) return;
    Plan shorter = one_night_shorter(plan_);
    const PlanHour start = plan_.start();
    const int departure_h = 24 * shorter.nights() + shorter.leave_hour;
    if (24 * start.day + start.hour_of_day >= departure_h) return;
    add(LeverKind::shorter_stay, "one night fewer, the last", "Leaving one night earlier",
        std::move(shorter));
  }

  // Started every evening unless the battery is full, and run for the hour. Who has a generator has
  // a rule and hours for it, too: another one is no news.
  void run_generator() {
    if (plan_.generator) return;
    constexpr const char* kWith = " (one of 1000 W with a charger of 500 W)";
    Generator generator;
    generator.rated_w = 1000.0;
    generator.charger_w = 500.0;
    const FuelUse usual = usual_fuel_use(generator.fuel);
    generator.fuel_l_per_h_idle = usual.l_per_h_idle_per_kw * generator.rated_w / 1000.0;
    generator.fuel_l_per_kwh = usual.l_per_kwh;
    generator.rule = GeneratorRule::below;
    generator.start_below = 0.99;
    generator.stop_at = 1.0;
    generator.min_run_h = 1.0;
    generator.allowed = {kGeneratorHour};
    add(LeverKind::generator_hour, std::string("generator one hour a day, 17:00 to 18:00") + kWith,
        std::string("Running a generator from 17:00 to 18:00 every day") + kWith,
        with_generator(plan_, generator));
  }

  const Plan& plan_;
  std::vector<Lever> out_;
};

// Fewest stays flat first; where so many stays show no difference, fewest hours flat.
std::pair<std::uint64_t, double> order_of(const LeverEffect& effect, std::uint64_t base_flat) {
  return {effect.difference.is_clear() ? effect.flat.count : base_flat, effect.flat_h};
}

}  // namespace

std::string to_string(LeverKind kind) {
  constexpr std::array names{"load_left_out",         "load_halved",   "fridge_left_out",
                             "panels_tilted",         "panels_turned", "more_panels",
                             "more_battery",          "open_camp",     "cooler_furnace",
                             "inverter_off_at_night", "shorter_stay",  "generator_hour"};
  return names[static_cast<std::size_t>(kind)];
}

std::vector<Lever> levers_of(const Plan& plan) {
  return LeverList(plan).all();
}

LeverStudy run_levers(const Plan& plan, const PreparedPlan& prepared, const StudyOptions& options,
                      const Progress& progress) {
  const OutcomeOptions each{options.stays, options.seed, options.threads, options.instruction_set,
                            plan.generator ? Tracks::both : Tracks::home};
  LeverStudy out;
  Study study = run_whole_study(prepared, options, Keep::outcomes, progress);
  out.base = std::move(study.result);
  const StayOutcomes& base = study.outcomes;
  const std::vector<double> base_climates = flat_by_climate(study.climates).home;

  std::vector<Lever> levers = levers_of(plan);
  std::vector<LeverEffect> effects(levers.size());
  PartsDone done(progress, "changes", levers.size());
  for_each_range(levers.size(), 1, options.threads, [&](std::size_t i, std::size_t) {
    const bool along = levers[i].with_generator();
    StudyOptions alone = options;
    alone.threads = 1;
    OutcomeOptions wanted = each;
    wanted.threads = 1;
    if (along) wanted.tracks = Tracks::both;
    const PreparedPlan changed_plan = prepare(levers[i].plan);
    const StayOutcomes changed = run_outcomes(changed_plan, wanted);

    LeverEffect& effect = effects[i];
    effect.flat = Proportion(along ? changed.count_along() : changed.count_home(), base.stays);
    effect.difference = paired_difference(
        base.flat_home, along ? changed.flat_along : changed.flat_home, base.stays);
    effect.flat_h = along ? changed.flat_h_mean_along() : changed.flat_h_mean_home();
    effect.flat_h_difference = flat_h_difference(
        base.flat_h_home, along ? changed.flat_h_along : changed.flat_h_home, base.stays);
    std::vector<double> climates =
        along ? flat_by_climate(changed_plan, alone).along
              : flat_by_climate(without_generator(changed_plan), alone).home;
    for (std::size_t c = 0; c < climates.size(); ++c) climates[c] -= base_climates[c];
    effect.difference_climate =
        climate_interval(effect.difference.difference, effect.difference.interval, climates);
    if (base.has_generator()) {
      effect.generator_h = mean_difference(base.generator_h, changed.generator_h);
    }
    done.add();
  });
  for (std::size_t i = 0; i < levers.size(); ++i) effects[i].lever = std::move(levers[i]);
  const std::uint64_t base_flat = out.base.home.flat.count;
  std::stable_sort(effects.begin(), effects.end(), [=](const LeverEffect& a, const LeverEffect& b) {
    return order_of(a, base_flat) < order_of(b, base_flat);
  });
  out.effects = std::move(effects);
  return out;
}

}  // namespace dullspell
