#include "weather/place.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dullspell {
namespace {

template <class E, class Month>
PerStatistic<E*> estimates_of(Month& month) {
  return {&month.k_mean,
          month.k_sd ? &*month.k_sd : nullptr,
          &month.k_persistence,
          &month.k_year_share,
          month.temp_mean_c ? &*month.temp_mean_c : nullptr,
          &month.temp_range_c,
          &month.temp_sd_c,
          &month.temp_persistence,
          &month.temp_k_correlation,
          &month.range_k_slope};
}

}  // namespace

PerStatistic<Estimate*> MonthStatistics::estimates() {
  return estimates_of<Estimate>(*this);
}

PerStatistic<const Estimate*> MonthStatistics::estimates() const {
  return estimates_of<const Estimate>(*this);
}

std::string to_string(RecordKind kind) {
  switch (kind) {
    case RecordKind::measured:
      return "measured";
    case RecordKind::typical_year:
      return "typical-year";
    case RecordKind::monthly_means:
      return "monthly-means";
    case RecordKind::estimated:
      return "estimated";
    case RecordKind::blended:
      return "blended";
  }
  return {};
}

std::optional<RecordKind> record_kind(std::string_view word) {
  for (const auto kind : kRecordKinds) {
    if (word == to_string(kind)) return kind;
  }
  return std::nullopt;
}

ClearnessDistribution clearness_distribution_with_mean(const MonthStatistics& month,
                                                       double k_mean) {
  if (month.k_quantiles) {
    const double stated = QuantileClearness(*month.k_quantiles).mean();
    std::array<double, 9> scaled = *month.k_quantiles;
    for (double& k : scaled) k = std::min(1.0, k * k_mean / stated);
    return QuantileClearness(scaled);
  }
  if (month.k_sd) {
    // A mean moved by blending may leave the spread no room at the very edge.
    const double sd =
        std::min(month.k_sd->value, 0.999 * BetaClearness::largest_sd(k_mean, month.k_sd->value));
    return BetaClearness(k_mean, sd);
  }
  return HollandsHugetClearness(k_mean);
}

ClearnessDistribution clearness_distribution(const MonthStatistics& month) {
  return clearness_distribution_with_mean(
      month, month.k_quantiles ? QuantileClearness(*month.k_quantiles).mean() : month.k_mean.value);
}

MonthStatistics default_month(int month, double latitude_deg) {
  const int northern = latitude_deg < 0.0 ? month + 6 : month;
  const double winter = std::cos(2.0 * std::numbers::pi * northern / 12.0);
  MonthStatistics out;
  out.k_persistence = kDefaultPersistence;
  out.temp_range_c = {11.0, 3.4};
  out.temp_sd_c = {3.2 + 1.2 * winter, 1.1};
  out.temp_persistence = {0.60, 0.09};
  out.temp_k_correlation = {-0.20 * winter, 0.21};
  out.range_k_slope = {12.5, 6.0};
  return out;
}

double default_year_share(RecordKind kind) {
  switch (kind) {
    case RecordKind::typical_year:
    case RecordKind::estimated:
      return 0.08;
    case RecordKind::measured:
    case RecordKind::monthly_means:
    case RecordKind::blended:
      return 0.0;
  }
  return 0.0;
}

bool offset_fits(double utc_offset_h, const Coordinates& where) {
  const double apart_h = std::remainder(utc_offset_h - where.longitude_deg / 15.0, 24.0);
  return std::abs(apart_h) <= kMostOffset_h;
}

double mean_extraterrestrial_wh_m2(int month, const Coordinates& where) {
  const Date first = make_date(2023, static_cast<unsigned>(month) + 1, 1);
  const int days = days_in_month(first);
  double sum = 0.0;
  for (int d = 0; d < days; ++d) {
    sum += extraterrestrial_of_date_wh_m2(first + std::chrono::days{d}, where);
  }
  return sum / days;
}

}  // namespace dullspell
