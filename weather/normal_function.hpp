#pragma once

#include <array>
#include <cstddef>

namespace dullspell {

/// A function of a standard normal deviate, tabulated at equal steps so that no transcendental
/// function is evaluated while stays run. Linear in between and constant beyond |x| = 6.
class NormalFunction {
 public:
  static constexpr int kCells = 256;
  static constexpr double kLowest = -6.0;
  static constexpr double kCellsPerUnit = kCells / 12.0;
  using Values = std::array<double, kCells + 1>;

  NormalFunction() : values_{} {}
  explicit NormalFunction(const Values& values) : values_(values) {}

  template <class F>
  static NormalFunction of(F f) {
    Values values;
    for (int i = 0; i <= kCells; ++i) {
      values[static_cast<std::size_t>(i)] = f(kLowest + i / kCellsPerUnit);
    }
    return NormalFunction(values);
  }

  double operator()(double x) const {
    const double position = (x - kLowest) * kCellsPerUnit;
    const double clipped = position < 0.0 ? 0.0 : position > kCells ? kCells : position;
    int cell = static_cast<int>(clipped);
    cell = cell < kCells ? cell : kCells - 1;
    const double weight = clipped - cell;
    const auto below = static_cast<std::size_t>(cell);
    return values_[below] + weight * (values_[below + 1] - values_[below]);
  }

  const Values& values() const { return values_; }

 private:
  Values values_;
};

}  // namespace dullspell
