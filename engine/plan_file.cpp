#include "engine/plan_file.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <tuple>

#include <fmt/format.h>

#include "engine/plan_rules.hpp"
#include "weather/input/nearest_word.hpp"
#include "weather/input/toml_section.hpp"
#include "weather/known_days.hpp"
#include "weather/place_file.hpp"

namespace dullspell {
namespace {

constexpr Range kShare{0.0, 1.0};
constexpr Range kWatts{0.0, 20000.0, "W"};
constexpr Range kCapacity{50.0, 200000.0, "Wh"};
constexpr Range kCapacity_ah{2.0, 10000.0, "Ah"};
constexpr Range kNominal{3.0, 1000.0, "V"};
constexpr double kFar_km = 100.0;
constexpr double kTooFar_km = 250.0;

Place place_by_name(const TomlSection& camp, const std::string& name,
                    const PlaceCatalogue& places) {
  if (names_place_file(name)) {
    const std::string& plan_file = camp.document().source().name;
    const auto beside = std::filesystem::path(plan_file).parent_path() / name;
    return read_place_file(std::filesystem::path(name).is_absolute() ? name : beside.string());
  }
  if (auto place = places.place(name)) return *place;
  const auto near = places.nearest_id(name);
  camp.fail(
      "place", fmt::format("is \"{}\", which is not a built-in place", name),
      "an id that `dullspell places` lists, a place file, or { latitude = .., longitude = .. }",
      near ? fmt::format("Did you mean \"{}\"?", *near)
           : "`dullspell places --near LAT,LON` finds the nearest ones.");
}

void use_nearest_place(TomlSection& spot, const PlaceCatalogue& places, Camp& camp) {
  camp.where.latitude_deg = spot.required_number("latitude", {-90.0, 90.0, "degrees, north +"});
  camp.where.longitude_deg = spot.required_number("longitude", {-180.0, 180.0, "degrees, east +"});
  spot.finish();
  const auto near = places.by_distance(camp.where);
  if (near.empty()) spot.fail_here("there are no built-in places to look among");
  camp.place = *places.place(near.front().place->id);
  camp.distance_km = near.front().distance_km;
}

void read_camp_place(TomlSection& section, const PlaceCatalogue& places, Camp& camp) {
  if (section.is_text("place")) {
    camp.place = place_by_name(section, section.required_text("place"), places);
    camp.where = camp.place.where;
    return;
  }
  auto spot = section.section("place");
  if (!spot) {
    section.fail("place", "is missing", "an id, a place file, or { latitude = .., longitude = .. }",
                 "`dullspell places` lists what is built in.");
  }
  const bool typed = spot->has("k_mean") || spot->has("ghi_kwh_m2") || spot->has("k_quantiles") ||
                     spot->has("utc_offset_h");
  if (typed) {
    camp.place = read_place(*spot);
    camp.where = camp.place.where;
  } else {
    use_nearest_place(*spot, places, camp);
  }
}

// Means of the camp itself need no moving to its elevation.
void read_camp_temperatures(TomlSection& section, Camp& camp) {
  const auto typed = section.numbers("temp_mean_c", 12, {-70.0, 50.0, "C"}, "January comes first.");
  if (!typed) return;
  if (camp.elevation_m) {
    section.fail("temp_mean_c", "is given besides elevation_m", "one of the two",
                 "elevation_m moves the place's temperatures to the camp; means of the camp itself "
                 "need no moving.");
  }
  camp.temp_mean_c.emplace();
  for (std::size_t m = 0; m < 12; ++m) {
    (*camp.temp_mean_c)[m] = (*typed)[m];
    camp.place.months[m].temp_mean_c = (*typed)[m];
  }
}

std::vector<SkylineSector> read_skyline(TomlSection& camp) {
  std::vector<SkylineSector> skyline;
  for (TomlSection& sector : camp.sections("skyline")) {
    SkylineSector out{};
    out.from_deg = sector.required_number("from_deg", {-360.0, 360.0, "degrees from north"});
    out.to_deg = sector.required_number("to_deg", {-360.0, 720.0, "degrees from north"});
    out.height_deg = sector.required_number("height_deg", {0.0, 90.0, "degrees above the horizon"});
    out.lets_through = sector.number_or("lets_through", 0.0, kShare);
    if (out.to_deg <= out.from_deg || out.to_deg - out.from_deg > 360.0) {
      sector.fail("to_deg", fmt::format("is {} with from_deg = {}", out.to_deg, out.from_deg),
                  "more than from_deg, by at most 360",
                  "Sectors run clockwise; over north write e.g. from_deg = 300, to_deg = 400.");
    }
    sector.finish();
    skyline.push_back(out);
  }
  return skyline;
}

Camp read_camp(TomlSection& section, const PlaceCatalogue& places, Plan& plan) {
  Camp camp;
  read_camp_place(section, places, camp);
  const auto nights = section.integer("nights", 1, 366);
  if (!nights) section.fail("nights", "is missing", "a whole number of nights, 1 to 366");
  camp.nights = *nights;
  camp.canopy =
      section.number_or("canopy", 0.0, {0.0, 0.95},
                        "The share of the sky overhead that crowns cover, 0 in the open.");
  camp.skyline = read_skyline(section);
  camp.drive_in_h = section.number_or("drive_in_h", 0.0, {0.0, 12.0, "h"});
  camp.hookup = section.flag("hookup").value_or(false);
  camp.elevation_m = section.number("elevation_m", {-450.0, 6000.0, "m"});
  if (const auto offset_h = section.number("utc_offset_h", {-12.0, 14.0, "hours"},
                                           "Standard time; summer_time adds its hour.")) {
    camp.place.utc_offset_h = *offset_h;
  }
  read_camp_temperatures(section, camp);
  const bool far_is_fine = section.flag("place_is_far").value_or(false);
  if (camp.distance_km > kTooFar_km && !far_is_fine) {
    section.fail(
        "place",
        fmt::format("is {} from the nearest built-in place, {}", km_and_miles(camp.distance_km),
                    camp.place.id),
        "up to " + km_and_miles(kTooFar_km),
        "Longitudes west and latitudes south are negative. Else type twelve monthly means for "
        "the camp (ghi_kwh_m2, utc_offset_h), or accept the far place with place_is_far = "
        "true.");
  }
  if (camp.distance_km > kFar_km) {
    plan.notes.push_back(plan_note::FarPlace{plan.camps.size()});
  }
  section.finish();
  return camp;
}

void read_battery(TomlSection& root, Plan& plan) {
  auto section = root.section("battery");
  if (!section) {
    root.fail("battery", "is missing", "a table [battery] with capacity_wh",
              "Write the energy on the battery's label, e.g. capacity_wh = 2048.");
  }
  Battery& battery = plan.battery;
  if (section->is_text("chemistry")) {
    const std::string name = section->required_text("chemistry");
    if (name == "agm" || name == "flooded" || name == "lead-acid" || name == "gel") {
      section->fail("chemistry", fmt::format("is \"{}\"", name), "\"lfp\", \"nmc\"",
                    "Lithium only in this version.");
    }
    const std::vector<std::string> known{"lfp", "nmc"};
    if (name != "lfp" && name != "nmc" && did_you_mean(name, known).empty()) {
      section->fail("chemistry", fmt::format("is \"{}\"", name), "\"lfp\", \"nmc\"",
                    "lfp is lithium iron phosphate (LiFePO4), nmc the lighter lithium-ion.");
    }
  }
  battery.chemistry = section->choice("chemistry", {"lfp", "nmc"}).value_or("lfp");
  const ChemistryPreset preset = *chemistry_preset(battery.chemistry);

  const auto wh = section->number("capacity_wh", kCapacity,
                                  "Write the energy on the label in Wh, e.g. capacity_wh = 2048.");
  const auto ah = section->number("capacity_ah", kCapacity_ah);
  const auto nominal_v = section->number("nominal_v", kNominal);
  battery.nominal_v = nominal_v;
  if (wh && ah) section->fail("capacity_ah", "is given besides capacity_wh", "one of the two");
  if (ah && !nominal_v) {
    section->fail("capacity_ah", "needs nominal_v", "",
                  "For a 12 V lithium battery: nominal_v = 12.8.");
  }
  if (!wh && !ah) {
    section->fail("capacity_wh", "is missing", "50 to 200000 (Wh), or capacity_ah with nominal_v",
                  "Write the energy on the battery's label, e.g. capacity_wh = 2048.");
  }
  battery.capacity_wh = wh ? *wh : *ah * *nominal_v;
  if (battery.capacity_wh < kCapacity.low || battery.capacity_wh > kCapacity.high) {
    section->fail("capacity_ah", fmt::format("makes {:.0f} Wh", battery.capacity_wh),
                  "50 to 200000 (Wh)");
  }
  battery.health = section->number_or("health", 1.0, {0.2, 1.0}, "1 is new, 0.8 an old battery.");
  battery.usable_share = section->number_or("usable_share", preset.usable_share, {0.05, 1.0});
  battery.start_charge =
      section->number_or("start_charge", 1.0, kShare,
                         "What the box's display shows on arrival, or now, as a share: 0.85.");
  // A file's start_charge is that of arrival where `now` comes from the command line.
  if (plan.now && root.set_on_command_line("now") && section->has("start_charge") &&
      !section->set_on_command_line("start_charge")) {
    section->fail("start_charge", "is that of arrival, and `now` is set", "0 to 1",
                  "Say what the battery's display shows at `now`, as a share: "
                  "--set battery.start_charge=0.55.");
  }
  if (plan.now && !section->has("start_charge")) {
    section->fail("start_charge", "is missing, and `now` is given", "0 to 1",
                  "Say what the battery's display shows at `now`, as a share: 0.55.");
  }
  battery.charge_efficiency =
      section->number_or("charge_efficiency", preset.charge_efficiency, {0.5, 1.0});
  battery.discharge_efficiency =
      section->number_or("discharge_efficiency", preset.discharge_efficiency, {0.5, 1.0});
  constexpr Range kRate{0.01, 10.0, "of the capacity per hour"};
  const double capacity = battery.capacity_wh * battery.health;
  const auto limit = [&](const char* watts_key, const char* rate_key, double preset_rate) {
    const auto watts = section->number(watts_key, {1.0, 100000.0, "W"});
    const double rate = section->number_or(rate_key, preset_rate, kRate);
    return std::pair(watts.value_or(rate * capacity), !watts.has_value());
  };
  std::tie(battery.charge_limit_w, battery.charge_limit_follows) =
      limit("charge_limit_w", "charge_limit_c", preset.charge_limit_c_rate);
  std::tie(battery.discharge_limit_w, battery.discharge_limit_follows) =
      limit("discharge_limit_w", "discharge_limit_c", preset.discharge_limit_c_rate);
  battery.taper_from = section->number_or("taper_from", preset.taper_from, {0.3, 1.0});
  battery.taper_to_c_rate = section->number_or("taper_to_c", preset.taper_to_c_rate, kRate);
  battery.charge_min_c = section->number_or(
      "charge_min_c", preset.charge_min_c, {-40.0, 10.0, "C"},
      "The coldest cell that may be charged; a self-heating battery may go lower.");
  battery.self_discharge_per_month =
      section->number_or("self_discharge_per_month", preset.self_discharge_per_month, {0.0, 0.3});
  battery.where = section->choice("where", {"inside", "outside"}).value_or("inside") == "outside"
                      ? BatteryWhere::outside
                      : BatteryWhere::inside;
  section->finish();
}

void read_inverter(TomlSection& root, Plan& plan) {
  if (auto section = root.section("inverter")) {
    const double rated_w = section->required_number("rated_w", {20.0, 30000.0, "W"});
    const double standby_w = section->number_or("standby_w", 12.0, {0.0, 500.0, "W"});
    const auto rows = section->number_rows("efficiency_at", 2, kShare,
                                           "Pairs of load share and efficiency, standby included: "
                                           "[[0.1, 0.91], [0.5, 0.93], [1.0, 0.90]].");
    Inverter inverter;
    inverter.rated_w = rated_w;
    inverter.standby_w = standby_w;
    inverter.linear = 0.02;  // common practice: 0.93 at half load with a standby of 0.7 %
    inverter.quadratic = 0.08;
    if (rows) {
      std::vector<EfficiencyPoint> points;
      for (const auto& row : *rows) {
        if (row[0] <= 0.0 || row[1] < 0.3) {
          section->fail("efficiency_at", fmt::format("has the point [{}, {}]", row[0], row[1]),
                        "a load share above 0 with an efficiency of 0.3 to 1");
        }
        points.push_back({row[0], row[1]});
      }
      if (points.empty()) section->fail("efficiency_at", "is empty", "one to several points");
      inverter = fit_inverter(rated_w, standby_w, points);
      for (const auto& point : points) {
        const double fitted = inverter.efficiency(point.load_share * rated_w);
        if (std::abs(fitted - point.efficiency) > 0.01) {
          plan.notes.push_back(
              plan_note::InverterMisfit{point.load_share, fitted, point.efficiency});
        }
      }
    }
    inverter.on = section->windows("on");
    if (inverter.on.empty()) inverter.on = {kWholeDay};
    section->finish();
    plan.inverter = inverter;
  }
  if (auto section = root.section("converter")) {
    plan.converter.efficiency = section->number_or("efficiency", 0.85, {0.3, 1.0});
    plan.converter.standby_w = section->number_or("standby_w", 0.0, kWatts);
    section->finish();
  }
}

Mount read_mount(TomlSection& panel) {
  if (panel.is_text("mount")) {
    if (const auto word = panel.text("mount"); *word != "flat") {
      panel.fail("mount", fmt::format("is \"{}\"", *word),
                 "\"flat\", { tilt_deg = .., azimuth_deg = .. } or { aimed_at = [..] }",
                 did_you_mean(*word, std::vector<std::string>{"flat"}, '"'));
    }
    return PlaneDirection{0.0, 180.0};
  }
  auto mount = panel.section("mount");
  if (!mount) return PlaneDirection{0.0, 180.0};
  if (const auto times = mount->clock_times("aimed_at")) {
    if (times->empty()) mount->fail("aimed_at", "is empty", "one or more times of day");
    AimedMount aimed{*times};
    std::sort(aimed.at_min.begin(), aimed.at_min.end());
    mount->finish();
    return aimed;
  }
  const PlaneDirection plane{
      mount->required_number("tilt_deg", {0.0, 90.0, "degrees from flat"}),
      mount->required_number("azimuth_deg", {0.0, 360.0, "degrees from north, south 180"})};
  mount->finish();
  return plane;
}

void read_panels(TomlSection& root, Plan& plan) {
  for (TomlSection& section : root.sections("controller")) {
    Controller controller;
    controller.name = section.required_text("name");
    controller.limit_w = section.required_number("limit_w", {1.0, 30000.0, "W"});
    for (const auto& other : plan.controllers) {
      if (other.name == controller.name) {
        section.fail("name", fmt::format("is \"{}\" a second time", controller.name),
                     "a name of its own for each controller");
      }
    }
    section.finish();
    plan.controllers.push_back(controller);
  }
  const std::size_t shared = plan.controllers.size();
  for (TomlSection& section : root.sections("panels")) {
    PanelGroup group;
    group.name = section.text("name").value_or(fmt::format("panels {}", plan.panels.size() + 1));
    group.rated_w = section.required_number("rated_w", {1.0, 50000.0, "W"},
                                            "The sum of the modules' rated watts.");
    group.mount = read_mount(section);
    group.losses = section.number_or("losses", 0.10, {0.0, 0.9},
                                     "Wiring, dirt, mismatch and controller together.");
    group.dull_light = section.choice("dull_light", {"usual", "poor"}).value_or("usual") == "poor"
                           ? DullLight::poor
                           : DullLight::usual;
    const auto own_limit = section.number("controller_limit_w", {1.0, 30000.0, "W"});
    const auto name = section.text("controller");
    if (name && own_limit) {
      section.fail("controller_limit_w", "is given besides controller", "one of the two");
    }
    if (name) {
      const auto begin = plan.controllers.begin();
      const auto end = begin + static_cast<std::ptrdiff_t>(shared);
      const auto it = std::find_if(begin, end, [&](const auto& c) { return c.name == *name; });
      if (it == end) {
        section.fail("controller",
                     fmt::format("is \"{}\", which no [[controller]] has as its name", *name),
                     "the name of a [[controller]]");
      }
      group.controller = static_cast<std::size_t>(it - begin);
    } else {
      group.controller = plan.controllers.size();
      plan.controllers.push_back({group.name, own_limit.value_or(kNoLimit_w)});
    }
    section.finish();
    plan.panels.push_back(group);
  }
}

LoadSide read_side(TomlSection& section, LoadSide otherwise) {
  const auto word = section.choice("side", {"dc", "ac", "dc-via-ac"});
  if (!word) return otherwise;
  return *word == "dc" ? LoadSide::dc : *word == "ac" ? LoadSide::ac : LoadSide::dc_via_ac;
}

// One window or a list of them.
std::vector<ClockWindow> one_or_more_windows(TomlSection& section, std::string_view key) {
  if (!section.has(key)) return {};
  return section.holds_lists(key) ? section.windows(key)
                                  : std::vector<ClockWindow>{*section.window(key)};
}

Load read_load(TomlSection& section, const Plan& plan, std::optional<double> nominal_v) {
  Load load;
  load.name = section.required_text("name");
  for (const auto& other : plan.loads) {
    if (other.name == load.name) {
      section.fail("name", fmt::format("is \"{}\" a second time", load.name),
                   "a name of its own for each load");
    }
  }
  load.side = read_side(section, LoadSide::dc);
  const auto watts = section.number("watts", kWatts);
  const auto amps = section.number("amps", {0.0, 1000.0, "A"});
  if (watts && amps) section.fail("amps", "is given besides watts", "one of the two");
  if (!watts && !amps) {
    section.fail("watts", "is missing", "0 to 20000 (W)", "The power while it runs.");
  }
  if (amps && load.side != LoadSide::dc) {
    section.fail("amps", "is given for a load that is not on the dc side", "watts");
  }
  if (amps && !nominal_v) {
    section.fail("amps", "needs the battery's nominal_v", "watts, or amps with battery.nominal_v");
  }
  load.watts = watts ? *watts : *amps * *nominal_v;

  auto windows = one_or_more_windows(section, "between");
  if (windows.empty()) windows = {kWholeDay};
  load.between = windows_without(windows, one_or_more_windows(section, "away"));
  double window_h = 0.0;
  for (const auto& w : load.between) window_h += w.length_min() / 60.0;
  if (window_h <= 0.0) {
    section.fail("away", "leaves no time at all", "shorter than `between`");
  }
  const auto hours = section.number("hours_per_day", {0.0, 24.0, "h"});
  if (hours && *hours > window_h + 1e-9) {
    section.fail("hours_per_day", fmt::format("is {}", *hours),
                 fmt::format("up to the {:.2f} h of its windows", window_h),
                 "Widen `between`, or lower the hours.");
  }
  load.hours_stated = hours.has_value();
  load.hours_per_day = hours.value_or(window_h);
  load.varies = section.number_or("varies", 0.0, {0.0, 2.0},
                                  "Standard deviation over mean of the daily use, e.g. 0.3.");
  load.dull_day_factor = section.number_or("dull_day_factor", 1.0, {0.0, 10.0});
  for (const char* key : {"varies", "dull_day_factor"}) {
    if (section.has(key) && !hours) {
      section.fail(key, "needs hours_per_day", "",
                   "It changes the hours of use: say how many are usual, within `between`.");
    }
  }
  load.optional_below = section.number("optional_below", kShare);
  section.finish();
  return load;
}

void read_loads(TomlSection& root, Plan& plan) {
  std::optional<double> nominal_v;
  if (auto battery = root.section("battery")) {
    nominal_v = battery->number("nominal_v", kNominal);
  }
  for (TomlSection& section : root.sections("load")) {
    plan.loads.push_back(read_load(section, plan, nominal_v));
  }
}

void read_furnace(TomlSection& root, Plan& plan) {
  auto section = root.section("furnace");
  if (!section) return;
  Furnace furnace;
  furnace.blower_w = section->required_number("blower_w", {0.0, 1000.0, "W"});
  furnace.output_w = section->required_number("output_w", {100.0, 50000.0, "W of heat"});
  furnace.heat_loss_w_per_k = section->required_number(
      "heat_loss_w_per_k", {1.0, 2000.0, "W/K"},
      "About 30 to 60 for a small insulated van, 80 to 200 for a trailer, 200 to 400 for canvas.");
  furnace.gains_w = section->number_or("gains_w", 0.0, {0.0, 3000.0, "W"});
  furnace.other_heat_c = section->number("other_heat_c", {-20.0, 35.0, "C"});
  auto windows = section->sections("hold_c");
  if (windows.empty()) {
    section->fail("hold_c", "is missing",
                  "windows such as [{ from = \"22:00\", to = \"07:00\", c = 14 }]");
  }
  std::array<int, 1440> taken{};
  for (TomlSection& hold : windows) {
    const auto from = hold.clock_time("from");
    const auto to = hold.clock_time("to");
    if (!from || !to) hold.fail_here("needs both from and to", "two times of day");
    HoldWindow out{{*from, *to == 0 ? 1440 : *to}, 0.0};
    if (out.window.from_min == out.window.to_min || out.window.from_min == 1440) {
      hold.fail("to", "makes a window of no length", "two times that differ");
    }
    out.set_point_c = hold.required_number("c", {-20.0, 35.0, "C"});
    for (int i = 0; i < out.window.length_min(); ++i) {
      if (taken[static_cast<std::size_t>((out.window.from_min + i) % 1440)]++ > 0) {
        hold.fail("from", "begins a window that overlaps another", "windows side by side");
      }
    }
    hold.finish();
    furnace.hold.push_back(out);
  }
  section->finish();
  plan.furnace = furnace;
}

void read_fridge(TomlSection& root, Plan& plan) {
  auto section = root.section("fridge");
  if (!section) return;
  Fridge fridge;
  fridge.running_w = section->required_number("running_w", {1.0, 1000.0, "W"});
  const auto rows = section->number_rows("duty_at", 2, {-40.0, 70.0},
                                         "Pairs of ambient C and share of time running: "
                                         "[[20, 0.22], [30, 0.35], [38, 0.58]].");
  if (rows) {
    for (const auto& row : *rows) {
      if (row[1] < 0.0 || row[1] > 1.0) {
        section->fail("duty_at", fmt::format("has the duty {}", row[1]), "0 to 1");
      }
      if (!fridge.duty_at.empty() && row[0] <= fridge.duty_at.back().first) {
        section->fail("duty_at", "has temperatures that do not grow", "temperatures in order");
      }
      fridge.duty_at.emplace_back(row[0], row[1]);
    }
    if (fridge.duty_at.empty()) section->fail("duty_at", "is empty", "at least one pair");
  } else {
    fridge.duty_at = {{20.0, 0.22}, {30.0, 0.35}, {38.0, 0.58}};  // common practice
  }
  fridge.side = read_side(*section, LoadSide::dc);
  section->finish();
  plan.fridge = fridge;
}

void read_generator(TomlSection& root, Plan& plan) {
  if (auto section = root.section("generator")) {
    Generator g;
    g.rated_w = section->required_number("rated_w", {100.0, 20000.0, "W"});
    g.charger_w = section->required_number("charger_w", {10.0, 20000.0, "W"},
                                           "What the charger puts into the battery.");
    g.charger_efficiency = section->number_or("charger_efficiency", 0.88, {0.5, 1.0});
    g.rule = section->choice("rule", {"night", "below"}).value_or("night") == "below"
                 ? GeneratorRule::below
                 : GeneratorRule::night;
    g.start_below = section->number_or("start_below", 0.3, kShare);
    g.stop_at = section->number_or("stop_at", 0.8, kShare);
    if (g.rule == GeneratorRule::below && g.stop_at <= g.start_below) {
      section->fail("stop_at", fmt::format("is {}", g.stop_at),
                    fmt::format("more than start_below = {}", g.start_below));
    }
    g.night_margin = section->number_or("night_margin", 0.25, {0.0, 3.0});
    g.min_run_h = section->number_or("min_run_h", 1.0, {0.0, 12.0, "h"});
    g.allowed = section->windows("allowed");
    if (g.allowed.empty()) {
      section->fail("allowed", "is missing", "the hours in which it may run",
                    "Ask for the camp's quiet hours: allowed = [[\"08:00\", \"10:00\"], "
                    "[\"17:00\", \"20:00\"]].");
    }
    g.fuel_l_per_h_idle =
        section->number_or("fuel_l_per_h_idle", 0.11 * g.rated_w / 1000.0, {0.0, 10.0, "L/h"});
    g.fuel_l_per_kwh = section->number_or("fuel_l_per_kwh", 0.35, {0.0, 5.0, "L/kWh"});
    g.tank_l = section->number("tank_l", {0.1, 200.0, "L"});
    section->finish();
    plan.generator = g;
  }
  if (auto section = root.section("vehicle")) {
    plan.vehicle_charge_w = section->required_number("charge_w", kWatts);
    section->finish();
  }
  if (auto section = root.section("hookup")) {
    plan.hookup_charger_w = section->required_number("charger_w", {10.0, 20000.0, "W"});
    section->finish();
  } else if (plan.generator) {
    plan.hookup_charger_w = plan.generator->charger_w;
  }
}

void read_guesses(TomlSection& root, Plan& plan) {
  auto section = root.section("guesses");
  if (!section) return;
  const auto spread = [&](const char* key, double& value) {
    value = section->number_or(key, value, {0.0, 0.6},
                               "One standard deviation: 0.2 says that two times in three it is "
                               "right within a fifth. 0 is measured.");
  };
  spread("standby", plan.guesses.standby);
  spread("loads", plan.guesses.loads);
  spread("fridge", plan.guesses.fridge);
  spread("furnace", plan.guesses.furnace);
  spread("harvest", plan.guesses.harvest);
  spread("canopy", plan.guesses.canopy);
  spread("health", plan.guesses.health);
  section->finish();
}

KitOption read_option(TomlSection& section, const Plan& plan) {
  KitOption option;
  option.name = section.required_text("name");
  for (const KitOption& other : plan.options) {
    if (other.name == option.name) {
      section.fail("name", fmt::format("is \"{}\" a second time", option.name),
                   "a name of its own for each option");
    }
  }
  option.battery_wh = section.number("battery_wh", kCapacity);
  if (section.has("capacity_wh")) {
    section.fail("capacity_wh", "is not a key of an option", "", "Did you mean `battery_wh`?");
  }
  const auto ah = section.number("capacity_ah", kCapacity_ah);
  if (ah) {
    if (option.battery_wh) {
      section.fail("capacity_ah", "is given besides battery_wh", "one of the two");
    }
    if (!plan.battery.nominal_v) {
      section.fail("capacity_ah", "needs the battery's nominal_v",
                   "battery_wh, or capacity_ah with battery.nominal_v");
    }
    option.battery_wh = *ah * *plan.battery.nominal_v;
    if (*option.battery_wh < kCapacity.low || *option.battery_wh > kCapacity.high) {
      section.fail("capacity_ah", fmt::format("makes {:.0f} Wh", *option.battery_wh),
                   "50 to 200000 (Wh)");
    }
  }
  option.panels_w =
      section.number("panels_w", {1.0, 50000.0, "W"}, "The rated watts of all panels together.");
  if (option.panels_w && plan.panels.empty()) {
    section.fail("panels_w", "is given, but the plan has no panels", "at least one [[panels]]",
                 "An option has the plan's panels in another size: they say how they are mounted.");
  }
  option.weight_kg = section.number("weight_kg", {0.0, 100000.0, "kg"});
  option.price = section.number("price", {0.0, 1e9}, "A number; `currency` says of what.");
  section.finish();
  if (!option.battery_wh && !option.panels_w) {
    section.fail_here("changes nothing", "battery_wh (or capacity_ah), panels_w, or both");
  }
  return option;
}

int whole_hour(const TomlSection& root, std::string_view key, int minute) {
  if (minute % 60 != 0) {
    root.fail(key, fmt::format("is {}", clock_text(minute)), "a whole hour", "Round it.");
  }
  return minute / 60;
}

void read_dates(TomlSection& root, Plan& plan) {
  const auto arrive = root.local_time("arrive");
  if (!arrive) {
    root.fail("arrive", "is missing", "a local date and time such as 2027-05-21T15:00:00");
  }
  if (arrive->date < make_date(1950, 1, 1) || arrive->date >= make_date(2050, 1, 1)) {
    root.fail("arrive", fmt::format("is in {}", iso_date(arrive->date)), "1950 to 2049",
              "The sun's formulas hold for those years.");
  }
  plan.arrive = arrive->date;
  plan.arrive_hour = whole_hour(root, "arrive", arrive->minute_of_day);
  if (const auto leave = root.clock_time(
          "leave", "The hour of departure; the date follows from the nights of the camps.")) {
    plan.leave_hour = whole_hour(root, "leave", *leave);
  }
  plan.accept_risk = root.number_or("accept_risk", 0.10, {0.0, 1.0},
                                    "The risk of running flat that you can live with, e.g. 0.1.");
  plan.summer_time = root.flag("summer_time").value_or(false);
}

std::string hour_text(const Plan& plan, PlanHour at) {
  return fmt::format("{}T{:02}:00:00", iso_date(plan.arrive + std::chrono::days{at.day}),
                     at.hour_of_day);
}

void read_now(TomlSection& root, Plan& plan) {
  const auto now = root.local_time("now");
  if (!now) return;
  const PlanHour at{static_cast<int>((now->date - plan.arrive).count()),
                    whole_hour(root, "now", now->minute_of_day)};
  const PlanHour arrival{0, plan.arrive_hour}, departure{plan.nights(), plan.leave_hour};
  const auto hours = [](PlanHour h) { return 24 * h.day + h.hour_of_day; };
  if (hours(at) < hours(arrival) || hours(at) >= hours(departure)) {
    root.fail("now", fmt::format("is {}", hour_text(plan, at)),
              fmt::format("from {} to before {}, the plan's stay", hour_text(plan, arrival),
                          hour_text(plan, departure)),
              "Leave it out before the stay begins; a stay that goes on longer needs more nights.");
  }
  plan.now = at;
}

const std::vector<std::string> kSkyWords{to_string(SkyWord::clear), to_string(SkyWord::mixed),
                                         to_string(SkyWord::overcast)};
constexpr Range kClearness{0.0, 0.85, "daily clearness index"};
constexpr std::string_view kClearnessFix =
    "What reaches level ground over what would without air, not hours of sun: 0.7 a clear day, "
    "0.2 a dull one.";

// Days since arrival of a forecast's date.
int read_forecast_day(TomlSection& section, const Plan& plan) {
  const int nights = plan.nights();
  const auto date = section.date("date");
  const auto number = section.integer(
      "day", 1, nights + 1, "Day 1 is the date of arrival; the last is that of departure.");
  if (date && number) section.fail("day", "is given besides date", "one of the two");
  if (!date && !number) {
    section.fail("date", "is missing", "a date of the stay, or day = 1 for that of arrival");
  }
  const char* key = date ? "date" : "day";
  const int day = date ? static_cast<int>((*date - plan.arrive).count()) : *number - 1;
  const auto date_of = [&](int d) { return iso_date(plan.arrive + std::chrono::days{d}); };
  const std::string is = date ? fmt::format("is {}", date_of(day))
                              : fmt::format("is {}, which is {}", day + 1, date_of(day));
  const int first = plan.start().day;
  const int last = std::min(nights, first + static_cast<int>(KnownDays::kMostDays) - 1);
  if (day >= first && day <= last) {
    for (const ForecastDay& other : plan.forecast) {
      if (other.day == day) {
        section.fail(key, is + " a second time", "one [[forecast]] for each date");
      }
    }
    return day;
  }
  const char* fix = day < 0 || day > nights ? "Forecasts are for dates of the stay."
                    : day < first
                        ? "That date is past: take it out; `yesterday` tells of the day before now."
                        : "Leave days further ahead to the place's statistics.";
  section.fail(key, is,
               fmt::format("{} to {}, {}", date_of(first), date_of(last),
                           last < nights ? fmt::format("the first {} days", KnownDays::kMostDays)
                                         : "the dates of the stay"),
               fix);
}

KnownSky read_forecast_sky(TomlSection& section) {
  const auto word = section.choice("sky", kSkyWords);
  const auto k = section.number("k", kClearness, kClearnessFix);
  const auto spread = section.number("k_spread", {0.0, 0.5},
                                     "The standard deviation of the forecast's error in k.");
  if (word && k) section.fail("k", "is given besides sky", "one of the two");
  if (!word && !k) {
    section.fail("sky", "is missing", "\"clear\", \"mixed\", \"overcast\", or a number k");
  }
  if (word && spread) {
    section.fail("k_spread", "is given without k", "",
                 "A word has a spread of its own; with a number k you may state one.");
  }
  if (word) return *sky_word(*word);
  return StatedClearness{*k, spread.value_or(kUsualSpread)};
}

void read_known_days(TomlSection& root, Plan& plan) {
  for (TomlSection& section : root.sections("forecast")) {
    const int day = read_forecast_day(section, plan);
    plan.forecast.push_back({day, read_forecast_sky(section)});
    section.finish();
  }
  std::sort(plan.forecast.begin(), plan.forecast.end(),
            [](const auto& a, const auto& b) { return a.day < b.day; });
  if (root.is_text("yesterday")) {
    plan.yesterday = *sky_word(*root.choice("yesterday", kSkyWords));
  } else if (const auto k = root.number(
                 "yesterday", kClearness,
                 "\"clear\", \"mixed\" or \"overcast\", or a clearness index such as 0.55.")) {
    plan.yesterday = StatedClearness{*k, kUsualSpread};
  }
}

}  // namespace

std::string to_string(LoadSide side) {
  switch (side) {
    case LoadSide::dc:
      return "dc";
    case LoadSide::ac:
      return "ac";
    case LoadSide::dc_via_ac:
      return "dc-via-ac";
  }
  return {};
}

Plan parse_plan(SourceText source, const PlaceCatalogue& places,
                const std::vector<std::string>& settings) {
  const auto document = std::make_shared<const TomlDocument>(std::move(source), settings);
  TomlSection root = TomlSection::root_of(document);
  Plan plan;
  plan.file = document->source().name;
  plan.settings = settings;
  plan.title = root.text("title").value_or("");
  read_dates(root, plan);

  auto camps = root.sections("camp");
  if (camps.empty()) {
    root.fail("camp", "is missing", "at least one table [[camp]] with place and nights");
  }
  for (TomlSection& section : camps) plan.camps.push_back(read_camp(section, places, plan));
  read_now(root, plan);
  read_known_days(root, plan);
  plan.clock_offset_h = plan.camps.front().place.utc_offset_h + (plan.summer_time ? 1.0 : 0.0);

  read_battery(root, plan);
  read_inverter(root, plan);
  read_panels(root, plan);
  read_loads(root, plan);
  read_furnace(root, plan);
  read_fridge(root, plan);
  read_generator(root, plan);
  read_guesses(root, plan);
  plan.currency = root.text("currency").value_or("");
  for (TomlSection& section : root.sections("option")) {
    plan.options.push_back(read_option(section, plan));
  }
  root.finish();
  check_plan(plan, root);
  return plan;
}

Plan read_plan(const std::string& path, const PlaceCatalogue& places,
               const std::vector<std::string>& settings) {
  return parse_plan(read_source(path, "plan", kLargestPlan_bytes), places, settings);
}

}  // namespace dullspell
