#include "weather/fit/usable_days.hpp"

#include <Eigen/Core>

namespace dullspell {
namespace {

using Values = Eigen::Map<const Eigen::ArrayXd>;

Values array_of(const std::vector<double>& values) {
  return {values.data(), static_cast<Eigen::Index>(values.size())};
}

}  // namespace

MonthValues clearness_by_month(const std::vector<UsableDay>& days) {
  MonthValues k;
  for (const auto& day : days) k[static_cast<std::size_t>(day.month)].push_back(day.k);
  return k;
}

double mean_of(const std::vector<double>& values) {
  return array_of(values).mean();
}

double variance_of(const std::vector<double>& values) {
  const double squares = (array_of(values) - mean_of(values)).square().sum();
  return squares / (static_cast<double>(values.size()) - 1.0);
}

MonthNumbers pooled(const MonthNumbers& values, double own) {
  MonthNumbers out{};
  for (std::size_t m = 0; m < 12; ++m) {
    out[m] = own * values[m] + 0.5 * (1.0 - own) * (values[(m + 11) % 12] + values[(m + 1) % 12]);
  }
  return out;
}

}  // namespace dullspell
