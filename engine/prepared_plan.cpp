#include "engine/prepared_plan.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <tuple>

#include <fmt/format.h>

#include "engine/cabin.hpp"
#include "engine/energy_step.hpp"
#include "engine/generator_targets.hpp"
#include "weather/grid_rounding.hpp"
#include "weather/place_climate.hpp"
#include "weather/temperature.hpp"

namespace dullspell {
namespace {

// Sky views cost a sum over the whole hemisphere: each camp and direction is worked out once.
class SkyViews {
 public:
  explicit SkyViews(const std::vector<Shade>& shades) : shades_(shades) {}

  double share(std::size_t camp, const PlaneDirection& plane) {
    const auto key = std::make_tuple(camp, plane.tilt_deg, plane.azimuth_deg);
    const auto [it, is_new] = known_.try_emplace(key, 0.0);
    if (is_new) it->second = shades_[camp].sky_share(plane);
    return it->second;
  }

 private:
  const std::vector<Shade>& shades_;
  std::map<std::tuple<std::size_t, double, double>, double> known_;
};

// FNV-1a: the same number for the same name on every machine.
std::uint32_t name_key(std::string_view name) {
  std::uint32_t key = 2166136261u;
  for (const char c : name) key = (key ^ static_cast<unsigned char>(c)) * 16777619u;
  return key;
}

class Preparation {
 public:
  explicit Preparation(const Plan& plan) : plan_(plan) {
    int nights_before = 0;
    for (const Camp& camp : plan.camps) {
      shades_.emplace_back(camp.canopy, camp.skyline);
      camp_begins_.push_back(camp_begins_.empty() ? 0 : camp_begins_.back() + nights_before);
      nights_before = camp.nights;
    }
  }

  PreparedPlan run() {
    out_.battery = plan_.battery;
    out_.inverter = plan_.inverter;
    out_.hookup_charger_w = plan_.hookup_charger_w;
    for (const auto& c : plan_.controllers) out_.controller_limit_w.push_back(on_grid(c.limit_w));
    out_.first_day = plan_.start().day;
    for (int d = out_.first_day; d <= plan_.nights(); ++d) {
      out_.dates.push_back(plan_.arrive + std::chrono::days{d});
    }
    lay_out_hours();
    fill_segments();
    join_free_controllers();
    fill_hours();
    place_loads();
    prepare_furnace();
    prepare_fridge();
    prepare_generator();
    return std::move(out_);
  }

 private:
  // Camp at an hour of the plan; camps change at the hour of leaving.
  std::size_t camp_at(PlanHour at) const {
    std::size_t camp = 0;
    while (camp + 1 < plan_.camps.size()) {
      const int change = camp_begins_[camp + 1];
      if (at.day < change || (at.day == change && at.hour_of_day < plan_.leave_hour)) break;
      ++camp;
    }
    return camp;
  }

  // The camp where one wakes up on a day of the plan, or where one arrives.
  std::size_t waking_camp(int day) const {
    return camp_at(day == plan_.start().day ? plan_.start() : PlanHour{day, 0});
  }

  void lay_out_hours() {
    const int last_day = out_.days() - 1;
    for (int day = 0; day <= last_day; ++day) {
      const int from = day == 0 ? plan_.start().hour_of_day : 0;
      const int to = day == last_day ? plan_.leave_hour : 24;
      for (int hour = from; hour < to; ++hour) {
        const int camp = static_cast<int>(camp_at({out_.first_day + day, hour}));
        const int index = static_cast<int>(out_.hours.size());
        if (out_.segments.empty() || out_.segments.back().day != day ||
            out_.segments.back().camp != camp) {
          Segment segment;
          segment.day = day;
          segment.camp = camp;
          segment.first_hour = index;
          out_.segments.push_back(std::move(segment));
        }
        out_.segments.back().end_hour = index + 1;
        HourSlot slot;
        slot.segment = static_cast<int>(out_.segments.size()) - 1;
        slot.day = day;
        slot.hour_of_day = hour;
        out_.hours.push_back(slot);
      }
    }
  }

  void fill_segments() {
    set_climates();
    SkyViews views(shades_);
    for (Segment& segment : out_.segments) {
      const auto camp = static_cast<std::size_t>(segment.camp);
      const Date date = out_.dates[static_cast<std::size_t>(segment.day)];
      set_power(segment, solar_day(date, plan_.camps[camp].where, plan_.clock_offset_h), camp,
                views);
    }
  }

