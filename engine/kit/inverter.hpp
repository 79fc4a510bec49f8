#pragma once

#include <vector>

#include "engine/kit/inverter_model.hpp"
#include "weather/clock.hpp"

namespace dullspell {

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

/// Efficiency at a share of the rated output, standby included.
struct EfficiencyPoint {
  double load_share;
  double efficiency;
};

/// Least-squares fit of the linear and quadratic loss (Schmidt & Sauer 1996, form of the loss) to
/// efficiency points with the standby loss given; neither comes out negative.
Inverter fit_inverter(double rated_w, double standby_w, const std::vector<EfficiencyPoint>& points);

/// For the hour's arithmetic, nothing ruled out.
InverterModel inverter_model(const Inverter& inverter);

}  // namespace dullspell
