#include "reports/plan_data.hpp"

#include <cmath>

#include <fmt/format.h>

#include "engine/guesses/reading_reader.hpp"
#include "reports/data_parts.hpp"

namespace dullspell {
namespace {

Data windows(const std::vector<ClockWindow>& list) {
  Data out = Data::list();
  for (const auto& w : list) out.push_back({clock_text(w.from_min), clock_text(w.to_min)});
  return out;
}

Data place_data(const Camp& camp) {
  const Place& p = camp.place;
  return {{"id", or_null(p.id)},
          {"name", p.name},
          {"latitude", p.where.latitude_deg},
          {"longitude", p.where.longitude_deg},
          {"elevation_m", or_null(p.elevation_m)},
          {"utc_offset_h", p.utc_offset_h},
          {"record", to_string(p.record)},
          {"record_years", p.record_years > 0.0 ? Data(p.record_years) : Data()},
          {"source", p.source},
          {"licence", or_null(p.licence)},
          {"defaults", p.defaults},
          {"notes", p.notes}};
}

Data camp_data(const Camp& camp) {
  Data skyline = Data::list();
  for (const auto& s : camp.skyline) {
    skyline.push_back({{"from_deg", s.from_deg},
                       {"to_deg", s.to_deg},
                       {"height_deg", s.height_deg},
                       {"lets_through", s.lets_through}});
  }
  return {{"place", camp.place.id.empty() ? camp.place.name : camp.place.id},
          {"latitude", camp.where.latitude_deg},
          {"longitude", camp.where.longitude_deg},
          {"elevation_m", or_null(camp.elevation_m)},
          {"temp_mean_c", or_null(camp.temp_mean_c)},
          {"nights", camp.nights},
          {"canopy", camp.canopy},
          {"skyline", skyline},
          {"drive_in_h", camp.drive_in_h},
          {"hookup", camp.hookup}};
}

Data mount_data(const Mount& mount) {
  if (const auto* plane = std::get_if<PlaneDirection>(&mount)) {
    return {{"tilt_deg", plane->tilt_deg}, {"azimuth_deg", plane->azimuth_deg}};
  }
  Data times = Data::list();
  for (const int t : std::get<AimedMount>(mount).at_min) times.push_back(clock_text(t));
  return {{"aimed_at", times}};
}

Data load_data(const Load& load) {
  Data out{{"name", load.name},
           {"side", to_string(load.side)},
           {"watts", load.watts},
           {"hours_per_day", load.hours_per_day},
           {"between", windows(load.between)},
           {"varies", load.varies},
           {"dull_day_factor", load.dull_day_factor},
           {"optional_below", or_null(load.optional_below)}};
  if (load.only) out["only"] = to_string(*load.only);
  return out;
}

Data battery_data(const Battery& b) {
  return {{"chemistry", b.chemistry},
          {"capacity_wh", b.capacity_wh},
          {"nominal_v", or_null(b.nominal_v)},
          {"health", b.health},
          {"usable_share", b.usable_share},
          {"start_charge", b.start_charge},
          {"charge_efficiency", b.charge_efficiency},
          {"discharge_efficiency", b.discharge_efficiency},
          {"charge_limit_w", limit(b.charge_limit_w)},
          {"discharge_limit_w", limit(b.discharge_limit_w)},
          {"taper_from", b.taper_from},
          {"taper_to_c", b.taper_to_c_rate},
          {"charge_min_c", b.charge_min_c},
          {"self_discharge_per_month", b.self_discharge_per_month},
          {"where", b.where == BatteryWhere::inside ? "inside" : "outside"}};
}

Data furnace_data(const Furnace& f) {
  Data hold = Data::list();
  for (const auto& h : f.hold) {
    hold.push_back({{"from", clock_text(h.window.from_min)},
                    {"to", clock_text(h.window.to_min)},
                    {"c", h.set_point_c}});
  }
  return {{"blower_w", f.blower_w},
          {"output_w", f.output_w},
          {"heat_loss_w_per_k", f.heat_loss_w_per_k},
          {"gains_w", f.gains_w},
          {"hold_c", hold},
          {"other_heat_c", or_null(f.other_heat_c)}};
}

Data levels_data(const std::vector<GeneratorLevel>& levels) {
  Data out = Data::list();
  for (const GeneratorLevel& level : levels) {
    out.push_back({{"at", iso_time({level.date, 60 * level.hour_of_day})},
                   {"start_below", level.start_below},
                   {"stop_at", level.stop_at}});
  }
  return out;
}

// Without the last bits that were lost between kilograms and liters.
double as_stated(double kg) {
  return std::round(kg * 1e9) / 1e9;
}

Data generator_plan_data(const Generator& g) {
  Data out{{"rated_w", g.rated_w},
           {"charger_w", g.charger_w},
           {"charger_efficiency", g.charger_efficiency},
           {"rule", g.rule == GeneratorRule::night   ? "night"
                    : g.rule == GeneratorRule::below ? "below"
                                                     : "levels"},
           {"levels", levels_data(g.levels)},
           {"margin", g.margin},
           {"start_below", g.start_below},
           {"stop_at", g.stop_at},
           {"min_run_h", g.min_run_h},
           {"allowed", windows(g.allowed)},
           {"fuel_l_per_h_idle", g.fuel_l_per_h_idle},
           {"fuel_l_per_kwh", g.fuel_l_per_kwh},
           {"tank_l", or_null(g.tank_l)},
           {"fuel", to_string(g.fuel)}};
  if (g.fuel == Fuel::propane) {
    out["fuel_kg_per_h_idle"] = as_stated(propane_kg(g.fuel_l_per_h_idle));
    out["fuel_kg_per_kwh"] = as_stated(propane_kg(g.fuel_l_per_kwh));
    out["rated_on"] = to_string(g.rated_on);
    out["tank_kg"] = g.tank_l ? Data(as_stated(propane_kg(*g.tank_l))) : Data();
  }
  return out;
}

Data guesses_data(const GuessSpreads& guesses) {
  return {{"standby", guesses.standby}, {"loads", guesses.loads},     {"fridge", guesses.fridge},
          {"furnace", guesses.furnace}, {"harvest", guesses.harvest}, {"canopy", guesses.canopy},
          {"health", guesses.health}};
}

Data option_data(const KitOption& option) {
  return {{"name", option.name},
          {"battery_wh", or_null(option.battery_wh)},
          {"panels_w", or_null(option.panels_w)},
          {"weight_kg", or_null(option.weight_kg)},
          {"price", or_null(option.price)}};
}

void add_sky(Data& data, const KnownSky& sky) {
  if (const auto* word = std::get_if<SkyWord>(&sky)) {
    data["sky"] = to_string(*word);
    return;
  }
  const auto& stated = std::get<StatedClearness>(sky);
  data["k"] = stated.k;
  data["k_spread"] = stated.k_spread;
}

// By the keys of the plan, those alone that go with it.
Data reading_data(const Reading& reading) {
  Data out = {{key_of(reading.kind), reading.shown}};
  if (reading.kind == ReadingKind::delivered_wh) {
    out["at_w"] = reading.at_w;
  } else {
    if (reading.kind == ReadingKind::charge) out["charge_from"] = reading.charge_from;
    if (is_at_a_time(reading.kind)) {
      out["at"] = iso_time(reading.from);
    } else {
      out["from"] = iso_time(reading.from);
      out["to"] = iso_time(reading.to);
    }
    out["camp"] = reading.in_the_open ? Data("open") : Data(reading.camp + 1);
  }
  if (reading.counted_at == CountedAt::battery) out["counts"] = "battery";
  if (reading.sky) add_sky(out, *reading.sky);
  if (reading.on) out["on"] = *reading.on;
  if (!reading.off.empty()) out["off"] = reading.off;
  return out;
}

}  // namespace

Data plan_data(const Plan& plan) {
  Data out = {{"file", plan.file},
              {"title", plan.title},
              {"arrive", iso_time({plan.arrive, 60 * plan.arrive_hour})},
              {"leave", fmt::format("{:02}:00", plan.leave_hour)},
              {"accept_risk", plan.accept_risk},
              {"accept_flat_h", plan.accept_flat_h},
              {"summer_time", plan.summer_time},
              {"clock_offset_h", plan.clock_offset_h}};
  out["camp"] = Data::list();
  for (const auto& camp : plan.camps) out["camp"].push_back(camp_data(camp));
  out["battery"] = battery_data(plan.battery);
  out["inverter"] = nullptr;
  if (plan.inverter) {
    out["inverter"] = {{"rated_w", plan.inverter->rated_w},
                       {"standby_w", plan.inverter->standby_w},
                       {"linear_loss", plan.inverter->linear},
                       {"quadratic_loss", plan.inverter->quadratic},
                       {"on", windows(plan.inverter->on)}};
  }
  out["converter"] = {{"efficiency", plan.converter.efficiency},
                      {"standby_w", plan.converter.standby_w}};
  out["panels"] = Data::list();
  for (const auto& group : plan.panels) {
    const Controller& controller = plan.controllers[group.controller];
    Data panels = {{"name", group.name},
                   {"rated_w", group.rated_w},
                   {"mount", mount_data(group.mount)},
                   {"losses", group.losses},
                   {"dull_light", group.dull_light == DullLight::usual ? "usual" : "poor"},
                   {"controller", controller.name},
                   {"controller_limit_w", limit(controller.limit_w)}};
    if (group.wiring) {
      panels["vmp_v"] = group.wiring->vmp_v;
      panels["cable_ohm"] = group.wiring->cable_ohm;
      panels["tracking"] = group.wiring->pwm_battery_v ? "pwm" : "mppt";
    }
    out["panels"].push_back(std::move(panels));
  }
  out["load"] = Data::list();
  for (const auto& load : plan.loads) out["load"].push_back(load_data(load));
  out["furnace"] = plan.furnace ? furnace_data(*plan.furnace) : Data();
  out["fridge"] = nullptr;
  if (plan.fridge) {
    Data duty = Data::list();
    for (const auto& [c, share_on] : plan.fridge->duty_at) duty.push_back({c, share_on});
    out["fridge"] = {{"running_w", plan.fridge->running_w},
                     {"duty_at", duty},
                     {"side", to_string(plan.fridge->side)}};
  }
  out["generator"] = plan.generator ? generator_plan_data(*plan.generator) : Data();
  out["vehicle"] = {{"charge_w", plan.vehicle_charge_w}};
  out["hookup"] = {{"charger_w", plan.hookup_charger_w}};
  out["guesses"] = guesses_data(plan.guesses);
  if (!plan.readings.empty()) {
    out["reading"] = Data::list();
    for (const Reading& reading : plan.readings) out["reading"].push_back(reading_data(reading));
  }
  out["option"] = Data::list();
  for (const KitOption& option : plan.options) out["option"].push_back(option_data(option));
  out["currency"] = or_null(plan.currency);
  return out;
}

namespace {

Data known_data(const KnownDate& known, int first_day) {
  const auto* word = std::get_if<SkyWord>(&known.sky);
  return {{"day", first_day + known.day.value + 1},
          {"date", iso_date(known.date)},
          {"sky", word ? Data(to_string(*word)) : Data()},
          {"k", known.stated.k},
          {"k_spread", known.stated.k_spread}};
}

// What is known of the weather, and since when the stay is under way.
void add_known(Data& plan_data, const Plan& plan, const PreparedPlan& prepared) {
  plan_data["now"] = nullptr;
  if (plan.now) {
    plan_data["now"] = iso_time({prepared.dates.front(), 60 * plan.now->hour_of_day});
  }
  plan_data["yesterday"] = nullptr;
  plan_data["forecast"] = Data::list();
  for (const KnownDate& known : prepared.known) {
    if (known.day < 0) {
      plan_data["yesterday"] = known_data(known, prepared.first_day);
    } else {
      plan_data["forecast"].push_back(known_data(known, prepared.first_day));
    }
  }
  plan_data["set"] = plan.settings;
}

}  // namespace

Data plan_data(const Plan& plan, const PreparedPlan& prepared) {
  Data out = plan_data(plan);
  add_known(out, plan, prepared);
  // What height, heat and fuel leave of rated_w.
  if (prepared.generator) out["generator"]["gives_w"] = prepared.generator->rated_w;
  return out;
}

Data places_data(const Plan& plan) {
  Data out = Data::list();
  for (const auto& camp : plan.camps) out.push_back(place_data(camp));
  return out;
}

}  // namespace dullspell
