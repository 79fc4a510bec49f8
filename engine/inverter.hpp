#pragma once

#include <vector>

#include "engine/plan.hpp"

namespace dullspell {

/// Efficiency at a share of the rated output, standby included.
struct EfficiencyPoint {
  double load_share;
  double efficiency;
};

/// Least-squares fit of the linear and quadratic loss (Schmidt & Sauer 1996, form of the loss) to
/// efficiency points with the standby loss given; neither comes out negative.
Inverter fit_inverter(double rated_w, double standby_w, const std::vector<EfficiencyPoint>& points);

}  // namespace dullspell
