#pragma once

#include <array>
#include <cstddef>

namespace dullspell {

inline constexpr std::size_t kStatistics = 10;

/// One entry for each number by which a month, or a date, states its weather.
template <class T>
struct PerStatistic {
  T k_mean{};              ///< mean daily clearness index
  T k_sd{};                ///< standard deviation of daily clearness
  T k_persistence{};       ///< lag-1 correlation of Z, what is left of chi after the year's part
  T k_year_share{};        ///< share of chi's variance common to a month of one year
  T temp_mean_c{};         ///< mean of the days' (max + min) / 2
  T temp_range_c{};        ///< mean daily max - min
  T temp_sd_c{};           ///< standard deviation of the daily mean
  T temp_persistence{};    ///< lag-1 correlation of the daily mean
  T temp_k_correlation{};  ///< correlation of the daily mean with chi
  T range_k_slope{};       ///< K of daily range per unit of clearness index

  /// In the order above, 0..kStatistics - 1. Draws are keyed by it: new ones go to the end.
  T& operator[](std::size_t i) { return this->*fields()[i]; }
  const T& operator[](std::size_t i) const { return this->*fields()[i]; }

 private:
  static constexpr std::array<T PerStatistic::*, kStatistics> fields() {
    return {&PerStatistic::k_mean,
            &PerStatistic::k_sd,
            &PerStatistic::k_persistence,
            &PerStatistic::k_year_share,
            &PerStatistic::temp_mean_c,
            &PerStatistic::temp_range_c,
            &PerStatistic::temp_sd_c,
            &PerStatistic::temp_persistence,
            &PerStatistic::temp_k_correlation,
            &PerStatistic::range_k_slope};
  }
};

}  // namespace dullspell
