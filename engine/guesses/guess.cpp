#include "engine/guesses/guess.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "engine/plan/plan_edit.hpp"

namespace dullspell {
namespace {

// Lognormal of mean 1 and the spread as its coefficient of variation.
double factor(double spread, double deviate) {
  const double sigma = lognormal_sigma(spread);
  return std::exp(sigma * deviate - 0.5 * sigma * sigma);
}

constexpr double kLeastHealth = 0.2, kMostHealth = 1.0;

// Deviates between which a value that is added to stays within its bounds.
void bound(Guess& guess, double value, double least, double most) {
  if (!(guess.spread > 0.0)) return;
  guess.least = (least - value) / guess.spread;
  guess.most = (most - value) / guess.spread;
}

void move_canopy(Camp& camp, double by) {
  if (camp.canopy > 0.0) camp.canopy = std::clamp(camp.canopy + by, 0.0, kMostCanopy);
}

// A share of a number: what `number` finds in a plan is multiplied.
template <class Number>
Guess share_of(GuessAbout about, std::string name, const char* spread_key, double spread,
               std::string key, std::string unit, Number number) {
  Guess guess{};
  guess.about = about;
  guess.name = std::move(name);
  guess.spread = spread;
  guess.is_share = true;
  guess.key = std::move(key);
  guess.spread_key = spread_key;
  guess.unit = std::move(unit);
  guess.value = [number](const Plan& plan) { return number(plan); };
  guess.off_by = [number, spread](Plan& plan, double z) { number(plan) *= factor(spread, z); };
  return guess;
}

Guess harvest_guess(double spread) {
  Guess guess{
      "harvest of the panels", spread, true, GuessAbout::harvest, "panels.rated_w", "harvest", "W",
      rated_panels_w,          {}};
  guess.off_by = [spread](Plan& plan, double z) {
    plan = with_panels_w(plan, rated_panels_w(plan) * factor(spread, z));
  };
  return guess;
}

Guess health_guess(const Battery& battery, double spread) {
  Guess guess{"health of the battery",
              spread,
              false,
              GuessAbout::battery,
              "battery.health",
              "health",
              "",
              [](const Plan& plan) { return plan.battery.health; },
              {}};
  guess.off_by = [spread](Plan& plan, double z) {
    plan = with_battery_health(
        plan, std::clamp(plan.battery.health + spread * z, kLeastHealth, kMostHealth));
  };
  bound(guess, battery.health, kLeastHealth, kMostHealth);
  return guess;
}

Guess canopy_of_all(double spread, std::size_t shown) {
  Guess guess{"canopy",
              spread,
              false,
              GuessAbout::canopy,
              "camp.canopy",
              "canopy",
              "",
              [shown](const Plan& plan) { return plan.camps[shown].canopy; },
              {}};
  guess.off_by = [spread](Plan& plan, double z) {
    for (Camp& camp : plan.camps) move_canopy(camp, spread * z);
  };
  return guess;
}

Guess canopy_of(double canopy, double spread, std::size_t camp) {
  Guess guess{fmt::format("canopy of camp {}", camp + 1),
              spread,
              false,
              GuessAbout::canopy,
              fmt::format("camp[{}].canopy", camp + 1),
              "canopy",
              "",
              [camp](const Plan& plan) { return plan.camps[camp].canopy; },
              {}};
  guess.camp = camp;
  guess.off_by = [spread, camp](Plan& plan, double z) {
    move_canopy(plan.camps[camp], spread * z);
  };
  bound(guess, canopy, 0.0, kMostCanopy);
  return guess;
}

}  // namespace

std::vector<Guess> guesses_of(const Plan& plan) {
  std::vector<Guess> out;
  const auto add = [&](Guess guess) {
    if (guess.spread > 0.0) out.push_back(std::move(guess));
  };
  const GuessSpreads& spreads = plan.guesses;
  for (std::size_t i = 0; i < plan.loads.size(); ++i) {
    const Load& load = plan.loads[i];
    if (load.watts <= 0.0 || load.hours_per_day <= 0.0) continue;
    add(share_of(
        GuessAbout::use, load.name, load.never_stops() ? "standby" : "loads",
        load.never_stops() ? spreads.standby : spreads.loads, fmt::format("load[{}].watts", i + 1),
        "W", [i](auto& p) -> auto& { return p.loads[i].watts; }));
  }
  if (plan.inverter && plan.inverter->standby_w > 0.0) {
    add(share_of(
        GuessAbout::inverter, "inverter standby", "standby", spreads.standby, "inverter.standby_w",
        "W", [](auto& p) -> auto& { return p.inverter->standby_w; }));
  }
  if (plan.fridge) {
    add(share_of(
        GuessAbout::use, "fridge", "fridge", spreads.fridge, "fridge.running_w", "W",
        [](auto& p) -> auto& { return p.fridge->running_w; }));
  }
  if (plan.furnace && !plan.furnace->hold.empty()) {
    add(share_of(
        GuessAbout::use, "heat loss of the cabin", "furnace", spreads.furnace,
        "furnace.heat_loss_w_per_k", "W/K",
        [](auto& p) -> auto& { return p.furnace->heat_loss_w_per_k; }));
  }
  if (!plan.panels.empty()) {
    add(harvest_guess(spreads.harvest));
    bool canopy_is_in = false;
    for (std::size_t i = 0; i < plan.camps.size(); ++i) {
      if (plan.camps[i].canopy <= 0.0) continue;
      if (!plan.readings.empty()) {
        add(canopy_of(plan.camps[i].canopy, spreads.canopy, i));
      } else if (!canopy_is_in) {
        add(canopy_of_all(spreads.canopy, i));
        canopy_is_in = true;
      }
    }
  }
  add(health_guess(plan.battery, spreads.health));
  return out;
}

double lognormal_sigma(double spread) {
  return std::sqrt(std::log1p(spread * spread));
}

Interval likely_range(const Plan& plan, const Guess& guess, double middle, double left) {
  const double reach = ConfidenceLevel{}.deviate() * left;
  const auto value_at = [&](double deviate) {
    Plan off = plan;
    guess.off_by(off, deviate);
    return guess.value(off);
  };
  return {value_at(middle - reach), value_at(middle + reach)};
}

Plan off_by(Plan plan, const std::vector<Guess>& guesses, const std::vector<double>& deviates) {
  for (std::size_t i = 0; i < guesses.size(); ++i) guesses[i].off_by(plan, deviates[i]);
  return plan;
}

}  // namespace dullspell
