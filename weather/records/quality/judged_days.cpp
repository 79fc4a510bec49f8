#include "weather/records/quality/judged_days.hpp"

#include <algorithm>
#include <limits>

#include <fmt/format.h>

#include "weather/records/record_cells.hpp"

namespace dullspell {
namespace {

std::string date_text(const WeatherRecord& record, Date date) {
  if (!record.typical_year) return iso_date(date);
  return fmt::format("{} {}", day_of_month(date), month_name(month_index(date)));
}

}  // namespace

JudgedDays::JudgedDays(WeatherRecord& record, const Coordinates& where) : record_(record) {
  above_air_.reserve(record.days.size());
  for (const RecordedDay& day : record.days) {
    above_air_.push_back(extraterrestrial_of_date_wh_m2(day.date, where));
  }
}

std::optional<double> JudgedDays::clearness(std::size_t i) const {
  const auto& ghi = record_.days[i].ghi_kwh_m2;
  if (!ghi || above_air_[i] < kJudged_wh_m2) return std::nullopt;
  return *ghi * 1000.0 / above_air_[i];
}

std::vector<double> JudgedDays::clearness() const {
  std::vector<double> values;
  for (std::size_t i = 0; i < size(); ++i) {
    if (const auto k = clearness(i)) values.push_back(*k);
  }
  return values;
}

void JudgedDays::leave_out(std::size_t i) const {
  RecordedDay& day = record_.days[i];
  day.ghi_kwh_m2.reset();
  auto& hours = record_.hours;
  const auto at =
      std::lower_bound(hours.begin(), hours.end(), day.date,
                       [](const RecordedHours& entry, Date date) { return entry.date < date; });
  if (at != hours.end() && at->date == day.date) {
    at->ghi_wh_m2.fill(std::numeric_limits<double>::quiet_NaN());
  }
}

void add_day_finding(WeatherRecord& record, const DayCount& met, std::string_view what) {
  if (met.count == 0) return;
  const std::string when = date_text(record, met.first->date);
  const std::string text = met.count == 1 ? fmt::format("{} ({})", what, when)
                                          : fmt::format("{} (the first on {})", what, when);
  add_finding(record, {met.count, met.first->line}, "day", "days", text);
}

void refuse_record(const WeatherRecord& record, int line, std::string problem, std::string allowed,
                   std::string fix) {
  refuse_line({record.file, {}}, line, "", std::move(problem), std::move(allowed), std::move(fix));
}

double quantile_of(std::vector<double> values, double share) {
  const auto at = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), values.begin() + at, values.end());
  return values[static_cast<std::size_t>(at)];
}

}  // namespace dullspell
