#include <vector>

#include <catch2/catch.hpp>

#include "weather/past_weather.hpp"

namespace dullspell {
namespace {

constexpr Coordinates kWhere{45.0, -110.0};

double above_air_kwh_m2(Date date) {
  return extraterrestrial_of_date_wh_m2(date, kWhere) / 1000.0;
}

RecordedDay day_with(Date date, std::optional<double> k) {
  RecordedDay day{};
  day.date = date;
  if (k) day.ghi_kwh_m2 = *k * above_air_kwh_m2(date);
  return day;
}

const Date kFirst = make_date(2004, 2, 27);

PastDay only_day(const RecordedDay& day, const Coordinates& where = kWhere) {
  WeatherRecord record;
  record.days = {day};
  return PastWeather(record, where).on(day.date);
}

TEST_CASE("A past day's clearness is its irradiation over that above the air on its date") {
  // tests/reference compares our irradiation above the air with published tables.
  CHECK(only_day(day_with(kFirst, 0.4375)).k == Approx(0.4375).epsilon(1e-12));
}

TEST_CASE("A leap day lies between its neighbours") {
  WeatherRecord record;
  for (int d = 0; d < 4; ++d) {
    record.days.push_back(day_with(kFirst + std::chrono::days{d}, 0.1 + 0.1 * d));
  }
  const PastWeather past(record, kWhere);
  CHECK(past.on(make_date(2004, 2, 28)).k == Approx(0.2));
  CHECK(past.on(make_date(2004, 2, 29)).k == Approx(0.3));
  CHECK(past.on(make_date(2004, 3, 1)).k == Approx(0.4));
  CHECK(past.first_date() == kFirst);
  CHECK(past.last_date() == make_date(2004, 3, 1));
}

TEST_CASE("Days in a gap, before and after the record have no sky and no temperature") {
  WeatherRecord record;
  record.days = {day_with(kFirst, 0.5), day_with(kFirst + std::chrono::days{400}, 0.6)};
  for (auto& day : record.days) day.temp_mean_c = 9.0;
  const PastWeather past(record, kWhere);
  CHECK(past.on(kFirst).has_sky());
  CHECK(past.on(past.last_date()).has_sky());
  CHECK(past.last_date() == kFirst + std::chrono::days{400});
  for (const int d : {-100'000, -1, 1, 399, 401, 100'000}) {
    CAPTURE(d);
    const PastDay& day = past.on(kFirst + std::chrono::days{d});
    CHECK_FALSE(day.has_sky());
    CHECK_FALSE(day.temp_mean_c.has_value());
    CHECK_FALSE(day.temp_range_c.has_value());
  }
}

TEST_CASE("A clearness below 0 or above 1 is none; 0 is one") {
  CHECK_FALSE(only_day(day_with(kFirst, -0.001)).has_sky());
  CHECK_FALSE(only_day(day_with(kFirst, 1.001)).has_sky());
  CHECK_FALSE(only_day(day_with(kFirst, std::nullopt)).has_sky());
  CHECK(only_day(day_with(kFirst, 0.0)).has_sky());
  CHECK(only_day(day_with(kFirst, 0.999)).has_sky());
}

TEST_CASE("A day of polar night has no clearness, whatever was measured") {
  RecordedDay day{};
  day.date = make_date(2004, 12, 21);
  day.ghi_kwh_m2 = 0.0;
  CHECK_FALSE(only_day(day, {80.0, 0.0}).has_sky());
  CHECK(only_day(day, {60.0, 0.0}).has_sky());
}

TEST_CASE("A day without sky keeps its temperatures") {
  RecordedDay day = day_with(kFirst, std::nullopt);
  day.temp_max_c = 8.0;
  day.temp_min_c = -2.0;
  const PastDay past = only_day(day);
  CHECK_FALSE(past.has_sky());
  CHECK(past.temp_mean_c == 3.0);
  CHECK(past.temp_range_c == 10.0);
}

TEST_CASE("A stated mean goes before that of the ends; one end alone says nothing") {
  RecordedDay day = day_with(kFirst, 0.5);
  day.temp_max_c = 8.0;
  CHECK_FALSE(only_day(day).temp_mean_c.has_value());
  CHECK_FALSE(only_day(day).temp_range_c.has_value());
  day.temp_mean_c = 1.0;
  CHECK(only_day(day).temp_mean_c == 1.0);
  CHECK_FALSE(only_day(day).temp_range_c.has_value());
  day.temp_min_c = -2.0;
  CHECK(only_day(day).temp_mean_c == 1.0);
  CHECK(only_day(day).temp_range_c == 10.0);
}

TEST_CASE("A typical year stands for every year, a measured one for itself") {
  WeatherRecord record;
  for (int d = 0; d < 365; ++d) {
    const Date date = make_date(kTypicalYear, 1, 1) + std::chrono::days{d};
    record.days.push_back(day_with(date, 0.001 * day_of_year(date)));
  }
  CHECK_FALSE(PastWeather(record, kWhere).wraps());
  CHECK_FALSE(PastWeather(record, kWhere).on(make_date(kTypicalYear + 1, 1, 1)).has_sky());
  record.typical_year = true;
  const PastWeather past(record, kWhere);
  CHECK(past.wraps());
  for (const int year : {1990, kTypicalYear - 1, kTypicalYear, kTypicalYear + 1, 2028}) {
    CAPTURE(year);
    CHECK(past.on(make_date(year, 1, 1)).k == Approx(0.001));
    CHECK(past.on(make_date(year, 12, 31)).k == Approx(0.365));
    CHECK(past.on(make_date(year, 2, 28)).k == Approx(0.059));
  }
  // The leap day takes the day before it.
  CHECK(past.on(make_date(2028, 2, 29)).k == Approx(0.059));
  CHECK(past.on(make_date(2028, 3, 1)).k == Approx(0.060));
}

TEST_CASE("A record without days is empty and answers for every date") {
  const PastWeather past(WeatherRecord{}, kWhere);
  CHECK(past.empty());
  CHECK_FALSE(past.on(kFirst).has_sky());
  CHECK_FALSE(past.on(Date{}).has_sky());
}

}  // namespace
}  // namespace dullspell
