#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/guesses/reading.hpp"
#include "engine/hour/indexed.hpp"
#include "engine/kit/battery.hpp"
#include "engine/kit/camp.hpp"
#include "engine/kit/fridge.hpp"
#include "engine/kit/furnace.hpp"
#include "engine/kit/generator.hpp"
#include "engine/kit/inverter.hpp"
#include "engine/kit/load.hpp"
#include "engine/kit/panels.hpp"
#include "engine/plan/plan_note.hpp"
#include "weather/calendar.hpp"
#include "weather/known_sky.hpp"

namespace dullspell {

/// How far off a person's guesses may be, one standard deviation: shares of the value but for
/// canopy and health, which are added to it.
struct GuessSpreads {
  double standby = 0.30;  ///< loads that never stop, and the inverter's standby
  double loads = 0.20;    ///< all other loads, each by itself
  double fridge = 0.25;   ///< power while running, or its duty
  double furnace = 0.25;  ///< the cabin's heat loss
  double harvest = 0.10;  ///< of the panels: losses, dirt, aim
  double canopy = 0.10;   ///< of camps that have any
  double health = 0.05;   ///< of the battery
};

/// A kit to choose from: what it changes of the plan's, and what it weighs and costs.
struct KitOption {
  std::string name;
  std::optional<double> battery_wh;  ///< on the label
  std::optional<double> panels_w;    ///< rated, all together
  std::optional<double> weight_kg;
  std::optional<double> price;
};

/// A date of the plan whose sky is forecast.
struct ForecastDay {
  int day;  ///< days since arrival
  KnownSky sky;
};

/// An hour of the plan.
struct PlanHour {
  int day;  ///< days since arrival
  int hour_of_day;
};

struct PlanCorrection;

/// A validated plan: everything stated or defaulted, nothing left to check.
struct Plan {
  std::string file;
  std::string title;
  Date arrive{};
  int arrive_hour = 15;
  int leave_hour = 11;        ///< of the last date, and of every change of camp
  double accept_risk = 0.10;  ///< share of stays that may fail
  int accept_flat_h = 0;      ///< a stay fails that is flat for longer in all
  /// What the plan states; nothing: as the first camp's zone has it on the date of arrival.
  std::optional<bool> summer_time_stated;
  bool summer_time = false;     ///< whether the plan's clock is that of summer time
  double clock_offset_h = 0.0;  ///< clock minus UTC for the whole plan
  Indexed<CampIndex, Camp> camps;
  Battery battery;
  std::optional<Inverter> inverter;
  Converter converter;
  std::vector<Controller> controllers;
  std::vector<PanelGroup> panels;
  std::vector<Load> loads;
  std::optional<Furnace> furnace;
  std::optional<Fridge> fridge;
  std::optional<Generator> generator;
  double hookup_charger_w = 0.0;
  double vehicle_charge_w = 0.0;
  GuessSpreads guesses;
  std::vector<Reading> readings;  ///< of the display, by which the guesses are corrected
  /// What they made of the plan's own figures; null without readings.
  std::shared_ptr<const PlanCorrection> correction;
  std::vector<KitOption> options;     ///< for `size` alone
  std::string currency;               ///< of their prices
  std::optional<PlanHour> now;        ///< a stay under way is simulated from then on
  std::vector<ForecastDay> forecast;  ///< in order of days, none before now
  std::optional<KnownSky> yesterday;  ///< of the date before the first that is simulated
  std::vector<std::string> settings;  ///< changes made on the command line, as typed
  std::vector<PlanNote> notes;        ///< what a reader of the result should know of the plan

  /// The first date and hour that are simulated: now, or the arrival.
  PlanHour start() const { return now.value_or(PlanHour{0, arrive_hour}); }

  /// Days since arrival of the last date that has an hour of the stay.
  int last_day() const { return leave_hour > 0 ? nights() : nights() - 1; }

  Date departure() const { return arrive + std::chrono::days{nights()}; }

  int nights() const {
    int sum = 0;
    for (const Camp& camp : camps) sum += camp.nights;
    return sum;
  }
};

}  // namespace dullspell
