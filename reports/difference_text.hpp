#pragma once

#include <string>

#include "engine/statistics/paired_difference.hpp"
#include "reports/data.hpp"

namespace dullspell {

/// Differences of shares in points (of a hundred stays), with no more digits than their interval
/// supports.

/// "−12.1", "+0.4", "0".
std::string signed_points(const PairedDifference& difference);

/// The same without its sign: "12.1 points".
std::string points(const PairedDifference& difference);

/// "11.7–12.5", "−1 to +3", of an interval of shares.
std::string points_range(const Interval& interval);

/// "−12.5 to −11.7".
std::string signed_points_range(const Interval& interval);
std::string signed_points_interval(const PairedDifference& difference);

/// "12.1 points (11.7–12.5)", whichever sign it has; to be used where the interval leaves out zero.
std::string points_in_words(const PairedDifference& difference);

/// "0.42", "−0.42" hours and "−0.45 to −0.39".
std::string hours(const MeanDifference& difference);
std::string signed_hours(const MeanDifference& difference);
std::string signed_hours_interval(const MeanDifference& difference);

/// "150,000": two digits, rounded up.
std::string about(double stays);

/// {difference, low, high, only_first, only_second, is_clear}, as shares.
Data difference_data(const PairedDifference& difference);
Data difference_data(const MeanDifference& difference);

}  // namespace dullspell
