#include "weather/place_fit.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <stdexcept>
#include <utility>

#include <fmt/format.h>
#include <Eigen/Core>

#include "weather/clearness_table.hpp"
#include "weather/place_climate.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {
namespace {

constexpr int kLeastDaysOfMonth = 20;
constexpr int kLeastTemperaturesOfMonth = 15;  // half a month tells its mean within a kelvin or two
constexpr int kLeastPairs = 60;                // of days, for a correlation within 0.1
constexpr double kOneYearPersistenceBias = 0.05;
constexpr double kThird = 1.0 / 3.0;
constexpr int kLeastYearsOfQuantiles = 8;
constexpr int kLeastYearsOfErrors = 3;
constexpr int kDaysOfTwoYears = 550;  // below that, the second year tells next to nothing of years
constexpr double kLeastMean = 0.02, kGreatestMean = 0.80;
constexpr double kLargestYearShare = 0.40;

struct UsableDay {
  Date date;
  int year;
  int month;
  double k;
  double score = 0.0;  // normal score within the calendar month
  std::optional<double> temp_mean_c;
  std::optional<double> temp_range_c;
  std::optional<double> temp_anomaly_c;
};

using MonthValues = std::array<std::vector<double>, 12>;

double mean_of(const std::vector<double>& values) {
  return Eigen::Map<const Eigen::ArrayXd>(values.data(), static_cast<Eigen::Index>(values.size()))
      .mean();
}

double sum_of_squares(const std::vector<double>& values, double centre) {
  return (Eigen::Map<const Eigen::ArrayXd>(values.data(),
                                           static_cast<Eigen::Index>(values.size())) -
          centre)
      .square()
      .sum();
}

double variance_of(const std::vector<double>& values) {
  return sum_of_squares(values, mean_of(values)) / (static_cast<double>(values.size()) - 1.0);
}

// Average over a month, with the weight `own`, and its two neighbours.
std::array<double, 12> pooled(const std::array<double, 12>& values, double own) {
  std::array<double, 12> out{};
  for (std::size_t m = 0; m < 12; ++m) {
    out[m] = own * values[m] + 0.5 * (1.0 - own) * (values[(m + 11) % 12] + values[(m + 1) % 12]);
  }
  return out;
}

MonthValues clearness_by_month(const std::vector<UsableDay>& days) {
  MonthValues k;
  for (const auto& day : days) k[static_cast<std::size_t>(day.month)].push_back(day.k);
  return k;
}

void set_normal_scores(std::vector<UsableDay>& days) {
  for (int m = 0; m < 12; ++m) {
    std::vector<UsableDay*> month;
    for (auto& day : days) {
      if (day.month == m) month.push_back(&day);
    }
    std::stable_sort(month.begin(), month.end(),
                     [](const auto* a, const auto* b) { return a->k < b->k; });
    const double count = static_cast<double>(month.size());
    for (std::size_t i = 0; i < month.size(); ++i) {
      month[i]->score = standard_normal_quantile((static_cast<double>(i) + 0.5) / count);
    }
  }
}

struct LagCorrelation {
  double r = 0.0;
  int pairs = 0;
};

// Correlation of a quantity with itself `lag` days later, over pairs within one month of one year
// whose days both have it.
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

// The days' quantiles. The two ends are no extremes of the record: they are put where a straight
// line gives the outermost twentieths of the days the mean that they had, since a single odd day
// would else stretch the whole tail. Last the mean is moved to `k_mean` by a hair.
std::array<double, 9> quantiles_of(std::vector<double> k, double k_mean) {
  std::sort(k.begin(), k.end());
  const double count = static_cast<double>(k.size());
  std::array<double, 9> out{};
  for (std::size_t i = 1; i < 8; ++i) {
    const double position = std::clamp(kQuantileProbabilities[i] * count - 0.5, 0.0, count - 1.0);
    const auto below = static_cast<std::size_t>(position);
    const std::size_t above = std::min(below + 1, k.size() - 1);
    out[i] = k[below] + (position - static_cast<double>(below)) * (k[above] - k[below]);
  }
  const std::ptrdiff_t outer = std::lround(0.05 * count);
  const double days = static_cast<double>(outer);
  const double dullest = std::accumulate(k.begin(), k.begin() + outer, 0.0) / days;
  const double clearest = std::accumulate(k.end() - outer, k.end(), 0.0) / days;
  out[0] = std::clamp(2.0 * dullest - out[1], 0.0, out[1]);
  out[8] = std::clamp(2.0 * clearest - out[7], out[7], 1.0);
  const double scale = k_mean / QuantileClearness(out).mean();
  for (double& q : out) q = std::min(1.0, q * scale);
  return out;
}

// Whether the days are enough for twelve months of statistics, and such as a model can have.
void check_months(const std::vector<UsableDay>& days) {
  const MonthValues k = clearness_by_month(days);
  for (std::size_t m = 0; m < 12; ++m) {
    if (k[m].size() < kLeastDaysOfMonth) {
      throw std::invalid_argument(fmt::format("month {} has {} usable days; {} are needed", m + 1,
                                              k[m].size(), kLeastDaysOfMonth));
    }
    const double k_mean = mean_of(k[m]);
    if (!(k_mean >= kLeastMean && k_mean <= kGreatestMean)) {
      throw std::invalid_argument(
          fmt::format("month {} has the mean clearness {:.3f}; {:.2f} to {:.2f} is possible: check "
                      "latitude and units",
                      m + 1, k_mean, kLeastMean, kGreatestMean));
    }
  }
}

// What a record of one year cannot tell is taken from its neighbours and from defaults.
struct Treatment {
  bool one_year;
  bool quantiles;
};

struct FittedSky {
  double lag1;
  std::vector<std::string> notes;
};

FittedSky fit_sky(std::vector<UsableDay>& days, const Treatment& treatment, double latitude_deg,
                  std::array<MonthStatistics, 12>& months) {
  FittedSky fitted{};
  const MonthValues k = clearness_by_month(days);
  std::array<double, 12> means{}, variance{};
  for (std::size_t m = 0; m < 12; ++m) {
    means[m] = mean_of(k[m]);
    variance[m] = variance_of(k[m]);
  }
  if (treatment.one_year) {
    means = pooled(means, 0.5);
    variance = pooled(variance, kThird);
  }
  for (std::size_t m = 0; m < 12; ++m) {
    months[m] = default_month(static_cast<int>(m), latitude_deg);
    MonthStatistics& month = months[m];
    month.k_mean = std::clamp(means[m], kLeastMean, kGreatestMean);
    const double sd = std::sqrt(variance[m]);
    const double limit = BetaClearness::largest_sd(month.k_mean.value, sd);
    if (sd >= limit) {
      fitted.notes.push_back(
          fmt::format("spread of month {} cut from {:.3f} to what its mean allows", m + 1, sd));
    }
    month.k_sd = std::max(0.005, std::min(sd, 0.999 * limit));
    if (treatment.quantiles) month.k_quantiles = quantiles_of(k[m], month.k_mean.value);
  }

  set_normal_scores(days);
  const auto score = [](const UsableDay& d) { return std::optional(d.score); };
  const double r1 = fitted.lag1 = lag_correlation(days, 1, score).r;
  double share = default_year_share(RecordKind::typical_year);
  double phi = r1 + kOneYearPersistenceBias;
  if (!treatment.one_year) {
    const double r2 = lag_correlation(days, 2, score).r;
    share = std::clamp((r2 - r1 * r1) / (1.0 + r2 - 2.0 * r1), 0.0, kLargestYearShare);
    phi = (r1 - share) / (1.0 - share);
  }
  for (MonthStatistics& month : months) {
    month.k_persistence = std::clamp(phi, 0.0, 0.8);
    month.k_year_share = share;
  }
  return fitted;
}

// What the record has enough temperatures for; the months keep their defaults of the rest.
enum class FittedTemperatures { none, all_but_persistence, all };

FittedTemperatures fit_temperatures(std::vector<UsableDay>& days, bool pool,
                                    std::array<MonthStatistics, 12>& months) {
  MonthValues means, ranges, k;
  for (const auto& day : days) {
    const auto m = static_cast<std::size_t>(day.month);
    if (day.temp_mean_c) means[m].push_back(*day.temp_mean_c);
    if (day.temp_range_c) {
      ranges[m].push_back(*day.temp_range_c);
      k[m].push_back(day.k);
    }
  }
  const auto enough = [](const MonthValues& values) {
    return std::all_of(values.begin(), values.end(),
                       [](const auto& v) { return v.size() >= kLeastTemperaturesOfMonth; });
  };
  if (!enough(means) || !enough(ranges)) return FittedTemperatures::none;
  std::array<double, 12> month_means{};
  for (std::size_t m = 0; m < 12; ++m) month_means[m] = mean_of(means[m]);
  // Anomalies are taken from the yearly curve: spring and autumn drift within a month is no
  // weather.
  const MonthlyCurve curve(month_means);
  for (auto& day : days) {
    if (day.temp_mean_c) day.temp_anomaly_c = *day.temp_mean_c - curve.at(day.date);
  }

  std::array<double, 12> variance{}, with_sky{}, slope_top{}, slope_bottom{};
  for (std::size_t m = 0; m < 12; ++m) {
    double count = 0.0, squares = 0.0, products = 0.0;
    const double range_mean = mean_of(ranges[m]), k_mean = mean_of(k[m]);
    for (const auto& day : days) {
      if (day.month != static_cast<int>(m)) continue;
      if (day.temp_mean_c) {
        count += 1.0;
        squares += *day.temp_anomaly_c * *day.temp_anomaly_c;
        products += *day.temp_anomaly_c * day.score;
      }
      if (day.temp_range_c) {
        const double dk = day.k - k_mean;
        slope_top[m] += dk * (*day.temp_range_c - range_mean);
        slope_bottom[m] += dk * dk;
      }
    }
    variance[m] = squares / count;
    with_sky[m] = products / count;
    months[m].temp_mean_c = month_means[m];
    months[m].temp_range_c = range_mean;
  }
  if (pool) {
    variance = pooled(variance, kThird);
    with_sky = pooled(with_sky, kThird);
    slope_top = pooled(slope_top, kThird);
    slope_bottom = pooled(slope_bottom, kThird);
  }
  const LagCorrelation next_day =
      lag_correlation(days, 1, [](const auto& d) { return d.temp_anomaly_c; });
  const bool has_pairs = next_day.pairs >= kLeastPairs;
  for (std::size_t m = 0; m < 12; ++m) {
    MonthStatistics& month = months[m];
    month.temp_sd_c = std::sqrt(variance[m]);
    if (has_pairs) month.temp_persistence = std::clamp(next_day.r, 0.0, 0.9);
    month.temp_k_correlation =
        std::clamp(with_sky[m] / std::max(0.1, month.temp_sd_c.value), -0.8, 0.8);
    month.range_k_slope =
        slope_bottom[m] > 0.0 ? std::clamp(slope_top[m] / slope_bottom[m], 0.0, 30.0) : 0.0;
  }
  return has_pairs ? FittedTemperatures::all : FittedTemperatures::all_but_persistence;
}

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

// Leaves out one year at a time. No errors where a month then has too few days, or there are too
// few of the temperatures that the whole record has: they hang on one year.
void set_jackknife_errors(const std::vector<UsableDay>& days, const std::set<int>& years,
                          const Treatment& treatment, FittedTemperatures temperatures,
                          double latitude_deg, std::array<MonthStatistics, 12>& months) {
  std::array<PerStatistic<std::vector<double>>, 12> estimates;
  for (const int left_out : years) {
    std::vector<UsableDay> others;
    others.reserve(days.size());
    std::copy_if(days.begin(), days.end(), std::back_inserter(others),
                 [&](const UsableDay& day) { return day.year != left_out; });
    const MonthValues k = clearness_by_month(others);
    if (std::any_of(k.begin(), k.end(),
                    [](const auto& m) { return m.size() < kLeastDaysOfMonth; })) {
      return;
    }
    std::array<MonthStatistics, 12> fitted{};
    fit_sky(others, treatment, latitude_deg, fitted);
    if (fit_temperatures(others, false, fitted) != temperatures) return;
    for (std::size_t m = 0; m < 12; ++m) {
      const PerStatistic<const Estimate*> stated = std::as_const(fitted[m]).estimates();
      for (std::size_t i = 0; i < kStatistics; ++i) {
        if (is_fitted(i, temperatures)) estimates[m][i].push_back(stated[i]->value);
      }
    }
  }
  for (std::size_t m = 0; m < 12; ++m) {
    for (std::size_t i = 0; i < kStatistics; ++i) {
      if (estimates[m][i].empty()) continue;
      months[m].estimates()[i]->standard_error = jackknife_error(estimates[m][i]);
    }
  }
}

}  // namespace

