#include "cli/plan_reference.hpp"

namespace dullspell {
namespace {

PlanTable stay() {
  return {
      "stay",
      "before all tables",
      "The stay itself, and what is known of it.",
      {
          {"title", "What the reports call it."},
          {"arrive", "Local date and whole hour: 2027-05-21T15:00:00. Needed."},
          {"leave",
           "Hour of departure on the last day, and of changing camp: \"11:00\", which holds "
           "unless stated."},
          {"accept_risk", "The share of stays that may fail, 0 to 1; 0.10 unless stated."},
          {"accept_flat_h",
           "A stay fails if it is flat for more hours in all than this; 0 unless stated."},
          {"summer_time",
           "true or false, in place of what clocks at the first camp do on arrival."},
          {"now",
           "A stay under way is simulated from this date and hour on; battery.start_charge "
           "then is the charge at that hour, and has to be stated."},
          {"yesterday",
           "Sky of the day before: \"clear\", \"mixed\", \"overcast\", \"rain\", or a clearness "
           "index such as 0.55."},
          {"currency", "What prices of [[option]] are in, for instance \"USD\"."},
      }};
}

PlanTable forecast() {
  return {"forecast",
          "[[forecast]]",
          "What is forecast for one date, up to 14 days ahead; best left out beyond three or four.",
          {
              {"date", "A date of the stay; or `day`."},
              {"day", "Its number instead: 1 is the date of arrival."},
              {"sky", "\"clear\", \"mixed\", \"overcast\", or \"rain\" (a day of it); or `k`."},
              {"k",
               "The day's clearness index: the sun on level ground over what it would be without "
               "air, about 0.7 on a clear day, 0.2 on a dull one."},
              {"k_spread", "How far off `k` may be, one standard deviation; 0.10 unless stated."},
          }};
}

PlanTable camp() {
  return {
      "camp",
      "[[camp]]",
      "A camp, one table each, in order.",
      {
          {"place",
           "A town, \"Moab, UT\"; { latitude = 41.8, longitude = -124.1 }; an id of `dullspell "
           "places`; a place file of `dullspell fit`; or twelve monthly means in a table "
           "[camp.place]. "
           "Needed."},
          {"nights", "Whole nights, 1 to 366. Needed."},
          {"canopy",
           "Share of the sky overhead that trees cover, 0 to 0.95; 0, in the open, unless "
           "stated. `dullspell shade` tells it from what the panels show."},
          {"skyline", "Tables [[camp.skyline]] of hills or a line of trees."},
          {"drive_in_h",
           "Hours of driving before this camp; panels give nothing on the road. 0 unless "
           "stated."},
          {"hookup", "true: shore power at this camp."},
          {"elevation_m",
           "Height of the camp, m, for its temperatures; a town's own unless stated."},
          {"elevation_ft", "The same in ft."},
          {"temp_mean_c", "Twelve monthly means of the camp itself, C, in place of the place's."},
          {"temp_mean_f", "The same in F."},
          {"utc_offset_h", "Standard time in hours from UTC, where another clock is kept."},
      }};
}

PlanTable camp_place() {
  return {"camp.place",
          "[camp.place]",
          "A place by its coordinates alone, for what is known around it; or by twelve monthly "
          "numbers from any solar atlas, January first.",
          {
              {"latitude", "Degrees, north +. Needed."},
              {"longitude", "Degrees, east +, so that the Americas are negative. Needed."},
              {"utc_offset_h", "Standard time in hours from UTC. Needed with monthly numbers."},
              {"ghi_kwh_m2", "Sun on level ground, kWh/m2 a day, monthly means."},
              {"k_mean", "Mean daily clearness index by month, in place of ghi_kwh_m2."},
              {"temp_mean_c", "Mean temperature by month, C."},
              {"temp_mean_f", "The same in F."},
              {"elevation_m", "Height of the place, m."},
              {"elevation_ft", "The same in ft."},
          }};
}

PlanTable skyline() {
  return {"camp.skyline",
          "[[camp.skyline]]",
          "A sector of the horizon that stands high; sectors run clockwise.",
          {
              {"from_deg", "Where it begins, degrees from north. Needed."},
              {"to_deg", "Where it ends; over north, more than 360. Needed."},
              {"height_deg", "Its height above the horizon, degrees. Needed."},
              {"lets_through", "The share of light that comes through, 0 to 1; 0 unless stated."},
          }};
}

PlanTable battery() {
  return {
      "battery",
      "[battery]",
      "The battery, or all batteries in parallel. Lithium only.",
      {
          {"capacity_wh", "Energy on its label, Wh. Needed, or capacity_ah."},
          {"capacity_ah", "The same in Ah, with nominal_v."},
          {"nominal_v", "Volts on its label: 12.8 for a 12 V lithium battery."},
          {"chemistry",
           "\"lfp\", lithium iron phosphate, unless stated; or \"nmc\", the lighter one."},
          {"health", "What age left of the label, a share: 1 new, which holds unless stated."},
          {"start_charge",
           "What the display shows on arrival, or at `now`, a share: 0.85. Full unless stated."},
          {"where",
           "\"inside\" unless stated; \"outside\" follows the air's temperature: a cold "
           "battery holds less, and does not charge below freezing."},
          {"delivers_wh",
           "Wh on the display that one full discharge gave: the surest figure. It takes the "
           "place of usable_share and health, and the inverter's losses are taken off once."},
          {"at_w", "The draw of that discharge, W on the display."},
          {"usable_share",
           "The share of the label that may be used; all of it unless stated. What the "
           "inverter loses is not part of it."},
          {"charge_efficiency", "Stored over put in; 0.98 for lfp, 0.97 for nmc."},
          {"discharge_efficiency", "Taken out over stored; 0.98 for lfp, 0.97 for nmc."},
          {"charge_limit_w",
           "Most that it takes in, W; half its capacity an hour unless "
           "stated."},
          {"charge_limit_c_rate", "The same as a share of its capacity an hour."},
          {"discharge_limit_w", "Most that it gives, W; its whole capacity an hour unless stated."},
          {"discharge_limit_c_rate", "The same as a share of its capacity an hour."},
          {"taper_from",
           "The state of charge from which it takes in less and less; 0.95 for lfp, 0.85 for "
           "nmc."},
          {"taper_to_c_rate",
           "What it still takes in when full, a share of its capacity an "
           "hour; 0.1."},
          {"charge_min_c",
           "Coldest cell that may be charged, C; 0. A self-heating battery may go lower."},
          {"charge_min_f", "The same in F."},
          {"self_discharge_per_month", "The share that it loses by itself; 0.02."},
      }};
}

PlanTable inverter() {
  return {"inverter",
          "[inverter]",
          "What makes alternating current. Leave it out if everything runs on direct current.",
          {
              {"rated_w", "Watts that it can give. Needed."},
              {"standby_w", "What it takes with nothing plugged in, W; 12 unless stated."},
              {"efficiency_at",
               "Pairs of load share and efficiency, standby included: [[0.1, 0.91], [0.5, 0.93], "
               "[1.0, 0.90]]."},
              {"on", "When it is switched on: [[\"07:00\", \"23:00\"]]; always unless stated."},
          }};
}

PlanTable converter() {
  return {"converter",
          "[converter]",
          "What makes direct current from an inverter's, in a trailer that is plugged into the "
          "box: for loads of side \"dc-via-ac\".",
          {
              {"efficiency", "0.85 unless stated."},
              {"standby_w", "What it takes by itself, W; 0 unless stated."},
          }};
}

PlanTable panels() {
  return {
      "panels",
      "[[panels]]",
      "Panels that are mounted alike, one table each.",
      {
          {"rated_w", "The sum of the modules' rated watts. Needed."},
          {"name", "What the reports call them."},
          {"mount",
           "\"flat\" unless stated; { tilt_deg = 35, azimuth_deg = 180 }, south being 180; or "
           "{ aimed_at = [\"10:00\", \"14:00\"] }, turned to the sun by hand at these times and "
           "back at dusk."},
          {"losses",
           "Wiring, dirt, mismatch and charge controller together, a share; 0.10 unless "
           "stated."},
          {"dull_light", "\"poor\" for modules that give less than usual in dull light."},
          {"vmp_v",
           "Voltage at greatest power by the label (Vmp), of modules in series the sum; needed "
           "with a cable or PWM."},
          {"cable_m",
           "Length of the cable to the controller, one way, m: what it takes grows with the "
           "current, and comes besides `losses`."},
          {"cable_ft", "The same in ft."},
          {"cable_mm2", "Its copper cross-section, mm2."},
          {"cable_awg", "Or its American wire gauge."},
          {"tracking",
           "\"mppt\", a controller that finds the greatest power, unless stated; \"pwm\", one that "
           "holds the panels at the battery's voltage, with battery.nominal_v."},
          {"controller_limit_w", "Most that their own charge controller lets through, W."},
          {"controller", "Or the name of a [[controller]] that several share."},
      }};
}

PlanTable controller() {
  return {"controller",
          "[[controller]]",
          "A charge controller that several [[panels]] share.",
          {
              {"name", "What panels call it. Needed."},
              {"limit_w", "Most that it lets through, W. Needed."},
          }};
}

PlanTable load() {
  return {
      "load",
      "[[load]]",
      "What uses power, one table each; standby loads first: small, but day and night.",
      {
          {"name", "What the reports call it. Needed."},
          {"watts", "Its power while it runs, W. Needed, or amps."},
          {"amps", "The same in A on the dc side, with battery.nominal_v."},
          {"side",
           "\"dc\" unless stated; \"ac\" behind the inverter; \"dc-via-ac\" a trailer plugged "
           "into it."},
          {"hours_per_day", "How long it runs; all the hours of `between` unless stated."},
          {"minutes_per_day", "The same in minutes."},
          {"times_per_day", "Or how many times a day, with minutes_each."},
          {"minutes_each", "Minutes that it runs each time."},
          {"between",
           "When it may run: [\"18:00\", \"23:00\"], or a list of such; all day unless stated."},
          {"only",
           "\"dark\": from sunset to sunrise at the camp on each date, within `between`; or "
           "\"daylight\"."},
          {"away", "Hours out of `between` in which nobody is there to use it."},
          {"varies",
           "From day to day, standard deviation over mean: 0.3; always the same unless "
           "stated."},
          {"dull_day_factor",
           "Use on a dull day over that on a usual one: 1.5. It changes the hours where they are "
           "stated, else the watts."},
          {"optional_below", "Given up below this state of charge, a share: 0.2."},
      }};
}

PlanTable fridge() {
  return {"fridge",
          "[fridge]",
          "A compressor fridge, which runs longer when it is warm.",
          {
              {"running_w", "Its power while the compressor runs, W. Needed."},
              {"duty_at",
               "Pairs of ambient C and share of time running: [[20, 0.22], [30, 0.35], [38, "
               "0.58]], which hold unless stated."},
              {"duty_at_f", "The same with ambient F: [[68, 0.22], [86, 0.35]]."},
              {"side", "As for a load."},
          }};
}

PlanTable furnace() {
  return {"furnace",
          "[furnace]",
          "A furnace that burns fuel and whose blower uses power; it runs as the cold asks.",
          {
              {"blower_w", "Power of the blower, W. Needed."},
              {"output_w", "Heat that it gives, W. Needed, or output_btu_h."},
              {"output_btu_h", "The same in BTU/h."},
              {"heat_loss_w_per_k",
               "Heat that the cabin loses for each degree C that it is warmer inside: about 30 to "
               "60 a small insulated van, 80 to 200 a trailer, 200 to 400 canvas. Needed, or "
               "heat_loss_btu_h_per_f."},
              {"heat_loss_btu_h_per_f",
               "The same in BTU/h for each degree F: about 60 to 110 a small insulated van, 150 to "
               "380 a trailer, 380 to 760 canvas."},
              {"hold_c", "Tables [[furnace.hold_c]]: how warm, and when. Needed, or hold_f."},
              {"hold_f", "The same in F: tables [[furnace.hold_f]] with `f`."},
              {"gains_w", "Heat from people and devices, W; 0 unless stated."},
              {"gains_btu_h", "The same in BTU/h."},
              {"other_heat_c", "What another heater without power keeps it at, C."},
              {"other_heat_f", "The same in F."},
          }};
}

PlanTable hold() {
  return {"furnace.hold_c",
          "[[furnace.hold_c]]",
          "A time of day and how warm it is held then; off at other times.",
          {
              {"from", "Time of day: \"22:00\". Needed."},
              {"to", "Time of day. Needed."},
              {"c", "How warm, C. Needed, or f."},
              {"f", "The same in F."},
          }};
}

PlanTable generator() {
  return {
      "generator",
      "[generator]",
      "A generator with its charger. Leave it out if you own none.",
      {
          {"rated_w",
           "Watts on its label. Needed. Heights above 305 m (1000 ft) and heat above 29.4 C (85 F) "
           "at the allowed hours take off what makers say."},
          {"charger_w", "What its charger puts into the battery, W. Needed."},
          {"allowed",
           "Hours outside the camp's quiet hours: [[\"08:00\", \"10:00\"], [\"17:00\", "
           "\"20:00\"]]. Needed."},
          {"rule",
           "\"night\", as late as lasts, unless stated; \"below\" with start_below and "
           "stop_at; \"levels\" with [[generator.level]]."},
          {"start_below", "Rule below: it starts under this state of charge; 0.3."},
          {"stop_at", "Rule below: and runs up to that one; 0.8."},
          {"level", "Tables [[generator.level]], which `dullspell generator --levels` writes."},
          {"margin", "Share of the battery that rule night keeps for what the plan forgot; 0.05."},
          {"min_run_h", "It runs for so long at least, hours; 1."},
          {"charger_efficiency", "0.88 unless stated."},
          {"fuel",
           "\"gasoline\" unless stated, \"diesel\" or \"propane\": what the usual use of fuel is "
           "that of. Propane goes by weight."},
          {"rated_on",
           "With fuel = \"propane\", the fuel that rated_w is stated for: \"gasoline\" unless it "
           "says \"propane\". On propane a set rated on gasoline gives a tenth less."},
          {"fuel_l_per_h_idle",
           "Liters an hour without load; 0.11 for each kW of rated_w unless stated, of diesel "
           "0.084."},
          {"fuel_gal_per_h_idle", "The same in gallons."},
          {"fuel_l_per_kwh", "Liters more for each kWh; 0.35, of diesel 0.246."},
          {"fuel_gal_per_kwh", "The same in gallons."},
          {"tank_l", "Liters in its tank."},
          {"tank_gal", "The same in gallons."},
          {"fuel_kg_per_h_idle",
           "Of propane, kilograms an hour without load; 0.077 for each kW of rated_w unless "
           "stated."},
          {"fuel_lb_per_h_idle", "The same in pounds."},
          {"fuel_kg_per_kwh", "Of propane, kilograms more for each kWh; 0.245."},
          {"fuel_lb_per_kwh", "The same in pounds."},
          {"tank_kg", "Kilograms of propane in a full cylinder, or in all that are connected."},
          {"tank_lb", "The same in pounds: 20 for the usual cylinder."},
      }};
}

PlanTable level() {
  return {"generator.level",
          "[[generator.level]]",
          "Rule levels: one hour of the stay.",
          {
              {"at", "Local date and whole hour. Needed."},
              {"start_below", "It starts under this state of charge, a share. Needed."},
              {"stop_at", "It runs up to that one. Needed."},
          }};
}

PlanTable vehicle() {
  return {"vehicle",
          "[vehicle]",
          "What charges on the drives of camp.drive_in_h.",
          {{"charge_w", "What reaches the battery, W. Needed."}}};
}

PlanTable hookup() {
  return {
      "hookup",
      "[hookup]",
      "Shore power, at camps with hookup = true.",
      {{"charger_w", "What the charger puts into the battery, W; the generator's unless stated."}}};
}

PlanTable reading() {
  return {
      "reading",
      "[[reading]]",
      "What the battery's display showed, one table each: it corrects the plan's figures, see "
      "`dullspell audit`. One of charge_from with charge_to, panels_w, draw_w, from_panels_wh, "
      "used_wh, delivered_wh.",
      {
          {"from", "Local date and time at which a span begins: 2027-05-22T21:30:00."},
          {"to", "And at which it ends, a week later at most."},
          {"at", "Local date and time of panels_w or draw_w."},
          {"charge_from", "Charge shown at `from`, a share: 0.92."},
          {"charge_to",
           "Charge shown at `to`, a share. Nothing else may have charged the battery."},
          {"panels_w", "Watts from the panels, battery not full."},
          {"draw_w", "Watts drawn."},
          {"from_panels_wh", "Energy from the panels between the times, Wh, battery never full."},
          {"used_wh", "Energy used between the times, Wh."},
          {"delivered_wh", "Energy of one full discharge, Wh; with at_w."},
          {"at_w", "The draw of that discharge, W."},
          {"counts",
           "What the display counts: \"loads\", what they take, unless stated; or \"battery\", "
           "what leaves it, the inverter's losses with it."},
          {"camp",
           "The number of the camp that it was read at, 1 unless stated; \"open\" where the panels "
           "stood away from all shade."},
          {"sky",
           "Of the days with panels: \"clear\", \"mixed\", \"overcast\" or \"rain\"; or `k`; "
           "nothing if you do not know."},
          {"k", "Clearness index of the day instead."},
          {"k_spread", "How far off `k` may be, one standard deviation; 0.10 unless stated."},
          {"on",
           "Names of the loads that ran all the time; no others did but those that never stop. "
           "\"fridge\" and \"furnace\" count as names."},
          {"off", "Or names of those that were not used at all; \"inverter\" is one as well."},
      }};
}

PlanTable guesses() {
  return {"guesses",
          "[guesses]",
          "How far off the plan's figures may be, for --doubt: one standard deviation, so that 0.2 "
          "says right within a fifth two times in three. 0 is measured.",
          {
              {"standby", "Loads that run day and night, a share; 0.30 unless stated."},
              {"loads", "Other loads, a share; 0.20."},
              {"fridge", "A share; 0.25."},
              {"furnace", "Heat loss of the cabin, a share; 0.25."},
              {"harvest", "What the panels bring, a share; 0.10."},
              {"canopy", "Added to canopy or taken off; 0.10."},
              {"health", "Added to the battery's health or taken off; 0.05."},
          }};
}

PlanTable option() {
  return {"option",
          "[[option]]",
          "A kit to choose from, for `dullspell size`; other commands pass over it.",
          {
              {"name", "What the reports call it. Needed."},
              {"battery_wh", "Its battery, Wh on the label; the plan's unless stated."},
              {"capacity_ah", "The same in Ah, with battery.nominal_v."},
              {"panels_w", "Rated watts of all its panels; the plan's unless stated."},
              {"weight_kg", "If it matters."},
              {"weight_lb", "The same in lb."},
              {"price", "In `currency`."},
          }};
}

}  // namespace

std::string_view plan_value_forms() {
  return "Units stand in the keys' names; where a key has a twin in US units, give one of the two. "
         "A share may be a percent, \"41 %\"; hours of use 2.5, \"2:30\", \"2 h 30 min\" or "
         "\"45 min\"; a time of day \"15:30\", \"3:30 pm\" or \"3 pm\"; a date and time "
         "2027-05-21T15:00:00 or \"2027-05-21 3 pm\".";
}

std::span<const PlanTable> plan_reference() {
  static const std::vector<PlanTable> tables{
      stay(),      forecast(), camp(),       camp_place(), skyline(), battery(), inverter(),
      converter(), panels(),   controller(), load(),       fridge(),  furnace(), hold(),
      generator(), level(),    vehicle(),    hookup(),     guesses(), reading(), option()};
  return tables;
}

}  // namespace dullspell
