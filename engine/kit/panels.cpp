#include "engine/kit/panels.hpp"

#include <algorithm>
#include <cmath>

#include "weather/angles.hpp"
#include "weather/diffuse_split.hpp"
#include "weather/extraterrestrial_radiation.hpp"

namespace dullspell {
namespace {

constexpr double kCellRise_k_m2_w = (45.0 - 20.0) / 800.0;
constexpr double kAlbedo = 0.2;  // grass and soil, common practice

struct HuldCoefficients {
  double k1, k2, k3, k4, k5, k6;
};

constexpr HuldCoefficients kUsual{-0.006756, -0.016444, -0.003015, -0.000045, -0.000043, 0.0};
constexpr HuldCoefficients kPoor{-0.017237, -0.040465, -0.004702, 0.000149, 0.000170, 0.000005};

const HuldCoefficients& coefficients(DullLight dull_light) {
  return dull_light == DullLight::usual ? kUsual : kPoor;
}

// At the battery's voltage a module gives the current that its light makes.
ModuleLine at_battery_voltage(const Wiring& wiring, double irradiance_w_m2) {
  // Of the current at greatest power. Common practice, no source: data sheets have 0.04 to 0.06 %.
  constexpr double kCurrent_per_k = 0.0005;
  const double rated_share = *wiring.pwm_battery_v / wiring.vmp_v * irradiance_w_m2 / 1000.0;
  const double rise_k = irradiance_w_m2 * kCellRise_k_m2_w;
  return {rated_share * (1.0 + kCurrent_per_k * rise_k), rated_share * kCurrent_per_k};
}

}  // namespace

double cell_temperature_c(double irradiance_w_m2, double air_c) {
  return air_c + irradiance_w_m2 * kCellRise_k_m2_w;
}

double module_power_share(DullLight dull_light, double irradiance_w_m2, double cell_c) {
  if (irradiance_w_m2 <= 0.0) return 0.0;
  const HuldCoefficients& c = coefficients(dull_light);
  const double g = irradiance_w_m2 / 1000.0, log_g = std::log(g), t = cell_c - 25.0;
  return g * (1.0 + log_g * (c.k1 + log_g * c.k2) + t * (c.k3 + log_g * (c.k4 + log_g * c.k5)) +
              c.k6 * t * t);
}

ModuleLine module_line(DullLight dull_light, double irradiance_w_m2) {
  if (irradiance_w_m2 <= 0.0) return {};
  const HuldCoefficients& c = coefficients(dull_light);
  const double g = irradiance_w_m2 / 1000.0, log_g = std::log(g);
  const double rise_k = irradiance_w_m2 * kCellRise_k_m2_w;
  ModuleLine line;
  line.at_25 = module_power_share(dull_light, irradiance_w_m2, 25.0 + rise_k);
  line.per_k = g * (c.k3 + log_g * (c.k4 + log_g * c.k5) + 2.0 * c.k6 * rise_k);
  // The form turns negative below about 1 W/m2, where it means nothing.
  return line.at_25 > 0.0 ? line : ModuleLine{};
}

ModuleLine through_wiring(const Wiring& wiring, double rated_w, double irradiance_w_m2,
                          const ModuleLine& line) {
  const double taken = cable_share(wiring, rated_w * line.at_25);
  const ModuleLine at_greatest{line.at_25 * (1.0 - taken), line.per_k * (1.0 - 2.0 * taken)};
  if (!wiring.pwm_battery_v) return at_greatest;
  const ModuleLine switched = at_battery_voltage(wiring, irradiance_w_m2);
  return switched.at_25 < at_greatest.at_25 ? switched : at_greatest;
}

std::vector<PlaneDirection> mount_directions(const Mount& mount, const SolarDay& day,
                                             double latitude_deg) {
  if (const auto* fixed = std::get_if<PlaneDirection>(&mount)) {
    return std::vector<PlaneDirection>(24, *fixed);
  }
  const auto& times = std::get<AimedMount>(mount).at_min;
  std::vector<PlaneDirection> out;
  for (int hour = 0; hour < 24; ++hour) {
    // At dusk they are turned back to face the next morning's first time.
    int aimed_min = times.front();
    for (const int t : times) {
      if (t <= 60 * hour + 30) aimed_min = t;
    }
    const double hour_angle_deg = 15.0 * (aimed_min / 60.0 + day.solar_minus_clock_h - 12.0);
    const SunDirection sun =
        sun_direction_from_hour_angle(latitude_deg, day.declination_deg, hour_angle_deg);
    out.push_back({std::clamp(sun.zenith_deg, 0.0, 90.0), sun.azimuth_deg});
  }
  return out;
}

PlaneHour::PlaneHour(std::size_t hour, const SolarDay& day, const DaylightShares& shares,
                     const Shade& shade, double flat_sky_view_factor, const PlaneView& view)
    : day_(day),
      sunlit_share_(day.hours[hour].share),
      total_share_(shares.total[hour]),
      diffuse_share_(shares.diffuse[hour]),
      from_sun_(shade.transmittance(day.hours[hour].sun)),
      flat_sky_view_factor_(flat_sky_view_factor),
      sky_view_factor_(view.sky_view_factor),
      plane_(view.plane, day.hours[hour].sun),
      ground_({0.0, 180.0}, day.hours[hour].sun) {}

double PlaneHour::irradiance_w_m2(double k) const {
  if (sunlit_share_ <= 0.0 || k <= 0.0) return 0.0;
  const double day_wh_m2 = k * day_.extraterrestrial_wh_m2;
  const double diffuse_share = erbs_daily_diffuse_share(k, day_.sunset_hour_angle_deg);
  const double total = day_wh_m2 * total_share_ / sunlit_share_;
  const double diffuse =
      std::min(total, day_wh_m2 * diffuse_share * diffuse_share_ / sunlit_share_);
  const double beam = total - diffuse;

  const double above_air = kSolarConstant_w_m2 * day_.e0;
  const auto on_plane = hay_davies(plane_, beam, diffuse, above_air, 0.0);
  const auto on_ground = hay_davies(ground_, beam, diffuse, above_air, 0.0);
  const double sky = on_plane.sky / plane_.open_sky_view_factor * sky_view_factor_;
  const double ground_light =
      (on_ground.beam + on_ground.circumsolar) * from_sun_ + on_ground.sky * flat_sky_view_factor_;
  const double reflected = kAlbedo * ground_light * plane_.ground_share;
  return (on_plane.beam + on_plane.circumsolar) * from_sun_ + sky + reflected;
}

void add_panel_power(PowerTable& table, const PanelGroup& group, const SolarDay& day,
                     const Shade& shade, double flat_sky_view_factor,
                     const std::vector<PlaneView>& views) {
  const DaylightShares shares = daylight_shares(day);
  const double delivered_w = group.rated_w * (1.0 - group.losses);
  for (std::size_t hour = 0; hour < 24; ++hour) {
    const double sunlit_share = day.hours[hour].share;
    if (sunlit_share <= 0.0) continue;
    const PlaneHour plane_hour(hour, day, shares, shade, flat_sky_view_factor, views[hour]);
    for (int node = 0; node < kClearnessNodes; ++node) {
      const double k = static_cast<double>(node) / kNodesPerUnit;
      const double irradiance_w_m2 = plane_hour.irradiance_w_m2(k);
      ModuleLine line = module_line(group.dull_light, irradiance_w_m2);
      if (group.wiring) line = through_wiring(*group.wiring, group.rated_w, irradiance_w_m2, line);
      const int clock_hour = static_cast<int>(hour);
      table.at_25(node, clock_hour) += delivered_w * sunlit_share * line.at_25;
      table.per_k(node, clock_hour) += delivered_w * sunlit_share * line.per_k;
    }
  }
}

}  // namespace dullspell
