#pragma once

#include <array>
#include <set>
#include <vector>

#include "weather/fit/temperature_fit.hpp"

namespace dullspell {

/// Gives the statistics of `months`, which were fitted to the same days, their standard errors: by
/// leaving out one year at a time (jackknife: Quenouille 1956, Tukey 1958), SE^2 = (n - 1)/n sum of
/// (estimate without year i - their mean)^2. No errors where a month then has too few days, or
/// there are too few of the temperatures that the whole record has: they hang on one year.
void set_jackknife_errors(const std::vector<UsableDay>& days, const std::set<int>& years,
                          StatedQuantiles quantiles, FittedTemperatures temperatures,
                          double latitude_deg, std::array<MonthStatistics, 12>& months);

}  // namespace dullspell
