#include "weather/blend/site_departures.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <mutex>
#include <numbers>
#include <string_view>
#include <utility>

#include "weather/blend/contradicting_sites.hpp"

namespace dullspell {
namespace {

constexpr double kMoreThanOneYear = 1.5;

SiteKind kind_of(const PlaceSummary& site) {
  switch (site.record) {
    case RecordKind::measured:
      return site.record_years > kMoreThanOneYear ? SiteKind::measured
                                                  : SiteKind::measured_one_year;
    case RecordKind::typical_year:
      return site.country == "US" ? SiteKind::typical_us : SiteKind::typical_elsewhere;
    case RecordKind::monthly_means:
    case RecordKind::estimated:
    case RecordKind::blended:
      break;
  }
  return site.has_temperatures ? SiteKind::sunshine : SiteKind::city;
}

// Months of the tables of one year are pooled with their neighbors: a quarter, a half and a quarter
// of means, thirds of spreads. What that leaves of one and two cycles a year.
struct Pooling {
  double one_cycle = 1.0, two_cycles = 1.0;
};

Pooling pooling_of(std::size_t statistic) {
  const double cosine = std::cos(std::numbers::pi / 6.0);
  const PerStatistic<int> means{1, 2, 0, 0, 0, 0, 2, 0, 2, 2};
  switch (means[statistic]) {
    case 1:
      return {0.5 * (1.0 + cosine), 0.75};
    case 2:
      return {(1.0 + 2.0 * cosine) / 3.0, 2.0 / 3.0};
    default:
      return {};
  }
}

Harmonics harmonics(const MonthVector& months, const Pooling& pooling) {
  Harmonics out = harmonic_basis().transpose() * months;
  out.segment<2>(1) /= pooling.one_cycle;
  out.segment<2>(3) /= pooling.two_cycles;
  return out;
}

// Twelve stated months of a statistic; nothing if one is missing or a default.
std::optional<MonthVector> stated(const Place& place, std::size_t statistic) {
  MonthVector out;
  for (int m = 0; m < 12; ++m) {
    const Estimate* number = place.months[static_cast<std::size_t>(m)].estimates()[statistic];
    if (!number || number->standard_error) return std::nullopt;
    out[m] = number->value;
  }
  return out;
}

constexpr PerStatistic<std::size_t> kIndex{0, 1, 2, 3, 4, 5, 6, 7, 8, 9};

// Spread of daily clearness by its mean, where only that is known: a regression over measured
// stations (datasets/README.md).
MonthVector spread_by_mean(const MonthVector& k, double latitude_deg) {
  MonthVector out;
  for (int m = 0; m < 12; ++m) {
    out[m] = std::clamp(
        -0.1002 + 0.9373 * k[m] - 1.0424 * k[m] * k[m] + 0.1249 * std::abs(latitude_deg) / 90.0,
        0.05, 0.20);
  }
  return out;
}

// One year does not show how years differ, and typical years lack more in winter.
void complete_spread(MonthVector& k_sd, SiteKind kind, const Circumstances& at) {
  if (kind != SiteKind::typical_us && kind != SiteKind::measured_one_year) return;
  for (double& sd : k_sd) sd = std::hypot(sd, kOneYearLacks);
  if (kind != SiteKind::typical_us) return;
  const MonthVector lacks = kTypicalLacks * MonthVector::Ones() +
                            kTypicalLacksInWinter * regressor(Regressor::winter, at);
  k_sd += spread_by_mean(at.k_mean, at.latitude_deg).cwiseProduct(lacks);
}

// Spread and persistence of such sites were made from their means.
bool states_own_sky(SiteKind kind) {
  return kind != SiteKind::typical_elsewhere && kind != SiteKind::city;
}

}  // namespace

struct SiteDepartures::Cache {
  struct Site {
    std::once_flag once;
    MonthVector k_mean = MonthVector::Zero();
    PerStatistic<std::optional<Harmonics>> departures;
  };
  explicit Cache(std::size_t count) : sites(count) {}
  std::vector<Site> sites;
};

SiteDepartures::SiteDepartures(const PlaceCatalogue& sites, const WorldGrid& grid)
    : sites_(sites), grid_(grid), cache_(std::make_unique<Cache>(sites.places().size())) {
  for (const PlaceSummary& site : sites.places()) {
    kinds_.push_back(kind_of(site));
    contradicts_.push_back(std::find(kContradictingSites.begin(), kContradictingSites.end(),
                                     site.id) != kContradictingSites.end());
  }
}

SiteDepartures::~SiteDepartures() = default;

double SiteDepartures::variance(std::size_t index, std::size_t statistic, int cycles) const {
  const StatisticModel& model = blend_model(statistic);
  // Their temperatures are measured, for some eight years (datasets/records/world_sites.tsv).
  constexpr double kYearsOfSunshineSites = 8.0;
  const bool measured_besides =
      kinds_[index] == SiteKind::sunshine && statistic >= kIndex.temp_mean_c;
  return measured_besides ? model.site_variance(SiteKind::measured, kYearsOfSunshineSites, cycles)
                          : model.site_variance(kinds_[index], site(index).record_years, cycles);
}

// What the list of sites already rules out, so that fewer of them need be read.
bool SiteDepartures::may_state(std::size_t index, std::size_t statistic) const {
  const PlaceSummary& summary = site(index);
  if (statistic == kIndex.k_sd || statistic == kIndex.k_persistence) {
    return states_own_sky(kinds_[index]);
  }
  // Means at an unknown height say nothing of others.
  if (statistic == kIndex.temp_mean_c && !summary.elevation_m) return false;
  return statistic < kIndex.temp_mean_c || summary.has_temperatures;
}

const std::optional<Harmonics>& SiteDepartures::of(std::size_t site, std::size_t statistic) const {
  static const std::optional<Harmonics> nothing;
  if (!may_state(site, statistic)) return nothing;
  std::call_once(cache_->sites[site].once, [&] { work_out(site); });
  return cache_->sites[site].departures[statistic];
}

const MonthVector& SiteDepartures::k_mean(std::size_t site) const {
  std::call_once(cache_->sites[site].once, [&] { work_out(site); });
  return cache_->sites[site].k_mean;
}

void SiteDepartures::work_out(std::size_t index) const {
  Cache::Site& out = cache_->sites[index];
  const PlaceSummary& summary = site(index);
  const SiteKind kind = kinds_[index];
  const Place place = sites_.place(summary.id).value();
  Circumstances at{summary.where.latitude_deg, grid_.at(summary.where), summary.elevation_m, {}};
  out.k_mean = stated(place, kIndex.k_mean).value();
  at.k_mean = out.k_mean;
  for (std::size_t i = 0; i < kStatistics; ++i) {
    if (i == kIndex.k_year_share) continue;
    if (!may_state(index, i)) continue;
    std::optional<MonthVector> values = stated(place, i);
    if (!values) continue;
    if (i == kIndex.k_sd) complete_spread(*values, kind, at);
    if (i == kIndex.k_mean) *values -= month_vector(at.grid.k_mean);
    if (i == kIndex.temp_mean_c) *values -= month_vector(at.grid.temp_mean_c);
    const Pooling pooling =
        summary.country == "US" && kind != SiteKind::city ? pooling_of(i) : Pooling{};
    out.departures[i] =
        harmonics(*values, pooling) - harmonic_basis().transpose() * blend_model(i).regression(at);
  }
}

}  // namespace dullspell