  void set_climates() {
    const std::vector<PlaceClimate> climates = place_climates();
    const std::vector<std::size_t> places = place_numbers();
    const auto stated = [&](std::size_t camp, int day) {
      const Date date = plan_.arrive + std::chrono::days{out_.first_day + day};
      const Camp& here = plan_.camps[camp];
      return StatedClimate{climates[camp].on(date),
                           climate_doubt(here.place, date, here.distance_km), warmer_k(here),
                           places[camp], day};
    };
    const auto waking = [&](int day) { return stated(waking_camp(out_.first_day + day), day); };

    std::vector<StatedClimate> segments;
    for (const Segment& segment : out_.segments) {
      segments.push_back(stated(static_cast<std::size_t>(segment.camp), segment.day));
    }
    // A last date without hours still counts as a day.
    if (segments.back().day + 1 < out_.days()) {
      segments.push_back(segments.back());
      ++segments.back().day;
    }

    std::vector<KnownClimate> known;
    const auto add = [&](int day, const KnownSky& sky) {
      const StatedClimate climate = waking(day);
      const StatedClearness meant = stated_clearness(sky, climate.climate.k_mean);
      const ClearnessTable k_of_chi = climate.climate.k_of_chi.rounded();
      out_.known.push_back({day, plan_.arrive + std::chrono::days{out_.first_day + day}, sky, meant,
                            k_of_chi(known_chi(day, meant, k_of_chi).mean)});
      known.push_back({meant, climate});
    };
    if (plan_.yesterday) add(-1, *plan_.yesterday);
    for (const ForecastDay& day : plan_.forecast) add(day.day - out_.first_day, day.sky);

    out_.climate = ClimateOfStay(std::move(segments), waking(-1), std::move(known),
                                 1 + *std::max_element(places.begin(), places.end()));
    StayClimate climate = out_.climate.stated();
    for (std::size_t i = 0; i < out_.segments.size(); ++i) {
      static_cast<SegmentClimate&>(out_.segments[i]) = climate.segments[i];
    }
    out_.sequence = std::move(climate.sequence);
  }

  // Of each camp; copies share their tables, which are costly.
  std::vector<PlaceClimate> place_climates() const {
    std::vector<PlaceClimate> climates;
    for (std::size_t i = 0; i < plan_.camps.size(); ++i) {
      const Place& place = plan_.camps[i].place;
      std::size_t same = 0;
      while (same < i && plan_.camps[same].place.months != place.months) ++same;
      climates.push_back(same < i ? climates[same] : PlaceClimate(place));
    }
    return climates;
  }

  // Camps at the same place share what is not known of it.
  std::vector<std::size_t> place_numbers() const {
    std::vector<std::size_t> numbers;
    std::size_t count = 0;
    for (std::size_t i = 0; i < plan_.camps.size(); ++i) {
      const Place& place = plan_.camps[i].place;
      std::size_t same = 0;
      while (same < i && !(plan_.camps[same].place.where == place.where &&
                           plan_.camps[same].place.id == place.id)) {
        ++same;
      }
      numbers.push_back(same < i ? numbers[same] : count++);
    }
    return numbers;
  }

  static double warmer_k(const Camp& camp) {
    constexpr double kLapse_k_per_m = -0.0065;
    if (!camp.elevation_m || !camp.place.elevation_m) return 0.0;
    return kLapse_k_per_m * (*camp.elevation_m - *camp.place.elevation_m);
  }

  void set_power(Segment& segment, const SolarDay& day, std::size_t camp, SkyViews& views) {
    segment.power.resize(plan_.controllers.size());
    const double flat_share = views.share(camp, {0.0, 180.0});
    for (const PanelGroup& group : plan_.panels) {
      std::vector<PlaneView> seen;
      for (const auto& plane :
           mount_directions(group.mount, day, plan_.camps[camp].where.latitude_deg)) {
        seen.push_back({plane, views.share(camp, plane)});
      }
      add_panel_power(segment.power[group.controller], group, day, shades_[camp], flat_share, seen);
    }
    for (PowerTable& table : segment.power) {
      table.at_25 = table.at_25.unaryExpr([](double v) { return on_grid(v); });
      table.per_k = table.per_k.unaryExpr([](double v) { return on_grid(v); });
    }
    for (int h = segment.first_hour; h < segment.end_hour; ++h) {
      HourSlot& slot = out_.hours[static_cast<std::size_t>(h)];
      slot.sun_up = day.hours[static_cast<std::size_t>(slot.hour_of_day)].share > 0.0;
      slot.panels_lit = slot.sun_up && !plan_.panels.empty();
      slot.temperature_swing =
          on_grid(temperature_swing(slot.hour_of_day + 0.5 + day.solar_minus_clock_h));
    }
  }

