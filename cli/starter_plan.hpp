#pragma once

#include <string_view>

namespace dullspell {

/// The commented plan that `dullspell new` writes. An invented camp.
inline constexpr std::string_view kStarterPlan =
    R"(# A plan for dullspell. Lines that begin with # are comments; change what differs at your camp.
# US units have keys of their own (elevation_ft, tank_gal), shares may be "30 %", times "3 pm".
title       = "My stay"
arrive      = 2027-05-21T15:00:00   # clock time at the first camp, whole hours
leave       = "11:00"               # on the last day, and on days of changing camp
accept_risk = 0.10                  # the risk of running flat that you can live with
# accept_flat_h = 2                 # a stay fails only if it is flat for longer in all
# summer_time = false               # unless stated, as clocks at the first camp have it on arrival
# now       = 2027-05-24T09:00:00   # a stay under way: from then on, with start_charge then
# yesterday = "overcast"            # the sky of the day before; "clear", "mixed", "rain"

# What is forecast, one table a date; further than 3 or 4 days ahead leave it to the place.
# [[forecast]]
# date = 2027-05-21
# sky  = "mixed"                    # or "clear", "overcast", "rain"; or k = 0.5 with k_spread = 0.1

# One table a camp, in order. `dullspell places --near LAT,LON` finds built-in places.
[[camp]]
place  = "crescent-city-ca"         # or { latitude = 41.8, longitude = -124.1 }
nights = 4
canopy = 0.3                        # share of the sky overhead that crowns cover; 0 in the open
# skyline = [ { from_deg = 60, to_deg = 300, height_deg = 25, lets_through = 0.1 } ]

[battery]
chemistry    = "lfp"                # or "nmc"
capacity_ah  = 150                  # on the label; or capacity_wh, the energy
nominal_v    = 12.8
health       = 0.95                 # 1 when new
start_charge = 1.0                  # on arrival
where        = "inside"             # "outside" follows the air's temperature

[inverter]                          # leave out if everything runs on direct current
rated_w       = 2000
standby_w     = 14                  # what it takes with nothing plugged in
efficiency_at = [ [0.1, 0.91], [0.5, 0.93], [1.0, 0.90] ]   # share of load, standby included
# on = [ ["07:00", "23:00"] ]       # switched off otherwise

[[panels]]
name    = "folding pair"
rated_w = 400
mount   = { tilt_deg = 35, azimuth_deg = 180 }   # or "flat", or { aimed_at = ["10:00", "14:00"] }
losses  = 0.10                      # wiring, dirt, mismatch, controller
controller_limit_w = 500

# Standby loads first: small, but day and night.
[[load]]
name  = "standby: alarms, boards, radio memory"
side  = "dc"                        # "ac" behind the inverter, "dc-via-ac" a trailer plugged into it
watts = 9

[[load]]
name  = "lights and fan"
watts = 18
between = ["18:00", "23:00"]

[[load]]
name  = "laptop"
side  = "ac"
watts = 55
hours_per_day   = 4
between         = ["09:00", "23:00"]
varies          = 0.3               # from day to day: standard deviation over mean
dull_day_factor = 1.5               # used more when the weather keeps people in
optional_below  = 0.2               # given up below this state of charge

[fridge]                            # a compressor fridge
running_w = 50
duty_at   = [ [20, 0.22], [30, 0.35], [38, 0.58] ]   # share of time running by ambient C

# [furnace]
# blower_w          = 95
# output_w          = 5000          # heat; or output_btu_h = 17000
# heat_loss_w_per_k = 120           # 30 to 60 a small van, 80 to 200 a trailer, 200 to 400 canvas
# hold_c = [ { from = "22:00", to = "07:00", c = 14 } ]   # or hold_f with f = 57

[generator]                         # leave out if you own none
rated_w   = 1800
charger_w = 800                     # what its charger puts into the battery
rule      = "night"                 # as late as lasts; or "below" with start_below and stop_at
allowed   = [ ["08:00", "10:00"], ["17:00", "20:00"] ]   # outside the camp's quiet hours
fuel_l_per_h_idle = 0.20
fuel_l_per_kwh    = 0.35
tank_l    = 3.8

# [guesses]                         # how far off these may be, for `dullspell run --doubt`
# standby = 0.3                     # 0.3: two times in three within 30 %; 0: measured
# canopy  = 0.1

# [[option]]                        # a kit to choose from, for `dullspell size`
# name       = "two boxes"
# battery_wh = 4096                 # panels_w too, if they differ
# weight_kg  = 44
# price      = 2400
)";

}  // namespace dullspell
