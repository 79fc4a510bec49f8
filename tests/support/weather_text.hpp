#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "tests/support/input_text.hpp"
#include "weather/records/record_file.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {

/// The invented place of the weather texts: its standard time is UTC-8, its noon near 12:00.
constexpr Coordinates kTextPlace{40.0, -120.0};

inline std::vector<WeatherRecord> read_sites(const std::string& text) {
  return parse_weather_text({"w.csv", text});
}

/// The record of a text of one site.
inline WeatherRecord read_one(const std::string& text) {
  auto records = read_sites(text);
  REQUIRE(records.size() == 1);
  return std::move(records.front());
}

inline std::string refusal_of(const std::string& text) {
  return message_of([&] { read_sites(text); });
}

/// The finding that holds `words`; count 0 if there is none.
inline RecordFinding finding_with(const WeatherRecord& record, std::string_view words) {
  for (const auto& finding : record.findings) {
    if (finding.what.find(words) != std::string::npos) return finding;
  }
  return {};
}

/// A clear hour's irradiation at the invented place, whole W/m2: 0.7 of that above the air.
inline int hour_of_light(Date date, int hour) {
  const SolarDay sun = solar_day(date, kTextPlace, -8.0);
  const SunlitHour& h = sun.hours[static_cast<std::size_t>(hour)];
  return static_cast<int>(0.7 * 1361.0 * h.cos_zenith * h.share);
}

inline double invented_temperature(int hour) {
  return 10.0 + 0.5 * hour;
}

inline std::string tmy3_head() {
  return "123456,\"INVENTED, LAKE\",XX,-8.0,40.000,-120.000,500\n"
         "Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),GHI (W/m^2),Dry-bulb (C)\n";
}

inline std::string tmy3_row(Date date, int hour, std::string_view ghi, std::string_view temp_c) {
  const std::chrono::year_month_day ymd{date};
  return fmt::format("{:02}/{:02}/{},{:02}:00,0,{},{}\n", unsigned{ymd.month()},
                     unsigned{ymd.day()}, int{ymd.year()}, hour + 1, ghi, temp_c);
}

inline std::string tmy3_day(Date date) {
  std::string text;
  for (int h = 0; h < 24; ++h) {
    text += tmy3_row(date, h, std::to_string(hour_of_light(date, h)),
                     fmt::format("{:.1f}", invented_temperature(h)));
  }
  return text;
}

inline std::string epw_head(std::string_view source = "Own", std::string_view leap = "No",
                            std::string_view periods = "1,1,Data,Sunday, 1/ 1, 1/ 2") {
  return fmt::format(
      "LOCATION,Invented,XX,-,{},123456,40.0,-120.0,-8.0,500.0\n"
      "DESIGN CONDITIONS,0\n"
      "TYPICAL/EXTREME PERIODS,0\n"
      "GROUND TEMPERATURES,0\n"
      "HOLIDAYS/DAYLIGHT SAVINGS,{},0,0,0\n"
      "COMMENTS 1,invented\n"
      "COMMENTS 2,of one country\n"
      "DATA PERIODS,{}\n",
      source, leap, periods);
}

inline std::string epw_row(Date date, int hour, std::string_view ghi, std::string_view temp_c,
                           int minute = 0) {
  const std::chrono::year_month_day ymd{date};
  return fmt::format("{},{},{},{},{},?9,{},1.0,50,101300,0,0,300,{},0,0\n", int{ymd.year()},
                     unsigned{ymd.month()}, unsigned{ymd.day()}, hour + 1, minute, temp_c, ghi);
}

inline std::string epw_day(Date date) {
  std::string text;
  for (int h = 0; h < 24; ++h) {
    text += epw_row(date, h, std::to_string(hour_of_light(date, h)),
                    fmt::format("{:.1f}", invented_temperature(h)));
  }
  return text;
}

inline std::string hourly_head() {
  return "date,hour_ending,ghi_w_m2,temp_c\n";
}

inline std::string hourly_day(Date date) {
  std::string text;
  for (int h = 0; h < 24; ++h) {
    text += fmt::format("{},{},{},{:.1f}\n", iso_date(date), h + 1, hour_of_light(date, h),
                        invented_temperature(h));
  }
  return text;
}

/// A daily file of `count` days from `first` on, each with another irradiation.
inline std::string daily_text(Date first, int count) {
  std::string text = "date,ghi_kwh_m2,tmax_c,tmin_c\n";
  for (int i = 0; i < count; ++i) {
    text += fmt::format("{},{:.3f},{},{}\n", iso_date(first + std::chrono::days{i}),
                        2.0 + 0.137 * (i % 11), 15 + i % 7, 3 + i % 5);
  }
  return text;
}

/// kWh/m2 of the invented place's clear day, as the hours above sum up.
inline double day_of_light(Date date) {
  double sum_wh = 0.0;
  for (int h = 0; h < 24; ++h) sum_wh += hour_of_light(date, h);
  return sum_wh / 1000.0;
}

/// `text` without its line `number` (from 1).
inline std::string without_line(std::string text, int number) {
  std::size_t begin = 0;
  for (int i = 1; i < number; ++i) begin = text.find('\n', begin) + 1;
  text.erase(begin, text.find('\n', begin) + 1 - begin);
  return text;
}

/// `text` with the first `from` replaced.
inline std::string with(std::string text, std::string_view from, std::string_view to) {
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  text.replace(at, from.size(), to);
  return text;
}

}  // namespace dullspell
