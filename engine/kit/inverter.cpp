#include "engine/kit/inverter.hpp"

#include <algorithm>

#include <Eigen/Core>

#include "weather/linear_system.hpp"

namespace dullspell {

Inverter fit_inverter(double rated_w, double standby_w,
                      const std::vector<EfficiencyPoint>& points) {
  Inverter inverter;
  inverter.rated_w = rated_w;
  inverter.standby_w = standby_w;
  if (points.empty()) return inverter;

  // Divided by the output, so that every point counts by its efficiency and not by its watts:
  // 1/efficiency - 1 - standby/P = linear + quadratic (P / rated).
  const auto rows = static_cast<Eigen::Index>(points.size());
  Eigen::MatrixXd terms(rows, 2);
  Eigen::VectorXd loss(rows);
  for (Eigen::Index i = 0; i < rows; ++i) {
    const auto& point = points[static_cast<std::size_t>(i)];
    terms(i, 0) = 1.0;
    terms(i, 1) = point.load_share;
    loss(i) = 1.0 / point.efficiency - 1.0 - standby_w / (point.load_share * rated_w);
  }
  const auto alone = [&](Eigen::Index column) {
    const auto x = terms.col(column);
    return std::max(0.0, x.dot(loss) / x.squaredNorm());
  };
  Eigen::Vector2d fit(alone(0), 0.0);
  if (rows > 1) {
    fit = least_squares(terms, loss);
    if (fit[0] < 0.0) fit = {0.0, alone(1)};
    if (fit[1] < 0.0) fit = {alone(0), 0.0};
  }
  inverter.linear = fit[0];
  inverter.quadratic = fit[1];
  return inverter;
}

InverterModel inverter_model(const Inverter& inverter) {
  return {true,
          inverter.rated_w,
          inverter.standby_w,
          inverter.linear,
          inverter.quadratic / inverter.rated_w,
          true};
}

}  // namespace dullspell
