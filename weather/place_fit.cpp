#include "weather/place_fit.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <stdexcept>

#include <fmt/format.h>
#include <Eigen/Core>

#include "weather/clearness_table.hpp"
#include "weather/place_climate.hpp"

namespace dullspell {
namespace {

constexpr int kLeastDaysOfMonth = 20;
constexpr double kOneYearPersistenceBias = 0.05;

struct UsableDay {
  Date date;
  int month;
  double k;
  double score = 0.0;  // normal score within the calendar month
  std::optional<double> temp_mean_c;
  std::optional<double> temp_range_c;
  double temp_anomaly_c = 0.0;
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

// Average over a month and its two neighbours.
std::array<double, 12> pooled(const std::array<double, 12>& values) {
  std::array<double, 12> out{};
  for (std::size_t m = 0; m < 12; ++m) {
    out[m] = (values[(m + 11) % 12] + values[m] + values[(m + 1) % 12]) / 3.0;
  }
  return out;
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

// Correlation of a quantity with itself `lag` days later, over pairs within one month of one year.
template <class Get>
double lag_correlation(const std::vector<UsableDay>& days, int lag, Get get) {
  double products = 0.0, squares = 0.0;
  for (std::size_t i = 0, j = 0; i < days.size(); ++i) {
    const Date later = days[i].date + std::chrono::days{lag};
    j = std::max(j, i);
    while (j < days.size() && days[j].date < later) ++j;
    if (j == days.size()) break;
    if (days[j].date != later || days[j].month != days[i].month) continue;
    const double a = get(days[i]), b = get(days[j]);
    products += a * b;
    squares += 0.5 * (a * a + b * b);
  }
  return squares > 0.0 ? products / squares : 0.0;
}

void fit_temperatures(std::vector<UsableDay>& days, bool pool, Place& place) {
  MonthValues means, ranges;
  for (const auto& day : days) {
    const auto m = static_cast<std::size_t>(day.month);
    if (day.temp_mean_c) means[m].push_back(*day.temp_mean_c);
    if (day.temp_range_c) ranges[m].push_back(*day.temp_range_c);
  }
  const auto enough = [](const MonthValues& values) {
    return std::all_of(values.begin(), values.end(),
                       [](const auto& v) { return v.size() >= kLeastDaysOfMonth; });
  };
  if (!enough(means) || !enough(ranges)) {
    place.defaults.emplace_back("temperatures");
    return;
  }
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
    const double range_mean = mean_of(ranges[m]);
    for (const auto& day : days) {
      if (day.month != static_cast<int>(m)) continue;
      if (day.temp_mean_c) {
        count += 1.0;
        squares += day.temp_anomaly_c * day.temp_anomaly_c;
        products += day.temp_anomaly_c * day.score;
      }
      if (day.temp_range_c) {
        const double dk = day.k - place.months[m].k_mean;
        slope_top[m] += dk * (*day.temp_range_c - range_mean);
        slope_bottom[m] += dk * dk;
      }
    }
    variance[m] = squares / count;
    with_sky[m] = products / count;
    place.months[m].temp_mean_c = month_means[m];
    place.months[m].temp_range_c = range_mean;
  }
  if (pool) {
    variance = pooled(variance);
    with_sky = pooled(with_sky);
    slope_top = pooled(slope_top);
    slope_bottom = pooled(slope_bottom);
  }
  const double persistence = std::clamp(
      lag_correlation(days, 1, [](const auto& d) { return d.temp_anomaly_c; }), 0.0, 0.9);
  for (std::size_t m = 0; m < 12; ++m) {
    MonthStatistics& month = place.months[m];
    month.temp_sd_c = std::sqrt(variance[m]);
    month.temp_persistence = persistence;
    month.temp_k_correlation = std::clamp(with_sky[m] / std::max(0.1, month.temp_sd_c), -0.8, 0.8);
    month.range_k_slope =
        slope_bottom[m] > 0.0 ? std::clamp(slope_top[m] / slope_bottom[m], 0.0, 30.0) : 0.0;
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
    UsableDay usable{day.date, month_index(day.date), k, 0.0, day.mean_temperature_c(), {}};
    if (day.temp_max_c && day.temp_min_c) usable.temp_range_c = *day.temp_max_c - *day.temp_min_c;
    days.push_back(usable);
    years.insert(int{std::chrono::year_month_day{day.date}.year()});
  }
  fit.days_used = static_cast<int>(days.size());
  fit.years = static_cast<int>(years.size());
  const bool one_year = fit.years <= 1 || place.record == RecordKind::typical_year;

  MonthValues k;
  for (const auto& day : days) k[static_cast<std::size_t>(day.month)].push_back(day.k);
  std::array<double, 12> variance{};
  for (std::size_t m = 0; m < 12; ++m) {
    if (k[m].size() < kLeastDaysOfMonth) {
      throw std::invalid_argument(fmt::format("month {} has {} usable days; {} are needed", m + 1,
                                              k[m].size(), kLeastDaysOfMonth));
    }
    place.months[m] = default_month(static_cast<int>(m), place.where.latitude_deg);
    place.months[m].k_mean = mean_of(k[m]);
    if (!(place.months[m].k_mean >= 0.02 && place.months[m].k_mean <= 0.80)) {
      throw std::invalid_argument(
          fmt::format("month {} has the mean clearness {:.3f}; 0.02 to 0.80 is possible: check "
                      "latitude and units",
                      m + 1, place.months[m].k_mean));
    }
    variance[m] = variance_of(k[m]);
  }
  if (one_year) variance = pooled(variance);
  for (std::size_t m = 0; m < 12; ++m) {
    MonthStatistics& month = place.months[m];
    const double sd = std::sqrt(variance[m]);
    const double limit = BetaClearness::largest_sd(month.k_mean, sd);
    if (sd >= limit) {
      place.notes.push_back(
          fmt::format("spread of month {} cut from {:.3f} to what its mean allows", m + 1, sd));
    }
    month.k_sd = std::max(0.005, std::min(sd, 0.999 * limit));
  }

  set_normal_scores(days);
  const auto score = [](const UsableDay& d) { return d.score; };
  fit.sky_lag1 = lag_correlation(days, 1, score);
  double share = default_year_share(RecordKind::typical_year);
  double phi = fit.sky_lag1 + kOneYearPersistenceBias;
  if (!one_year) {
    const double r1 = fit.sky_lag1, r2 = lag_correlation(days, 2, score);
    share = std::clamp((r2 - r1 * r1) / (1.0 + r2 - 2.0 * r1), 0.0, 0.25);
    phi = (r1 - share) / (1.0 - share);
  }
  for (MonthStatistics& month : place.months) {
    month.k_persistence = std::clamp(phi, 0.0, 0.8);
    month.k_year_share = share;
  }
  fit_temperatures(days, one_year, place);
  return fit;
}

}  // namespace dullspell
