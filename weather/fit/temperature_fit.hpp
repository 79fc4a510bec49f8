#pragma once

#include <array>
#include <vector>

#include "weather/fit/sky_fit.hpp"

namespace dullspell {

/// What a record has enough temperatures for; months keep their defaults of the rest.
enum class FittedTemperatures { none, all_but_persistence, all };

/// Fits the statistics of temperature to days whose normal scores are set, and sets their
/// anomalies. A record of one year has all but means and ranges pooled over three months.
FittedTemperatures fit_temperatures(std::vector<UsableDay>& days, RecordSpan span,
                                    std::array<MonthStatistics, 12>& months);

}  // namespace dullspell
