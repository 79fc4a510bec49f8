#include "weather/fit/jackknife.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>
#include <utility>

namespace dullspell {
namespace {

using Estimates = PerStatistic<std::vector<double>>;

// The number of the first statistic of temperature, and of their persistence.
constexpr std::size_t kTempMean = 4, kTempPersistence = 7;

// Whether a statistic comes from the record, and not from defaults, which have errors of their own.
bool is_fitted(std::size_t statistic, FittedTemperatures temperatures) {
  return statistic < kTempMean || temperatures == FittedTemperatures::all ||
         (temperatures == FittedTemperatures::all_but_persistence && statistic != kTempPersistence);
}

double jackknife_error(const std::vector<double>& estimates) {
  const double n = static_cast<double>(estimates.size());
  const double centre = std::accumulate(estimates.begin(), estimates.end(), 0.0) / n;
  const double squares =
      std::accumulate(estimates.begin(), estimates.end(), 0.0, [&](double sum, double e) {
        const double from_centre = e - centre;
        return sum + from_centre * from_centre;
      });
  return std::sqrt((n - 1.0) / n * squares);
}

std::vector<UsableDay> without_year(const std::vector<UsableDay>& days, int year) {
  std::vector<UsableDay> others;
  others.reserve(days.size());
  std::copy_if(days.begin(), days.end(), std::back_inserter(others),
               [&](const UsableDay& day) { return day.year != year; });
  return others;
}

bool has_full_months(const std::vector<UsableDay>& days) {
  const MonthValues k = clearness_by_month(days);
  return std::all_of(k.begin(), k.end(),
                     [](const auto& m) { return m.size() >= kLeastDaysOfMonth; });
}

void add_estimates(const MonthStatistics& month, FittedTemperatures temperatures, Estimates& to) {
  const PerStatistic<const Estimate*> stated = month.estimates();
  for (std::size_t i = 0; i < kStatistics; ++i) {
    if (is_fitted(i, temperatures)) to[i].push_back(stated[i]->value);
  }
}

}  // namespace

void set_jackknife_errors(const std::vector<UsableDay>& days, const std::set<int>& years,
                          StatedQuantiles quantiles, FittedTemperatures temperatures,
                          double latitude_deg, std::array<MonthStatistics, 12>& months) {
  std::array<Estimates, 12> estimates;
  for (const int left_out : years) {
    std::vector<UsableDay> others = without_year(days, left_out);
    if (!has_full_months(others)) return;
    std::array<MonthStatistics, 12> fitted{};
    fit_sky(others, {RecordSpan::years, quantiles}, latitude_deg, fitted);
    if (fit_temperatures(others, RecordSpan::years, fitted) != temperatures) return;
    for (std::size_t m = 0; m < 12; ++m) add_estimates(fitted[m], temperatures, estimates[m]);
  }
  for (std::size_t m = 0; m < 12; ++m) {
    for (std::size_t i = 0; i < kStatistics; ++i) {
      if (estimates[m][i].empty()) continue;
      months[m].estimates()[i]->standard_error = jackknife_error(estimates[m][i]);
    }
  }
}

}  // namespace dullspell
