#pragma once

#include <array>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "engine/plan_note.hpp"
#include "weather/calendar.hpp"
#include "weather/clock.hpp"
#include "weather/known_sky.hpp"
#include "weather/place.hpp"
#include "weather/shade.hpp"
#include "weather/tilted_plane.hpp"

namespace dullspell {

constexpr double kNoLimit_w = std::numeric_limits<double>::infinity();

/// One leg of a trip.
struct Camp {
  Place place;                        ///< whose weather statistics are used
  Coordinates where{};                ///< of the camp; decides the sun
  double distance_km = 0.0;           ///< from the camp to the place
  std::optional<double> elevation_m;  ///< of the camp, if stated
  /// Monthly means typed for the camp, if any; they stand in `place` too.
  std::optional<std::array<double, 12>> temp_mean_c;
  int nights = 1;
  double canopy = 0.0;  ///< 0..0.95
  std::vector<SkylineSector> skyline;
  double drive_in_h = 0.0;  ///< driven after the change into this camp
  bool hookup = false;      ///< mains at this camp
};

/// Panels turned by hand to face the sun at these clock times; they stay so until the next one.
struct AimedMount {
  std::vector<int> at_min;
};

using Mount = std::variant<PlaneDirection, AimedMount>;

enum class DullLight { usual, poor };  ///< how well modules do in dim light

struct PanelGroup {
  std::string name;
  double rated_w = 0.0;
  Mount mount = PlaneDirection{0.0, 180.0};
  double losses = 0.10;  ///< wiring, dirt, mismatch, controller, reflection
  DullLight dull_light = DullLight::usual;
  std::size_t controller = 0;  ///< index into Plan::controllers
};

struct Controller {
  std::string name;
  double limit_w = kNoLimit_w;  ///< at its output
};

/// Where a load is connected: before the inverter, behind it, or behind it through a converter that
/// makes low voltage again (a trailer plugged into the box).
enum class LoadSide { dc, ac, dc_via_ac };

std::string to_string(LoadSide side);

struct Load {
  std::string name;
  LoadSide side = LoadSide::dc;
  double watts = 0.0;
  double hours_per_day = 24.0;       ///< length of its windows unless stated
  std::vector<ClockWindow> between;  ///< when it may run; the whole day unless stated
  bool hours_stated = false;
  double varies = 0.0;                   ///< coefficient of variation of the daily use
  double dull_day_factor = 1.0;          ///< use on a dull day over that on a clear one
  std::optional<double> optional_below;  ///< state of charge below which it is given up
};

struct HoldWindow {
  ClockWindow window;
  double set_point_c;
};

struct Furnace {
  double blower_w = 0.0;
  double output_w = 0.0;
  double heat_loss_w_per_k = 0.0;
  double gains_w = 0.0;  ///< people, lamps, cooking
  std::vector<HoldWindow> hold;
  std::optional<double> other_heat_c;  ///< cabin temperature outside the windows
};

struct Fridge {
  double running_w = 0.0;
  std::vector<std::pair<double, double>> duty_at;  ///< ambient C, share of time running
  LoadSide side = LoadSide::dc;
};

enum class BatteryWhere { inside, outside };

constexpr double kHoursPerMonth = 730.0;

struct Battery {
  std::string chemistry = "lfp";
  double capacity_wh = 0.0;         ///< on the label
  std::optional<double> nominal_v;  ///< if stated
  double health = 1.0;
  double usable_share = 1.0;
  double start_charge = 1.0;
  double charge_efficiency = 0.98;
  double discharge_efficiency = 0.98;
  double charge_limit_w = kNoLimit_w;
  double discharge_limit_w = kNoLimit_w;
  bool charge_limit_follows = false;  ///< the capacity, if that changes; stated in W it does not
  bool discharge_limit_follows = false;
  double taper_from = 0.95;
  double taper_to_c = 0.10;
  double charge_min_c = 0.0;
  double self_discharge_per_month = 0.02;
  BatteryWhere where = BatteryWhere::inside;

  /// What it holds between empty and full at 25 C, Wh.
  double usable_wh() const { return capacity_wh * health * usable_share; }

  /// Share of what is stored that an hour of self-discharge leaves.
  double kept_per_h() const { return 1.0 - self_discharge_per_month / kHoursPerMonth; }
};

/// Loss of an inverter: standby_w + linear P + quadratic P^2 / rated_w, P its output.
struct Inverter {
  double rated_w = 0.0;
  double standby_w = 0.0;
  double linear = 0.0;
  double quadratic = 0.0;
  std::vector<ClockWindow> on;  ///< the whole day unless stated

  double working_loss_w(double output_w) const {
    return (linear + quadratic / rated_w * output_w) * output_w;
  }
  double loss_w(double output_w) const { return standby_w + working_loss_w(output_w); }
  double efficiency(double output_w) const { return output_w / (output_w + loss_w(output_w)); }
};

/// Low voltage made from the inverter's output, for loads on the side dc_via_ac.
struct Converter {
  double efficiency = 0.85;
  double standby_w = 0.0;
};

enum class GeneratorRule { night, below };

struct Generator {
  double rated_w = 0.0;
  double charger_w = 0.0;  ///< into the battery
  double charger_efficiency = 0.88;
  GeneratorRule rule = GeneratorRule::night;
  double start_below = 0.3;  ///< rule `below`
  double stop_at = 0.8;
  double night_margin = 0.25;  ///< rule `night`
  double min_run_h = 1.0;
  std::vector<ClockWindow> allowed;
  double fuel_l_per_h_idle = 0.0;
  double fuel_l_per_kwh = 0.0;
  std::optional<double> tank_l;
};

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

/// A validated plan: everything stated or defaulted, nothing left to check.
struct Plan {
  std::string file;
  std::string title;
  Date arrive{};
  int arrive_hour = 15;
  int leave_hour = 11;  ///< of the last date, and of every change of camp
  double accept_risk = 0.10;
  bool summer_time = false;
  double clock_offset_h = 0.0;  ///< clock minus UTC for the whole plan
  std::vector<Camp> camps;
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
  std::vector<KitOption> options;     ///< for `size` alone
  std::string currency;               ///< of their prices
  std::optional<PlanHour> now;        ///< a stay under way is simulated from then on
  std::vector<ForecastDay> forecast;  ///< in order of days, none before now
  std::optional<KnownSky> yesterday;  ///< of the date before the first that is simulated
  std::vector<std::string> settings;  ///< changes made on the command line, as typed
  std::vector<PlanNote> notes;        ///< what a reader of the result should know of the plan

  /// The first date and hour that are simulated: now, or the arrival.
  PlanHour start() const { return now.value_or(PlanHour{0, arrive_hour}); }

  int nights() const {
    int sum = 0;
    for (const Camp& camp : camps) sum += camp.nights;
    return sum;
  }
};

}  // namespace dullspell
