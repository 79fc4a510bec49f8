#pragma once

#include <vector>

#include "weather/place.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// A place made from a record, and what a person should know about the record.
struct PlaceFit {
  Place place;
  int years = 0;  ///< calendar years with days that were used
  int first_year = 0, last_year = 0;
  int days_used = 0;
  int days_without_value = 0;  ///< no irradiation in the record
  int days_impossible = 0;     ///< clearness below 0 or above 1: left out
  double sky_lag1 = 0.0;       ///< lag-1 correlation of normal scores, as found
  bool one_year = false;       ///< treated as a single year, which cannot show how years differ
};

/// Fits twelve months of statistics to daily records. `frame` gives id, name, coordinates, offset,
/// source and kind of record.
///
/// Clearness is irradiation over our own extraterrestrial irradiation (1361 W/m2). Persistence
/// comes from the normal scores of the days (rank within the calendar month), pooled over the year.
/// A record of less than 550 days, or of kind typical_year, cannot show what years differ by: a
/// month's mean takes a quarter from each neighbour (single months miss the long-term mean by
/// 0.050, so pooled ones by 0.036), its spread is pooled over three months, its persistence raised
/// by 0.05 (short records bias it low), and the default year share is used. With more years the
/// share follows from the lag-1 and lag-2 correlations r1, r2 = s + (1 - s) phi^1,2, hence s = (r2
/// - r1^2) / (1 + r2 - 2 r1). From eight years on the days' quantiles are stated too (plotting
/// positions of Hazen 1914, at (i - 1/2) / n), scaled by a hair so that they keep the mean.
///
/// With three years or more, standard errors come from leaving out one year at a time (jackknife:
/// Quenouille 1956, Tukey 1958): SE^2 = (n - 1)/n sum of (estimate without year i - their mean)^2.
/// None are stated where a month's days, or its temperatures, hang on a single year.
/// Temperatures are left to their defaults where a month has fewer than 15 days with them; their
/// persistence, where fewer than 60 pairs of neighbouring days both have one.
///
/// Throws std::invalid_argument, in words for people, if a month has fewer than 20 usable days or
/// its clearness cannot be modelled (a mean outside 0.02..0.80).
PlaceFit fit_place(const Place& frame, const std::vector<RecordedDay>& days);

}  // namespace dullspell
