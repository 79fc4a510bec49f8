#pragma once

#include <algorithm>
#include <array>
#include <chrono>
#include <optional>
#include <vector>

#include "weather/calendar.hpp"

namespace dullspell {

/// A day of a record whose clearness can be: what months are fitted to.
struct UsableDay {
  Date date;
  int year = 0;
  int month = 0;       ///< 0..11
  double k = 0.0;      ///< clearness index, 0..1
  double score = 0.0;  ///< normal score of k within the calendar month
  std::optional<double> temp_mean_c;
  std::optional<double> temp_range_c;    ///< max - min
  std::optional<double> temp_anomaly_c;  ///< from the yearly curve of means
};

using MonthNumbers = std::array<double, 12>;
using MonthValues = std::array<std::vector<double>, 12>;

MonthValues clearness_by_month(const std::vector<UsableDay>& days);

/// Of at least one value, and of two.
double mean_of(const std::vector<double>& values);
double variance_of(const std::vector<double>& values);

/// Average over a month, with the weight `own`, and its two neighbours.
MonthNumbers pooled(const MonthNumbers& values, double own);

struct LagCorrelation {
  double r = 0.0;
  int pairs = 0;
};

/// Correlation of a quantity with itself `lag` days later, over pairs within one month of one year
/// whose days both have it. `get` gives an optional number of a day; `days` are in order of time.
template <class Get>
LagCorrelation lag_correlation(const std::vector<UsableDay>& days, int lag, Get get) {
  double products = 0.0, squares = 0.0;
  int pairs = 0;
  for (std::size_t i = 0, j = 0; i < days.size(); ++i) {
    const Date later = days[i].date + std::chrono::days{lag};
    j = std::max(j, i);
    while (j < days.size() && days[j].date < later) ++j;
    if (j == days.size()) break;
    if (days[j].date != later || days[j].month != days[i].month) continue;
    const std::optional<double> a = get(days[i]), b = get(days[j]);
    if (!a || !b) continue;
    products += *a * *b;
    squares += 0.5 * (*a * *a + *b * *b);
    ++pairs;
  }
  return {squares > 0.0 ? products / squares : 0.0, pairs};
}

}  // namespace dullspell
