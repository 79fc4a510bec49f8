#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "weather/clearness_distribution.hpp"
#include "weather/estimate.hpp"
#include "weather/per_statistic.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {

/// Where a place's statistics come from; decides defaults and how far they can be trusted.
/// Blended is what the program makes of several (place_blend.hpp); no record is.
enum class RecordKind { measured, typical_year, monthly_means, estimated, blended };

/// Those of records.
inline constexpr std::array kRecordKinds{RecordKind::measured, RecordKind::typical_year,
                                         RecordKind::monthly_means, RecordKind::estimated};

std::string to_string(RecordKind kind);

/// The kind with that word; nothing for other words.
std::optional<RecordKind> record_kind(std::string_view word);

/// Weather of one calendar month; see PerStatistic for what the numbers are.
struct MonthStatistics {
  Estimate k_mean;                                   ///< 0.02..0.80
  std::optional<Estimate> k_sd;                      ///< nothing: from the mean alone
  std::optional<std::array<double, 9>> k_quantiles;  ///< at kQuantileProbabilities
  Estimate k_persistence = 0.29;
  Estimate k_year_share;
  std::optional<Estimate> temp_mean_c;
  Estimate temp_range_c = 11.0;
  Estimate temp_sd_c = 3.2;
  Estimate temp_persistence = 0.60;
  Estimate temp_k_correlation;
  Estimate range_k_slope = 12.5;

  bool operator==(const MonthStatistics&) const = default;

  /// Where each statistic stands; null for one that the month does not state. Quantiles are known
  /// as well as mean and spread, which move them all.
  PerStatistic<Estimate*> estimates();
  PerStatistic<const Estimate*> estimates() const;
};

/// A named location with its twelve months.
struct Place {
  std::string id;
  std::string name;
  Coordinates where{};
  std::optional<double> elevation_m;
  double utc_offset_h = 0.0;
  std::string source;
  std::string licence;
  RecordKind record = RecordKind::monthly_means;
  std::string years;          ///< of the record, for people; may be empty
  double record_years = 0.0;  ///< years of days that the statistics rest on; 0: not known
  std::array<MonthStatistics, 12> months{};
  std::vector<std::string> defaults;  ///< what the place does not state, in words
  std::vector<std::string> notes;     ///< what was adjusted on reading, in words

  bool has_temperatures() const { return months[0].temp_mean_c.has_value(); }

  /// Whether the place states how well it knows its months; its kind of record tells it if not.
  bool states_errors() const { return months[0].k_mean.standard_error.has_value(); }
};

/// The distribution of a month: quantiles if stated, else mean and spread, else the mean alone.
ClearnessDistribution clearness_distribution(const MonthStatistics& month);

/// The same with another mean, for blending months: quantiles are scaled, others keep their spread.
ClearnessDistribution clearness_distribution_with_mean(const MonthStatistics& month, double k_mean);

/// Default weather details for a month (0..11) at a latitude: daily temperature spread 3.2 + 1.2 c
/// K and correlation with clearness -0.20 c, c = cos(2 pi month / 12), shifted by six months in the
/// south; persistence 0.60, range 11 K, slope 12.5 K. Fitted to 5,544 site-months of typical years,
/// which lie about them by the standard errors given: 1.1 K, 0.21, 0.09, 3.4 K and 6 K.
MonthStatistics default_month(int month, double latitude_deg);

/// Default share of chi's variance that the days of one month of one year share.
double default_year_share(RecordKind kind);

/// Graham, Hollands & Unny 1988, Solar Energy 40:83: lag-1 correlation in Gaussian space.
constexpr double kDefaultPersistence = 0.29;

/// Standard time may differ from the sun's by so much (western China and the like).
constexpr double kMostOffset_h = 3.5;

/// Whether a UTC offset can be that of a place: within kMostOffset_h of longitude / 15, either way
/// round the date line.
bool offset_fits(double utc_offset_h, const Coordinates& where);

/// Mean extraterrestrial irradiation of a calendar month (0..11) of a common year, Wh/m2 a day.
double mean_extraterrestrial_wh_m2(int month, const Coordinates& where);

}  // namespace dullspell
