#include "weather/records/hour_collector.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

namespace dullspell {
namespace {

constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();
// Pyranometers read a little below zero at night, as they radiate to the sky (common practice, no
// source).
constexpr double kNightOffset_w_m2 = -20.0;
constexpr double kDark_w_m2 = 5.0;
constexpr int kLeastTemperatures = 20;

int year_of(Date date) {
  return int{std::chrono::year_month_day{date}.year()};
}

}  // namespace

HourCollector::HourCollector(const SourceText& source, int records_per_hour)
    : source_(source), records_per_hour_(records_per_hour) {}

HourCollector::Day& HourCollector::day_of(Date date, int line) {
  if (!days_.empty() && days_[latest_].date == date) return days_[latest_];
  const auto [entry, is_new] = index_.try_emplace(date, days_.size());
  latest_ = entry->second;
  if (is_new) days_.push_back({date, line, {}});
  return days_[latest_];
}

void HourCollector::check_order(Date date, int hour, int line) {
  if (last_date_ && date == *last_date_) {
    if (hour < last_hour_) {
      unordered_.add(line);
      unordered_in_year_.add(line);
    }
  } else if (last_date_) {
    if (date < *last_date_) unordered_.add(line);
    if (in_typical_year(date) < in_typical_year(*last_date_)) unordered_in_year_.add(line);
  }
  last_date_ = date;
  last_hour_ = hour;
}

void HourCollector::add(Date date, int hour, std::optional<double> ghi_w_m2,
                        std::optional<double> temp_c, int line) {
  ++rows_;
  check_order(date, hour, line);
  Hour& slot = day_of(date, line).hours[static_cast<std::size_t>(hour)];
  if (slot.rows == records_per_hour_) return doubled_.add(line);
  ++slot.rows;
  if (ghi_w_m2) {
    slot.ghi_sum += *ghi_w_m2;
    ++slot.ghi_count;
  }
  if (temp_c) {
    slot.temp_sum += *temp_c;
    ++slot.temp_count;
  }
}

bool HourCollector::has_each_month_once() const {
  std::array<std::optional<int>, 12> years;
  return std::all_of(days_.begin(), days_.end(), [&](const Day& day) {
    auto& year = years[static_cast<std::size_t>(month_index(day.date))];
    if (!year) year = year_of(day.date);
    return *year == year_of(day.date);
  });
}

bool HourCollector::is_pieced_together() const {
  if (!has_each_month_once()) return false;
  for (std::size_t i = 1; i < days_.size(); ++i) {
    const Date before = days_[i - 1].date, date = days_[i].date;
    if (day_of_month(date) == 1 && date != before + std::chrono::days{1} &&
        month_index(date) == (month_index(before) + 1) % 12 && year_of(date) != year_of(before)) {
      return true;
    }
  }
  return false;
}

void HourCollector::move_to_typical_year(WeatherRecord& record) {
  std::vector<Day> moved;
  moved.reserve(days_.size());
  for (Day& day : days_) {
    if (const auto date = in_typical_year(day.date)) {
      day.date = *date;
      moved.push_back(day);
    } else {
      leap_days_.add(day.line);
    }
  }
  days_ = std::move(moved);
  add_finding(record, leap_days_, "29 February", "29 February",
              "of a typical year: left out, since typical years here have 365 days");
}

// Wh/m2 by hour; NaN where missing.
std::array<double, 24> HourCollector::irradiations(const Day& day) {
  std::array<double, 24> out{};
  for (std::size_t h = 0; h < 24; ++h) {
    const Hour& hour = day.hours[h];
    if (hour.ghi_count < records_per_hour_) {
      out[h] = kMissing;
      continue;
    }
    out[h] = hour.ghi_sum / records_per_hour_;
    if (out[h] >= 0.0) continue;
    const bool offset = out[h] >= kNightOffset_w_m2;
    (offset ? dark_ : negative_).add(day.line);
    out[h] = offset ? 0.0 : kMissing;
  }
  return out;
}

void HourCollector::tell_night(const WeatherRecord& record,
                               const std::vector<RecordedHours>& hours) {
  if (record.where && record.utc_offset_h) return;
  for (const RecordedHours& day : hours) {
    auto& lit = lit_[static_cast<std::size_t>(month_index(day.date))];
    for (std::size_t h = 0; h < 24; ++h) {
      if (std::isnan(day.ghi_wh_m2[h])) continue;
      lit[h] = lit[h].value_or(false) || day.ghi_wh_m2[h] > kDark_w_m2;
    }
  }
}

bool HourCollector::is_night(const WeatherRecord& record, Date date, std::size_t hour) const {
  if (record.where && record.utc_offset_h) {
    return solar_day(date, *record.where, *record.utc_offset_h).hours[hour].share == 0.0;
  }
  return lit_[static_cast<std::size_t>(month_index(date))][hour] == false;
}

void HourCollector::sum_day(WeatherRecord& record, const Day& day, RecordedHours& hours) {
  RecordedDay out;
  out.date = day.date;
  out.line = day.line;
  double sum_wh = 0.0;
  for (std::size_t h = 0; h < 24; ++h) {
    double& value = hours.ghi_wh_m2[h];
    if (std::isnan(value) && is_night(record, day.date, h)) value = 0.0;
    sum_wh += value;
  }
  if (std::isnan(sum_wh)) {
    incomplete_.add(day.line);
  } else {
    out.ghi_kwh_m2 = sum_wh / 1000.0;
  }

  int count = 0;
  double sum_c = 0.0, max_c = 0.0, min_c = 0.0;
  for (const Hour& hour : day.hours) {
    if (hour.temp_count == 0) continue;
    const double temp_c = hour.temp_sum / hour.temp_count;
    sum_c += temp_c;
    max_c = count == 0 ? temp_c : std::max(max_c, temp_c);
    min_c = count == 0 ? temp_c : std::min(min_c, temp_c);
    ++count;
  }
  if (count >= kLeastTemperatures) {
    out.temp_mean_c = sum_c / count;
    out.temp_max_c = max_c;
    out.temp_min_c = min_c;
  } else if (count > 0) {
    few_temperatures_.add(day.line);
  }
  record.days.push_back(out);
}

void HourCollector::finish(WeatherRecord& record) {
  if (days_.empty()) refuse_line(source_, 0, "", "holds no rows of weather", "", "");
  if (record.typical_year) move_to_typical_year(record);
  report_order(record, source_, record.typical_year ? unordered_in_year_ : unordered_, doubled_,
               rows_, "hour");
  std::stable_sort(days_.begin(), days_.end(),
                   [](const Day& a, const Day& b) { return a.date < b.date; });

  record.hours.reserve(days_.size());
  for (const Day& day : days_) record.hours.push_back({day.date, irradiations(day)});
  tell_night(record, record.hours);
  record.days.reserve(days_.size());
  for (std::size_t i = 0; i < days_.size(); ++i) sum_day(record, days_[i], record.hours[i]);
  const bool any = std::any_of(record.days.begin(), record.days.end(),
                               [](const RecordedDay& day) { return day.ghi_kwh_m2.has_value(); });
  if (!any) {
    refuse_line(source_, 0, "", "holds no day with all of its irradiation",
                "days whose hours of light are all there", "");
  }

  add_finding(record, dark_, "hour", "hours",
              "with a slightly negative irradiation, as sensors show at night: counted as 0");
  add_finding(record, negative_, "hour", "hours", "with a negative irradiation: left out");
  add_finding(record, incomplete_, "day", "days",
              "with an hour of light missing: no irradiation for the day");
  add_finding(record, few_temperatures_, "day", "days",
              "with fewer than 20 hours of temperature: no temperatures for the day");
  report_gaps(record);
}

}  // namespace dullspell