  // Controllers whose limit no weather reaches are as good as one without a limit, and an hour asks
  // for the power of each.
  void join_free_controllers() {
    constexpr double kColdestAir_c = -60.0;  // cold panels give more
    const auto reaches_limit = [&](std::size_t c) {
      const double limit_w = out_.controller_limit_w[c];
      return std::any_of(out_.segments.begin(), out_.segments.end(), [&](const Segment& segment) {
        const PowerTable& table = segment.power[c];
        return ((table.at_25 + table.per_k * (kColdestAir_c - 25.0)) > limit_w).any();
      });
    };
    std::optional<std::size_t> joined;
    for (std::size_t c = 0; c < out_.controller_limit_w.size();) {
      if (reaches_limit(c)) {
        ++c;
        continue;
      }
      if (!joined) {
        out_.controller_limit_w[c] = kNoLimit_w;
        joined = c++;
        continue;
      }
      for (Segment& segment : out_.segments) {
        segment.power[*joined].at_25 += segment.power[c].at_25;
        segment.power[*joined].per_k += segment.power[c].per_k;
        segment.power.erase(segment.power.begin() + static_cast<std::ptrdiff_t>(c));
      }
      out_.controller_limit_w.erase(out_.controller_limit_w.begin() +
                                    static_cast<std::ptrdiff_t>(c));
    }
  }

  void fill_hours() {
    const PlanHour start = plan_.start();
    int camp = static_cast<int>(camp_at(start));
    // A stay under way may begin in the middle of a drive.
    double driven_h = camp == 0 ? 1e9
                                : 24.0 * (start.day - camp_begins_[camp_at(start)]) +
                                      start.hour_of_day - plan_.leave_hour;
    for (HourSlot& slot : out_.hours) {
      const Segment& segment = out_.segments[static_cast<std::size_t>(slot.segment)];
      if (segment.camp != camp) {
        camp = segment.camp;
        driven_h = 0.0;
      }
      const Camp& here = plan_.camps[static_cast<std::size_t>(camp)];
      const double driving = std::clamp(here.drive_in_h - driven_h, 0.0, 1.0);
      driven_h += 1.0;
      slot.at_camp = on_grid(1.0 - driving);
      slot.vehicle_w = on_grid(driving * plan_.vehicle_charge_w);
      slot.hookup = here.hookup && driving < 1.0;
      if (plan_.inverter) {
        slot.inverter_on = on_grid(share_of_hour(plan_.inverter->on, slot.hour_of_day));
      }
    }
  }

  // Watts at the inverter's output, or at the battery's side.
  double at_its_side(LoadSide side, double watts) const {
    return side == LoadSide::dc_via_ac ? watts / plan_.converter.efficiency : watts;
  }

