#include "tests/calibration/score.hpp"

#include <array>
#include <cmath>

namespace dullspell::calibration {

Score score_of(const std::vector<Verdict>& verdicts,
               const std::function<bool(const Verdict&)>& counts) {
  Score score;
  double squares = 0.0, noise = 0.0;
  for (const Verdict& v : verdicts) {
    if (counts && !counts(v)) continue;
    const double error = v.predicted - v.measured;
    ++score.verdicts;
    score.bias += error;
    squares += error * error;
    noise += v.noise * v.noise;
  }
  const double n = static_cast<double>(score.verdicts);
  score.bias /= n;
  score.rms = std::sqrt(squares / n);
  score.noise = std::sqrt(noise / n);
  return score;
}

std::vector<ReliabilityPoint> reliability(const std::vector<Verdict>& verdicts) {
  constexpr std::array kEdges{0.0,  0.02, 0.05, 0.10, 0.20, 0.30,     0.40,
                              0.50, 0.60, 0.70, 0.80, 0.90, 1.0000001};
  std::vector<ReliabilityPoint> points;
  for (std::size_t bin = 0; bin + 1 < kEdges.size(); ++bin) {
    ReliabilityPoint point;
    for (const Verdict& v : verdicts) {
      if (v.predicted < kEdges[bin] || v.predicted >= kEdges[bin + 1]) continue;
      ++point.verdicts;
      point.predicted += v.predicted;
      point.measured += v.measured;
      point.noise += v.noise * v.noise;
      point.spread += (v.predicted - v.measured) * (v.predicted - v.measured);
    }
    if (point.verdicts == 0) continue;
    const double n = static_cast<double>(point.verdicts);
    point.predicted /= n;
    point.measured /= n;
    point.noise = std::sqrt(point.noise / n);
    point.spread = std::sqrt(point.spread / n);
    points.push_back(point);
  }
  return points;
}

void Coverage::operator+=(const Coverage& other) {
  cases += other.cases;
  inside += other.inside;
  below += other.below;
  above += other.above;
}

}  // namespace dullspell::calibration
