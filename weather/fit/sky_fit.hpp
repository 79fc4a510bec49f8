#pragma once

#include <array>
#include <string>
#include <vector>

#include "weather/fit/usable_days.hpp"
#include "weather/place.hpp"

namespace dullspell {

/// Days that a month needs.
constexpr int kLeastDaysOfMonth = 20;

enum class RecordSpan { one_year, years };
enum class StatedQuantiles { no, yes };

/// What a record of one year cannot tell is taken from its neighbours and from defaults.
struct SkyTreatment {
  RecordSpan span;
  StatedQuantiles quantiles;
};

struct FittedSky {
  double lag1;  ///< lag-1 correlation of normal scores, as found
  std::vector<std::string> notes;
};

/// Throws std::invalid_argument, in words for people, unless every month has kLeastDaysOfMonth days
/// and a mean clearness such as a model can have.
void check_months(const std::vector<UsableDay>& days);

/// Fits the statistics of clearness, each month's defaults in all else, and sets the days' normal
/// scores. Every month needs two days at least.
FittedSky fit_sky(std::vector<UsableDay>& days, const SkyTreatment& treatment, double latitude_deg,
                  std::array<MonthStatistics, 12>& months);

}  // namespace dullspell