  void place_loads() {
    for (const Load& load : plan_.loads) {
      double window_h = 0.0;
      for (const auto& w : load.between) window_h += w.length_min() / 60.0;
      const bool ac = load.side != LoadSide::dc;
      // By clock hour: a load behind the inverter runs only while that is on.
      std::array<double, 24> share{};
      for (int h = 0; h < 24; ++h) {
        share[static_cast<std::size_t>(h)] =
            ac ? shared_share_of_hour(load.between, plan_.inverter->on, h)
               : share_of_hour(load.between, h);
      }
      std::vector<double> watts;
      for (const HourSlot& slot : out_.hours) {
        watts.push_back(on_grid(at_its_side(load.side, load.watts) *
                                share[static_cast<std::size_t>(slot.hour_of_day)] *
                                load.hours_per_day / window_h));
      }
      FlexibleLoad prepared;
      prepared.name = load.name;
      prepared.ac = ac;
      prepared.watts = std::move(watts);
      prepared.draw_block = name_key(load.name);
      if (load.side == LoadSide::dc_via_ac) {
        prepared.converter_loss = 1.0 - plan_.converter.efficiency;
      }
      const bool by_day = load.varies > 0.0 || load.dull_day_factor != 1.0;
      if (!by_day && !load.optional_below) {
        for (std::size_t h = 0; h < prepared.watts.size(); ++h) {
          (ac ? out_.hours[h].fixed_ac_w : out_.hours[h].fixed_dc_w) += prepared.watts[h];
        }
        out_.fixed.push_back(std::move(prepared));
        continue;
      }
      prepared.optional_below = load.optional_below;
      prepared.varies = load.varies > 0.0;
      prepared.dull_day_factor = on_grid(load.dull_day_factor);
      prepared.most = load.hours_per_day > 0.0 ? on_grid(window_h / load.hours_per_day) : 1.0;
      // Lognormal of mean 1 and coefficient of variation v: sigma^2 = ln(1 + v^2), median
      // exp(-sigma^2 / 2).
      const double sigma = std::sqrt(std::log1p(load.varies * load.varies));
      prepared.use_of_draw = NormalTable::of(
          [=](double z) { return on_grid(std::exp(sigma * z - 0.5 * sigma * sigma)); });
      out_.flexible.push_back(std::move(prepared));
    }
    std::stable_partition(out_.flexible.begin(), out_.flexible.end(),
                          [](const auto& load) { return load.optional_below.has_value(); });
    const bool converter_used =
        std::any_of(plan_.loads.begin(), plan_.loads.end(),
                    [](const auto& l) { return l.side == LoadSide::dc_via_ac; }) ||
        (plan_.fridge && plan_.fridge->side == LoadSide::dc_via_ac);
    if (converter_used && plan_.converter.standby_w > 0.0) {
      FlexibleLoad standby;
      standby.name = "converter standby";
      standby.ac = true;
      for (HourSlot& slot : out_.hours) {
        standby.watts.push_back(on_grid(plan_.converter.standby_w * slot.inverter_on));
        slot.fixed_ac_w += standby.watts.back();
      }
      out_.fixed.push_back(std::move(standby));
    }
  }

  void prepare_furnace() {
    if (!plan_.furnace) return;
    const Furnace& f = *plan_.furnace;
    PreparedFurnace prepared{f.blower_w, f.output_w, f.heat_loss_w_per_k, f.gains_w,
                             {},         {},         f.other_heat_c};
    for (int h = 0; h < 24; ++h) {
      double held = 0.0;
      for (const HoldWindow& hold : f.hold) {
        const double share = on_grid(share_of_hour(hold.window, h));
        if (share <= 0.0) continue;
        prepared.hold[static_cast<std::size_t>(h)].push_back({share, hold.set_point_c});
        held += share;
      }
      prepared.unheld_share[static_cast<std::size_t>(h)] = std::max(0.0, 1.0 - held);
    }
    out_.furnace = prepared;
  }

  void prepare_fridge() {
    if (!plan_.fridge) return;
    const Fridge& fridge = *plan_.fridge;
    PreparedFridge prepared;
    prepared.ac = fridge.side != LoadSide::dc;
    const double running_w = on_grid(at_its_side(fridge.side, fridge.running_w));
    const auto& points = fridge.duty_at;
    prepared.coldest_w = running_w * points.front().second;
    for (std::size_t i = 1; i < points.size(); ++i) {
      const auto [from_c, duty] = points[i - 1];
      const double per_k = (points[i].second - duty) / (points[i].first - from_c);
      double length_k = points[i].first - from_c;
      // Beyond the last pair its slope goes on: a fridge in the heat runs until it never stops.
      if (i + 1 == points.size() && per_k != 0.0) {
        length_k = ((per_k > 0.0 ? 1.0 : 0.0) - duty) / per_k;
      }
      prepared.pieces.push_back({from_c, length_k, running_w * per_k});
    }
    out_.fridge = prepared;
  }

  void prepare_generator() {
    if (!plan_.generator) return;
    Generator generator = *plan_.generator;
    // Manuals: 3.5 % per 305 m above the first 305 m.
    double highest_m = 0.0;
    for (std::size_t i = camp_at(plan_.start()); i < plan_.camps.size(); ++i) {
      const Camp& camp = plan_.camps[i];
      highest_m =
          std::max(highest_m, camp.elevation_m.value_or(camp.place.elevation_m.value_or(0)));
    }
    const double derate = std::clamp(1.0 - 0.035 * (highest_m - 305.0) / 305.0, 0.3, 1.0);
    generator.rated_w = on_grid(generator.rated_w * derate);
    out_.generator = generator;
    for (HourSlot& slot : out_.hours) {
      slot.generator_allowed = on_grid(share_of_hour(generator.allowed, slot.hour_of_day));
    }
    if (generator.rule == GeneratorRule::night) set_generator_targets(out_);
  }

