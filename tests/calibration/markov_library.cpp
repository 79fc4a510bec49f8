#include "tests/calibration/markov_library.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include <fmt/format.h>
#include <Eigen/LU>

#include "weather/input/csv_table.hpp"

namespace dullspell::calibration {
namespace {

constexpr std::size_t kFirstProbability = 5;

std::vector<std::string> columns() {
  std::vector<std::string> out{"matrix", "ktm_upper", "kt_min", "kt_max", "row"};
  for (int j = 1; j <= kClasses; ++j) out.push_back(fmt::format("p{}", j));
  return out;
}

double uniform(RandomStream& stream) {
  constexpr double kWords = 4294967296.0;
  return (stream() + 0.5) / kWords;
}

// pi (P - 1) = 0 with one equation replaced by sum pi = 1. Classes that no other leads to get 0.
ClassVector stationary_of(const ClassMatrix& step) {
  ClassMatrix equations = step.transpose() - ClassMatrix::Identity();
  equations.row(kClasses - 1).setOnes();
  ClassVector right = ClassVector::Zero();
  right(kClasses - 1) = 1.0;
  const ClassVector solution = equations.fullPivLu().solve(right);
  return solution.cwiseMax(0.0) / solution.cwiseMax(0.0).sum();
}

}  // namespace

MarkovMonth::MarkovMonth(const ClassMatrix& step, double k_min, double k_max)
    : step_(step), k_min_(k_min), width_((k_max - k_min) / kClasses) {
  for (int i = 0; i < kClasses; ++i) step_.row(i) /= step_.row(i).sum();
  stationary_ = stationary_of(step_);
  cumulative_ = step_;
  cumulative_stationary_ = stationary_;
  for (int j = 1; j < kClasses; ++j) {
    cumulative_.col(j) += cumulative_.col(j - 1);
    cumulative_stationary_(j) += cumulative_stationary_(j - 1);
  }
}

ClassVector MarkovMonth::centres() const {
  return ClassVector::LinSpaced(kClasses, k_min_ + 0.5 * width_,
                                k_min_ + (kClasses - 0.5) * width_);
}

double MarkovMonth::mean() const {
  return stationary_.dot(centres());
}

double MarkovMonth::sd() const {
  const double between = stationary_.dot(centres().cwiseAbs2()) - mean() * mean();
  return std::sqrt(between + width_ * width_ / 12.0);
}

double MarkovMonth::lag1() const {
  const ClassVector k = centres();
  return (stationary_.cwiseProduct(k).dot(step_ * k) - mean() * mean()) / (sd() * sd());
}

void MarkovMonth::draw(RandomStream& stream, std::span<double> k) const {
  int today = 0;
  for (std::size_t d = 0; d < k.size(); ++d) {
    const double u = uniform(stream);
    const auto below = [&](int j) {
      return d == 0 ? cumulative_stationary_(j) : cumulative_(today, j);
    };
    int next = 0;
    while (next + 1 < kClasses && below(next) <= u) ++next;
    const double from = next == 0 ? 0.0 : below(next - 1);
    // Where u fell within the class's part is uniform too.
    const double position = std::clamp((u - from) / (below(next) - from), 0.0, 1.0);
    k[d] = k_min_ + (next + position) * width_;
    today = next;
  }
}

MarkovLibrary::MarkovLibrary(const SourceText& source) {
  CsvTable table(source, CsvDelimiter::comma, columns());
  ClassMatrix step;
  while (table.next()) {
    const int row = static_cast<int>(table.required_number(4));
    for (int j = 0; j < kClasses; ++j) {
      step(row - 1, j) = table.required_number(kFirstProbability + static_cast<std::size_t>(j));
    }
    if (row < kClasses) continue;
    months_.emplace_back(step, table.required_number(2), table.required_number(3));
    upper_means_.push_back(table.required_number(1));
  }
}

const MarkovMonth& MarkovLibrary::month_of(double k_mean) const {
  const auto found = std::lower_bound(upper_means_.begin(), upper_means_.end() - 1, k_mean);
  return months_[static_cast<std::size_t>(found - upper_means_.begin())];
}

void MarkovLibrary::draw(double k_mean, RandomStream& stream, std::span<double> k) const {
  const MarkovMonth& month = month_of(k_mean);
  month.draw(stream, k);
  const double scale = k_mean / month.mean();
  for (double& day : k) day *= scale;
}

}  // namespace dullspell::calibration
