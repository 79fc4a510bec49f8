#pragma once

#include <Eigen/Core>

namespace dullspell {

/// A function of a standard normal deviate, tabulated at equal steps so that no transcendental
/// function is evaluated while stays run. Linear in between and constant beyond |x| = 6.
class NormalTable {
 public:
  static constexpr int kCells = 256;
  static constexpr double kLowest = -6.0;
  static constexpr double kCellsPerUnit = kCells / 12.0;
  using Values = Eigen::Array<double, kCells + 1, 1>;

  NormalTable() : values_(Values::Zero()) {}
  explicit NormalTable(const Values& values) : values_(values) {}

  template <class F>
  static NormalTable of(F f) {
    Values values;
    for (int i = 0; i <= kCells; ++i) values[i] = f(kLowest + i / kCellsPerUnit);
    return NormalTable(values);
  }

  double operator()(double x) const {
    const double position = (x - kLowest) * kCellsPerUnit;
    const double clipped = position < 0.0 ? 0.0 : position > kCells ? kCells : position;
    int cell = static_cast<int>(clipped);
    cell = cell < kCells ? cell : kCells - 1;
    const double weight = clipped - cell;
    return values_[cell] + weight * (values_[cell + 1] - values_[cell]);
  }

  const Values& values() const { return values_; }

 private:
  Values values_;
};

}  // namespace dullspell
