#include "weather/clearness_table.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <boost/math/special_functions/erf.hpp>

#include "weather/grid_rounding.hpp"

namespace dullspell {
namespace {

// Midpoint rule over chi in -8..8: spectrally accurate for smooth integrands under a normal weight,
// and good to 1e-6 for the table's broken lines.
constexpr std::size_t kNodes = 1600;
constexpr double kReach = 8.0;

struct NormalNodes {
  std::array<double, kNodes> x{}, weight{};
  double weights = 0.0;

  NormalNodes() {
    constexpr double step = 2.0 * kReach / kNodes;
    for (std::size_t i = 0; i < kNodes; ++i) {
      x[i] = -kReach + (static_cast<double>(i) + 0.5) * step;
      weight[i] = std::exp(-0.5 * x[i] * x[i]);
      weights += weight[i];
    }
  }
};

template <class F>
double normal_mean(F f) {
  static const NormalNodes nodes;
  double sum = 0.0;
  for (std::size_t i = 0; i < kNodes; ++i) sum += nodes.weight[i] * f(nodes.x[i]);
  return sum / nodes.weights;
}

}  // namespace

double standard_normal_cdf(double chi) {
  return 0.5 * std::erfc(-chi / std::numbers::sqrt2);
}

double standard_normal_quantile(double p) {
  return -std::numbers::sqrt2 * boost::math::erfc_inv(2.0 * p);
}

ClearnessTable::ClearnessTable(const ClearnessDistribution& distribution)
    : k_of_chi_(NormalFunction::of(
          [&](double chi) { return quantile(distribution, standard_normal_cdf(chi)); })) {}

ClearnessTable ClearnessTable::blend(const ClearnessTable& a, const ClearnessTable& b,
                                     double weight) {
  Values values;
  std::transform(a.values().begin(), a.values().end(), b.values().begin(), values.begin(),
                 [&](double k_a, double k_b) { return (1.0 - weight) * k_a + weight * k_b; });
  return ClearnessTable(NormalFunction(values));
}

template <class Change>
ClearnessTable ClearnessTable::changed(Change change) const {
  Values values;
  std::transform(this->values().begin(), this->values().end(), values.begin(), change);
  return ClearnessTable(NormalFunction(values));
}

ClearnessTable ClearnessTable::moved(double centre, double new_centre, double stretch) const {
  return changed(
      [&](double k) { return std::min(std::max(new_centre + stretch * (k - centre), 0.0), 1.0); });
}

ClearnessTable ClearnessTable::rounded() const {
  return changed([](double k) { return on_grid(k); });
}

double ClearnessTable::chi_of(double k) const {
  const double* begin = values().data();
  const double* end = begin + values().size();
  // `above` is the first entry beyond k; the one before it is not.
  const auto crossing = [&](const double* above) {
    if (above == begin) return kLowest;
    if (above == end) return -kLowest;
    const double cell = static_cast<double>(above - begin) - 1.0;
    return kLowest + (cell + (k - above[-1]) / (above[0] - above[-1])) / kCellsPerUnit;
  };
  return 0.5 *
         (crossing(std::lower_bound(begin, end, k)) + crossing(std::upper_bound(begin, end, k)));
}

double ClearnessTable::mean() const {
  return normal_mean([this](double chi) { return (*this)(chi); });
}

double ClearnessTable::sd() const {
  const double m = mean();
  return std::sqrt(normal_mean([&](double chi) {
    const double d = (*this)(chi)-m;
    return d * d;
  }));
}

double clearness_correlation(const ClearnessTable& today, const ClearnessTable& tomorrow,
                             double r) {
  const double mean_a = today.mean(), mean_b = tomorrow.mean();
  const double spread = std::sqrt(1.0 - r * r);
  // Given today's chi, tomorrow's is N(r chi, 1 - r^2): its expected K is one more normal mean.
  const double covariance = normal_mean([&](double chi) {
    const double expected = normal_mean([&](double e) { return tomorrow(r * chi + spread * e); });
    return (today(chi) - mean_a) * (expected - mean_b);
  });
  return covariance / (today.sd() * tomorrow.sd());
}

}  // namespace dullspell
