#include "weather/fit/sky_fit.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include <fmt/format.h>

#include "weather/clearness_table.hpp"

namespace dullspell {
namespace {

constexpr double kOneYearPersistenceBias = 0.05;
constexpr double kThird = 1.0 / 3.0;
constexpr double kLeastMean = 0.02, kGreatestMean = 0.80;
constexpr double kLargestYearShare = 0.40;

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

// Mean, spread and quantiles of each month; notes what had to be cut.
std::vector<std::string> fit_distributions(const MonthValues& k, const SkyTreatment& treatment,
                                           std::array<MonthStatistics, 12>& months) {
  std::vector<std::string> notes;
  MonthNumbers means{}, variance{};
  for (std::size_t m = 0; m < 12; ++m) {
    means[m] = mean_of(k[m]);
    variance[m] = variance_of(k[m]);
  }
  if (treatment.span == RecordSpan::one_year) {
    means = pooled(means, 0.5);
    variance = pooled(variance, kThird);
  }
  for (std::size_t m = 0; m < 12; ++m) {
    MonthStatistics& month = months[m];
    const double k_mean = std::clamp(means[m], kLeastMean, kGreatestMean);
    const double sd = std::sqrt(variance[m]);
    const double limit = BetaClearness::largest_sd(k_mean, sd);
    if (sd >= limit) {
      notes.push_back(
          fmt::format("spread of month {} cut from {:.3f} to what its mean allows", m + 1, sd));
    }
    month.k_mean = k_mean;
    month.k_sd = std::max(0.005, std::min(sd, 0.999 * limit));
    if (treatment.quantiles == StatedQuantiles::yes) {
      month.k_quantiles = quantiles_of(k[m], k_mean);
    }
  }
  return notes;
}

}  // namespace

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

FittedSky fit_sky(std::vector<UsableDay>& days, const SkyTreatment& treatment, double latitude_deg,
                  std::array<MonthStatistics, 12>& months) {
  for (std::size_t m = 0; m < 12; ++m) {
    months[m] = default_month(static_cast<int>(m), latitude_deg);
  }
  FittedSky fitted{0.0, fit_distributions(clearness_by_month(days), treatment, months)};
  set_normal_scores(days);
  const auto score = [](const UsableDay& d) { return std::optional(d.score); };
  const double r1 = fitted.lag1 = lag_correlation(days, 1, score).r;
  double share = default_year_share(RecordKind::typical_year);
  double phi = r1 + kOneYearPersistenceBias;
  if (treatment.span == RecordSpan::years) {
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

}  // namespace dullspell