  const Plan& plan_;
  std::vector<Shade> shades_;
  std::vector<int> camp_begins_;  // day of the plan
  PreparedPlan out_;
};

}  // namespace

PreparedPlan prepare(const Plan& plan) {
  return Preparation(plan).run();
}

PreparedPlan with_battery(PreparedPlan prepared, const Battery& battery) {
  prepared.battery = battery;
  const auto& generator = prepared.generator;
  if (generator && generator->rule == GeneratorRule::night) set_generator_targets(prepared);
  return prepared;
}

PreparedPlan without_generator(PreparedPlan prepared) {
  prepared.generator.reset();
  for (HourSlot& slot : prepared.hours) slot.generator_allowed = 0.0;
  return prepared;
}

ExpectedHour expected_hour(const PreparedPlan& prepared, std::size_t hour, double k) {
  const HourSlot& slot = prepared.hours[hour];
  const Segment& segment = prepared.segments[static_cast<std::size_t>(slot.segment)];
  const double range_c =
      daily_range_c(segment.range_mean_c, segment.range_k_slope, k, segment.k_mean);
  const double air_c = segment.temp_mean_c + range_c * slot.temperature_swing;
  const CabinHour cabin = cabin_hour(prepared, slot.hour_of_day, air_c);

  ExpectedHour out{};
  out.battery_c = battery_temperature_c(prepared, cabin, air_c, false);
  out.panels_w = panel_power_w(prepared, slot, k, air_c);
  out.furnace_w = cabin.furnace_w;
  double dc_w = slot.fixed_dc_w + cabin.furnace_w;
  double ac_w = slot.fixed_ac_w;
  if (prepared.fridge) {
    out.fridge_w = cabin.fridge_w * (prepared.fridge->ac ? slot.inverter_on : 1.0);
    (prepared.fridge->ac ? ac_w : dc_w) += out.fridge_w;
  }
  for (const FlexibleLoad& load : prepared.flexible) {
    (load.ac ? ac_w : dc_w) += load.watts[hour] * use_on_day(load, 1.0, k);
  }
  if (prepared.inverter) {
    ac_w = std::min(ac_w, prepared.inverter->rated_w);
    out.inverter_loss_w =
        prepared.inverter->loss_w(ac_w) - prepared.inverter->standby_w * (1.0 - slot.inverter_on);
  }
  out.draw_w = dc_w + ac_w + out.inverter_loss_w;
  return out;
}

double panel_power_w(const PreparedPlan& prepared, const HourSlot& slot, double k, double air_c) {
  if (!slot.panels_lit) return 0.0;
  const Segment& segment = prepared.segments[static_cast<std::size_t>(slot.segment)];
  const double position = std::clamp(k, 0.0, 1.0) * kNodesPerUnit;
  const int node = std::min(static_cast<int>(position), kClearnessNodes - 2);
  const double weight = position - node;
  const double warmer_k = air_c - 25.0;
  double sum_w = 0.0;
  for (std::size_t c = 0; c < segment.power.size(); ++c) {
    const PowerTable& table = segment.power[c];
    const double at_25 =
        table.at_25(node, slot.hour_of_day) +
        weight * (table.at_25(node + 1, slot.hour_of_day) - table.at_25(node, slot.hour_of_day));
    const double per_k =
        table.per_k(node, slot.hour_of_day) +
        weight * (table.per_k(node + 1, slot.hour_of_day) - table.per_k(node, slot.hour_of_day));
    sum_w += std::clamp(at_25 + per_k * warmer_k, 0.0, prepared.controller_limit_w[c]);
  }
  return sum_w * slot.at_camp;
}

double use_on_day(const FlexibleLoad& load, double variation, double k) {
  const double dullness = std::clamp((0.50 - k) * 4.0, 0.0, 1.0);
  const double use = variation * (1.0 + (load.dull_day_factor - 1.0) * dullness);
  return std::min(use, load.most);
}

}  // namespace dullspell
