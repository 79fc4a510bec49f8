#pragma once

#include <array>
#include <memory>

#include "weather/calendar.hpp"
#include "weather/clearness_table.hpp"
#include "weather/place.hpp"

namespace dullspell {

/// A yearly curve through twelve calendar months: linear between mid-months, with knots solved so
/// that the average over each month is the month's stated mean.
class MonthlyCurve {
 public:
  explicit MonthlyCurve(const std::array<double, 12>& month_means);

  double at(Date date) const;

 private:
  std::array<double, 12> knots_;
};

/// Months that touch a date and the weight of the second: 0 in mid-month; within 5 days of a
/// boundary it grows linearly to one half at the boundary.
struct MonthBlend {
  int month;
  int neighbour;
  double weight;
};

MonthBlend month_blend(Date date);

/// What the place states for one calendar date, every number with its standard error.
struct DateClimate : PerStatistic<Estimate> {
  ClearnessTable k_of_chi;
};

/// Whether two places state the same for every date.
bool same_climate(const Place& a, const Place& b);

/// A place's year without steps on the 1st. The months' clearness means are moved a little before
/// blending, so that the calendar months come out as stated (moved means are held to 0.02..0.80).
/// Standard errors are the months', or those usual for the kind of record, blended as numbers are.
class PlaceClimate {
 public:
  /// Places without temperatures get `fallback_temp_c` all year.
  explicit PlaceClimate(const Place& place, double fallback_temp_c = 15.0);

  DateClimate on(Date date) const;

 private:
  struct MonthTables;

  Estimate blended(std::size_t statistic, const MonthBlend& blend) const;
  const ClearnessTable& table_of(int month) const;

  std::shared_ptr<MonthTables> tables_;  // each made when first asked for
  std::array<MonthStatistics, 12> months_;
  std::array<PerStatistic<Estimate>, 12> estimates_;
  std::array<double, 12> blend_means_;
  MonthlyCurve temp_mean_;
  MonthlyCurve temp_range_;
};

}  // namespace dullspell
