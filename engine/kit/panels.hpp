#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "engine/hour/hour_tables.hpp"
#include "engine/kit/no_limit.hpp"
#include "engine/kit/wiring.hpp"
#include "weather/hourly_shape.hpp"
#include "weather/shade.hpp"
#include "weather/tilted_plane.hpp"

namespace dullspell {

/// Rated W of a group of panels, or of all of them, that a plan may state.
constexpr double kLeastPanels_w = 1.0, kMostPanels_w = 50'000.0;

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
  std::size_t controller = 0;    ///< index into Plan::controllers
  std::optional<Wiring> wiring;  ///< nothing: part of the losses, greatest power found
};

struct Controller {
  std::string name;
  double limit_w = kNoLimit_w;  ///< at its output
};

/// Mean cell temperature by the nominal module operating temperature: T_air + G (45 - 20) / 800.
double cell_temperature_c(double irradiance_w_m2, double air_c);

/// Power of crystalline silicon, Huld et al. 2011 (Solar Energy Materials & Solar Cells 95:3359,
/// doi:10.1016/j.solmat.2011.07.026), as W per rated W: usual = the updated coefficients, poor =
/// the first published ones, which lose more in dim light.
double module_power_share(DullLight dull_light, double irradiance_w_m2, double cell_c);

/// The same as a straight line in air temperature through 25 C: at_25 + per_k (T_air - 25). Exact
/// for `usual`; the tangent for `poor`. Never negative at 25 C.
struct ModuleLine {
  double at_25 = 0.0;
  double per_k = 0.0;
};

ModuleLine module_line(DullLight dull_light, double irradiance_w_m2);

/// What is left of `line`, that of modules at their greatest power in this light, behind a group's
/// wiring.
ModuleLine through_wiring(const Wiring& wiring, double rated_w, double irradiance_w_m2,
                          const ModuleLine& line);

/// How one group of panels stands at one hour and how much sky it sees.
struct PlaneView {
  PlaneDirection plane;
  double sky_view_factor;  ///< Shade::sky_view_factor of that plane
};

/// Light on a plane in one clock hour of a date, shade and an albedo of 0.2 included. The day must
/// outlive it.
class PlaneHour {
 public:
  /// `flat_sky_view_factor`: Shade::sky_view_factor of the ground.
  PlaneHour(std::size_t hour, const SolarDay& day, const DaylightShares& shares, const Shade& shade,
            double flat_sky_view_factor, const PlaneView& view);

  /// On a day with clearness K, W/m2 averaged over the sunlit part of the hour.
  double irradiance_w_m2(double k) const;

 private:
  const SolarDay& day_;
  double sunlit_share_, total_share_, diffuse_share_, from_sun_, flat_sky_view_factor_,
      sky_view_factor_;
  PlaneGeometry plane_, ground_;
};

/// Direction of a mount in each clock hour of a date.
std::vector<PlaneDirection> mount_directions(const Mount& mount, const SolarDay& day,
                                             double latitude_deg);

/// Adds a group's output to a table. `views` has an entry for each clock hour.
void add_panel_power(PowerTable& table, const PanelGroup& group, const SolarDay& day,
                     const Shade& shade, double flat_sky_view_factor,
                     const std::vector<PlaneView>& views);

}  // namespace dullspell
