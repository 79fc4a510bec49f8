#include "weather/fit/temperature_fit.hpp"

#include <algorithm>
#include <cmath>

#include "weather/place_climate.hpp"

namespace dullspell {
namespace {

constexpr int kLeastTemperaturesOfMonth = 15;  // half a month tells its mean within a kelvin or two
constexpr int kLeastPairs = 60;                // of days, for a correlation within 0.1
constexpr double kThird = 1.0 / 3.0;

struct MonthlyTemperatures {
  MonthValues means_c, ranges_c;
  MonthValues k;  // of the days that have a range
};

MonthlyTemperatures by_month(const std::vector<UsableDay>& days) {
  MonthlyTemperatures out;
  for (const auto& day : days) {
    const auto m = static_cast<std::size_t>(day.month);
    if (day.temp_mean_c) out.means_c[m].push_back(*day.temp_mean_c);
    if (day.temp_range_c) {
      out.ranges_c[m].push_back(*day.temp_range_c);
      out.k[m].push_back(day.k);
    }
  }
  return out;
}

bool enough(const MonthValues& values) {
  return std::all_of(values.begin(), values.end(),
                     [](const auto& v) { return v.size() >= kLeastTemperaturesOfMonth; });
}

MonthNumbers means_of(const MonthValues& values) {
  MonthNumbers out{};
  std::transform(values.begin(), values.end(), out.begin(), mean_of);
  return out;
}

// Anomalies are taken from the yearly curve: spring and autumn drift within a month is no weather.
void set_anomalies(std::vector<UsableDay>& days, const MonthNumbers& means_c) {
  const MonthlyCurve curve(means_c);
  for (auto& day : days) {
    if (day.temp_mean_c) day.temp_anomaly_c = *day.temp_mean_c - curve.at(day.date);
  }
}

// By month: mean square of the anomalies, their mean product with the sky's normal scores, and both
// sums of the regression of range on clearness.
struct Moments {
  MonthNumbers variance{}, with_sky{}, slope_top{}, slope_bottom{};
};

Moments moments_of(const std::vector<UsableDay>& days, const MonthNumbers& ranges_c,
                   const MonthNumbers& k_means) {
  Moments out;
  MonthNumbers count{};
  for (const auto& day : days) {
    const auto m = static_cast<std::size_t>(day.month);
    if (day.temp_anomaly_c) {
      count[m] += 1.0;
      out.variance[m] += *day.temp_anomaly_c * *day.temp_anomaly_c;
      out.with_sky[m] += *day.temp_anomaly_c * day.score;
    }
    if (day.temp_range_c) {
      const double dk = day.k - k_means[m];
      out.slope_top[m] += dk * (*day.temp_range_c - ranges_c[m]);
      out.slope_bottom[m] += dk * dk;
    }
  }
  for (std::size_t m = 0; m < 12; ++m) {
    out.variance[m] /= count[m];
    out.with_sky[m] /= count[m];
  }
  return out;
}

}  // namespace

FittedTemperatures fit_temperatures(std::vector<UsableDay>& days, RecordSpan span,
                                    std::array<MonthStatistics, 12>& months) {
  const MonthlyTemperatures monthly = by_month(days);
  if (!enough(monthly.means_c) || !enough(monthly.ranges_c)) return FittedTemperatures::none;
  const MonthNumbers means_c = means_of(monthly.means_c), ranges_c = means_of(monthly.ranges_c);
  set_anomalies(days, means_c);
  Moments moments = moments_of(days, ranges_c, means_of(monthly.k));
  if (span == RecordSpan::one_year) {
    for (MonthNumbers* numbers :
         {&moments.variance, &moments.with_sky, &moments.slope_top, &moments.slope_bottom}) {
      *numbers = pooled(*numbers, kThird);
    }
  }
  const LagCorrelation next_day =
      lag_correlation(days, 1, [](const auto& d) { return d.temp_anomaly_c; });
  const bool has_pairs = next_day.pairs >= kLeastPairs;
  for (std::size_t m = 0; m < 12; ++m) {
    MonthStatistics& month = months[m];
    const double sd_c = std::sqrt(moments.variance[m]);
    month.temp_mean_c = means_c[m];
    month.temp_range_c = ranges_c[m];
    month.temp_sd_c = sd_c;
    if (has_pairs) month.temp_persistence = std::clamp(next_day.r, 0.0, 0.9);
    month.temp_k_correlation = std::clamp(moments.with_sky[m] / std::max(0.1, sd_c), -0.8, 0.8);
    month.range_k_slope =
        moments.slope_bottom[m] > 0.0
            ? std::clamp(moments.slope_top[m] / moments.slope_bottom[m], 0.0, 30.0)
            : 0.0;
  }
  return has_pairs ? FittedTemperatures::all : FittedTemperatures::all_but_persistence;
}

}  // namespace dullspell
