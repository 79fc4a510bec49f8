#include "weather/place_fit.hpp"

#include <set>

#include "weather/fit/jackknife.hpp"
#include "weather/fit/sky_fit.hpp"
#include "weather/fit/temperature_fit.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {
namespace {

constexpr int kLeastYearsOfQuantiles = 8;
constexpr int kLeastYearsOfErrors = 3;
constexpr int kDaysOfTwoYears = 550;  // below that, the second year tells next to nothing of years

// The days whose clearness can be; counts the others.
std::vector<UsableDay> usable_days(const std::vector<RecordedDay>& record, PlaceFit& fit) {
  std::vector<UsableDay> days;
  for (const RecordedDay& day : record) {
    if (!day.ghi_kwh_m2) {
      ++fit.days_without_value;
      continue;
    }
    const double above_air_wh_m2 = extraterrestrial_of_date_wh_m2(day.date, fit.place.where);
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
  }
  return days;
}

void fit_months(std::vector<UsableDay>& days, const std::set<int>& years, PlaceFit& fit) {
  Place& place = fit.place;
  const SkyTreatment treatment{fit.one_year ? RecordSpan::one_year : RecordSpan::years,
                               !fit.one_year && fit.years >= kLeastYearsOfQuantiles
                                   ? StatedQuantiles::yes
                                   : StatedQuantiles::no};
  check_months(days);
  FittedSky sky = fit_sky(days, treatment, place.where.latitude_deg, place.months);
  fit.sky_lag1 = sky.lag1;
  place.notes.insert(place.notes.end(), sky.notes.begin(), sky.notes.end());
  const FittedTemperatures temperatures = fit_temperatures(days, treatment.span, place.months);
  if (temperatures == FittedTemperatures::none) place.defaults.emplace_back("temperatures");
  if (temperatures == FittedTemperatures::all_but_persistence) {
    place.defaults.emplace_back("persistence of temperature (0.60)");
  }
  if (!fit.one_year && fit.years >= kLeastYearsOfErrors) {
    set_jackknife_errors(days, years, treatment.quantiles, temperatures, place.where.latitude_deg,
                         place.months);
  }
}

}  // namespace

PlaceFit fit_place(const Place& frame, const std::vector<RecordedDay>& record) {
  PlaceFit fit;
  fit.place = frame;
  std::vector<UsableDay> days = usable_days(record, fit);
  std::set<int> years;
  for (const UsableDay& day : days) years.insert(day.year);
  fit.days_used = static_cast<int>(days.size());
  fit.years = static_cast<int>(years.size());
  if (!years.empty()) {
    fit.first_year = *years.begin();
    fit.last_year = *years.rbegin();
  }
  fit.one_year = fit.days_used < kDaysOfTwoYears || frame.record == RecordKind::typical_year;
  fit.place.record_years = fit.one_year ? 1.0 : fit.days_used / 365.25;
  fit_months(days, years, fit);
  return fit;
}

}  // namespace dullspell
