#include "engine/stay/load_tables.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "weather/daylight.hpp"
#include "weather/grid_rounding.hpp"

namespace dullspell {
namespace {

// FNV-1a: the same number for the same name on every machine.
std::uint32_t name_key(std::string_view name) {
  std::uint32_t key = 2166136261u;
  for (const char c : name) key = (key ^ static_cast<unsigned char>(c)) * 16777619u;
  return key;
}

// A load behind the inverter runs only while that is on.
std::array<double, 24> share_by_hour(const Plan& plan, LoadSide side,
                                     const std::vector<ClockWindow>& windows) {
  std::array<double, 24> share{};
  for (int h = 0; h < 24; ++h) {
    share[static_cast<std::size_t>(h)] = side == LoadSide::dc
                                             ? share_of_hour(windows, h)
                                             : shared_share_of_hour(windows, plan.inverter->on, h);
  }
  return share;
}

// Lognormal of mean 1 and coefficient of variation v: sigma^2 = ln(1 + v^2), median
// exp(-sigma^2 / 2).
NormalFunction lognormal(double variation) {
  const double sigma = std::sqrt(std::log1p(variation * variation));
  return NormalFunction::of(
      [=](double z) { return on_grid(std::exp(sigma * z - 0.5 * sigma * sigma)); });
}

// Hours grow until they fill the windows; the watts of what fills them anyway have no such bound.
double most_use(const Load& load, double window_h) {
  if (!load.hours_stated) return std::max(1.0, on_grid(load.dull_day_factor));
  return load.hours_per_day > 0.0 ? on_grid(window_h / load.hours_per_day) : 1.0;
}

bool is_fixed(const Load& load) {
  return load.varies == 0.0 && load.dull_day_factor == 1.0 && !load.optional_below;
}

// A load on a camp's date: its share of each clock hour, and what spreads its use over them.
struct LoadDay {
  std::array<double, 24> share;
  double window_h, hours;
};

LoadDay load_day(const Plan& plan, const Load& load, const std::vector<ClockWindow>& windows) {
  const double window_h = length_h(windows);
  const double hours = load.hours_stated ? load.hours_per_day : window_h;
  // What varies is cut at `most`, day by day.
  return {share_by_hour(plan, load.side, windows), window_h,
          is_fixed(load) ? std::min(hours, window_h) : hours};
}

std::vector<LoadDay> load_days(const Plan& plan, const Load& load, const StayCalendar& calendar,
                               const Indexed<SegmentIndex, SolarDay>& suns) {
  if (!load.only) return std::vector(calendar.camp_days.size(), load_day(plan, load, load.between));
  std::vector<LoadDay> days;
  for (std::size_t i = 0; i < calendar.camp_days.size(); ++i) {
    const double latitude_deg = plan.camps[calendar.camp_days[i].camp].where.latitude_deg;
    days.push_back(load_day(plan, load, windows_on(load, daylight(suns[i], latitude_deg))));
  }
  return days;
}

FlexibleLoad placed(const Plan& plan, const Load& load, const StayCalendar& calendar,
                    const Indexed<SegmentIndex, SolarDay>& suns) {
  const double at_its_side_w =
      load.side == LoadSide::dc_via_ac ? load.watts / plan.converter.efficiency : load.watts;
  const std::vector<LoadDay> days = load_days(plan, load, calendar, suns);

  FlexibleLoad out;
  out.name = load.name;
  out.ac = load.side != LoadSide::dc;
  for (const CalendarHour& hour : calendar.hours) {
    const LoadDay& day = days[static_cast<std::size_t>(hour.segment.value)];
    const double share = day.share[static_cast<std::size_t>(hour.hour_of_day)];
    out.watts.push_back(share > 0.0 ? on_grid(at_its_side_w * share * day.hours / day.window_h)
                                    : 0.0);
  }
  for (const LoadDay& day : days) out.most.push_back(most_use(load, day.window_h));
  out.draw_block = name_key(load.name);
  if (load.side == LoadSide::dc_via_ac) out.converter_loss = 1.0 - plan.converter.efficiency;
  out.optional_below = load.optional_below;
  out.varies = load.varies > 0.0;
  out.dull_day_factor = on_grid(load.dull_day_factor);
  if (out.varies) out.use_of_draw = lognormal(load.varies);
  return out;
}

std::optional<FlexibleLoad> converter_standby(const Plan& plan, const StayCalendar& calendar) {
  const bool used = std::any_of(plan.loads.begin(), plan.loads.end(),
                                [](const auto& l) { return l.side == LoadSide::dc_via_ac; }) ||
                    (plan.fridge && plan.fridge->side == LoadSide::dc_via_ac);
  if (!used || plan.converter.standby_w <= 0.0) return std::nullopt;
  const std::vector<double> on = inverter_on_by_hour(plan);
  FlexibleLoad standby;
  standby.name = "converter standby";
  standby.ac = true;
  for (const CalendarHour& hour : calendar.hours) {
    standby.watts.push_back(
        on_grid(plan.converter.standby_w * on[static_cast<std::size_t>(hour.hour_of_day)]));
  }
  return standby;
}

}  // namespace

LoadTables load_tables(const Plan& plan, const StayCalendar& calendar,
                       const Indexed<SegmentIndex, SolarDay>& suns) {
  LoadTables out;
  for (const Load& load : plan.loads) {
    (is_fixed(load) ? out.fixed : out.flexible).push_back(placed(plan, load, calendar, suns));
  }
  std::stable_partition(out.flexible.begin(), out.flexible.end(),
                        [](const auto& load) { return load.optional_below.has_value(); });
  if (auto standby = converter_standby(plan, calendar)) out.fixed.push_back(std::move(*standby));

  out.fixed_dc_w.assign(calendar.hours.size(), 0.0);
  out.fixed_ac_w.assign(calendar.hours.size(), 0.0);
  for (const FlexibleLoad& load : out.fixed) {
    std::vector<double>& sum_w = load.ac ? out.fixed_ac_w : out.fixed_dc_w;
    for (std::size_t h = 0; h < sum_w.size(); ++h) sum_w[h] += load.watts[h];
  }
  return out;
}

std::vector<double> inverter_on_by_hour(const Plan& plan) {
  std::vector<double> on(24, 0.0);
  if (!plan.inverter) return on;
  for (int h = 0; h < 24; ++h) {
    on[static_cast<std::size_t>(h)] = on_grid(share_of_hour(plan.inverter->on, h));
  }
  return on;
}

double use_on_day(const FlexibleLoad& load, SegmentIndex segment, double variation, double k) {
  const double dullness = std::clamp((0.50 - k) * 4.0, 0.0, 1.0);
  const double use = variation * (1.0 + (load.dull_day_factor - 1.0) * dullness);
  return std::min(use, load.most[segment]);
}

}  // namespace dullspell