PlaceFit fit_place(const Place& frame, const std::vector<RecordedDay>& record) {
  PlaceFit fit;
  fit.place = frame;
  Place& place = fit.place;

  std::vector<UsableDay> days;
  std::set<int> years;
  for (const RecordedDay& day : record) {
    if (!day.ghi_kwh_m2) {
      ++fit.days_without_value;
      continue;
    }
    const double above_air_wh_m2 = extraterrestrial_of_date_wh_m2(day.date, place.where);
    const double k = above_air_wh_m2 > 0.0 ? *day.ghi_kwh_m2 * 1000.0 / above_air_wh_m2 : -1.0;
    if (!(k >= 0.0 && k <= 1.0)) {
      ++fit.days_impossible;
      continue;
    }
    const int year{std::chrono::year_month_day{day.date}.year()};
    UsableDay usable{day.date, year, month_index(day.date), k, 0.0, day.mean_temperature_c(),
                     {},       {}};
    if (day.temp_max_c && day.temp_min_c) usable.temp_range_c = *day.temp_max_c - *day.temp_min_c;
    days.push_back(usable);
    years.insert(year);
  }
  fit.days_used = static_cast<int>(days.size());
  fit.years = static_cast<int>(years.size());
  if (!years.empty()) {
    fit.first_year = *years.begin();
    fit.last_year = *years.rbegin();
  }
  fit.one_year = fit.days_used < kDaysOfTwoYears || place.record == RecordKind::typical_year;
  const Treatment treatment{fit.one_year, !fit.one_year && fit.years >= kLeastYearsOfQuantiles};

  check_months(days);
  FittedSky sky = fit_sky(days, treatment, place.where.latitude_deg, place.months);
  fit.sky_lag1 = sky.lag1;
  place.notes.insert(place.notes.end(), sky.notes.begin(), sky.notes.end());
  const FittedTemperatures temperatures = fit_temperatures(days, fit.one_year, place.months);
  if (temperatures == FittedTemperatures::none) place.defaults.emplace_back("temperatures");
  if (temperatures == FittedTemperatures::all_but_persistence) {
    place.defaults.emplace_back("persistence of temperature (0.60)");
  }
  place.record_years = fit.one_year ? 1.0 : fit.days_used / 365.25;
  if (!fit.one_year && fit.years >= kLeastYearsOfErrors) {
    set_jackknife_errors(days, years, treatment, temperatures, place.where.latitude_deg,
                         place.months);
  }
  return fit;
}

}  // namespace dullspell
