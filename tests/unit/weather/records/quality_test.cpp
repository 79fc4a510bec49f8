#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include "tests/support/weather_text.hpp"
#include "weather/records/quality.hpp"

namespace dullspell::quality_test {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

const Date kFirst = make_date(2010, 1, 1);

// A clearness that wanders between 0.2 and 0.75 and never repeats in a few years.
double invented_clearness(int i) {
  return 0.475 + 0.275 * std::sin(1.7 * i + 0.3 * std::sin(0.13 * i));
}

WeatherRecord invented_record(int days, const Coordinates& where = kTextPlace) {
  WeatherRecord record;
  record.file = "own.csv";
  record.ghi_column = "ghi_kwh_m2";
  for (int i = 0; i < days; ++i) {
    RecordedDay day;
    day.date = kFirst + std::chrono::days{i};
    day.line = i + 2;
    day.ghi_kwh_m2 =
        invented_clearness(i) * extraterrestrial_of_date_wh_m2(day.date, where) / 1000.0;
    const double season = -10.0 * std::cos(2.0 * 3.14159265 * i / 365.25);
    day.temp_max_c = 18.0 + season + 4.0 * std::sin(2.3 * i);
    day.temp_min_c = 6.0 + season + 3.0 * std::sin(1.9 * i);
    record.days.push_back(day);
  }
  return record;
}

RecordedDay& day_at(WeatherRecord& record, int i) {
  return record.days[static_cast<std::size_t>(i)];
}

int days_with_value(const WeatherRecord& record) {
  return static_cast<int>(
      std::count_if(record.days.begin(), record.days.end(),
                    [](const RecordedDay& day) { return day.ghi_kwh_m2.has_value(); }));
}

void scale_all(WeatherRecord& record, double factor) {
  for (auto& day : record.days) *day.ghi_kwh_m2 *= factor;
}

std::string refusal(WeatherRecord record, const Coordinates& where = kTextPlace) {
  return message_of([&] { check_quality(record, where); });
}

TEST_CASE("A sound record passes the quality control as it is") {
  auto record = invented_record(800);
  const auto before = record;
  check_quality(record, kTextPlace);
  CHECK(record.findings.empty());
  for (std::size_t i = 0; i < record.days.size(); ++i) {
    REQUIRE(record.days[i].ghi_kwh_m2 == before.days[i].ghi_kwh_m2);
    REQUIRE(record.days[i].temp_max_c == before.days[i].temp_max_c);
    REQUIRE(record.days[i].temp_min_c == before.days[i].temp_min_c);
  }
  WeatherRecord nothing;
  check_quality(nothing, kTextPlace);
  CHECK(nothing.findings.empty());
}

TEST_CASE("Days with an impossible clearness are left out, each kind with its count and line") {
  auto record = invented_record(400);
  const double above_air =
      extraterrestrial_of_date_wh_m2(day_at(record, 100).date, kTextPlace) / 1000.0;
  day_at(record, 100).ghi_kwh_m2 = 1.0001 * above_air;
  day_at(record, 200).ghi_kwh_m2 = 1e308;
  day_at(record, 210).ghi_kwh_m2 = -0.5;
  day_at(record, 220).ghi_kwh_m2 = 0.0;
  check_quality(record, kTextPlace);
  CHECK(days_with_value(record) == 396);
  const auto above = finding_with(record, "days with a clearness above 1: left out");
  CHECK(above.what == "days with a clearness above 1: left out (the first on 2010-04-11)");
  CHECK(above.count == 2);
  CHECK(above.line == 102);
  const auto below = finding_with(record, "day with an irradiation below 0: left out (2010-07-30)");
  CHECK(below.count == 1);
  CHECK(below.line == 212);
  CHECK(finding_with(record, "day without any light although the sun was up").line == 222);
  CHECK(record.findings.size() == 3);
}

TEST_CASE("A clearness of 1 and next to nothing is kept") {
  auto record = invented_record(400);
  const double above_air =
      extraterrestrial_of_date_wh_m2(day_at(record, 100).date, kTextPlace) / 1000.0;
  day_at(record, 100).ghi_kwh_m2 = 0.9999 * above_air;
  day_at(record, 101).ghi_kwh_m2 = 0.001;
  check_quality(record, kTextPlace);
  CHECK(record.findings.empty());
}

TEST_CASE("Polar night is noted and not judged; low sun is judged") {
  const Coordinates north{69.0, 20.0};
  auto record = invented_record(365, north);
  int dark = 0, low = -1;
  for (int i = 0; i < 365; ++i) {
    const double above_air = extraterrestrial_of_date_wh_m2(day_at(record, i).date, north);
    if (above_air < 30.0) {
      ++dark;
      day_at(record, i).ghi_kwh_m2 = 0.02;
    } else if (above_air < 60.0) {
      low = i;
    }
  }
  REQUIRE(dark > 30);
  REQUIRE(low >= 0);
  day_at(record, low).ghi_kwh_m2 = 0.09;
  check_quality(record, north);
  CHECK(finding_with(record, "days with next to no sun above the horizon").count == dark);
  CHECK(finding_with(record, "day with a clearness above 1").line == low + 2);
  CHECK(days_with_value(record) == 364);
}

TEST_CASE("Irradiation in another unit than the column says is refused with the column to use") {
  struct Slip {
    std::string column;
    double factor;  // of the value in kWh that comes of the wrong reading
    std::string look, cure;
  };
  const double mj = 3.6, wh = 1000.0, mean_w = 1.0 / 24e-3;
  const std::vector<Slip> slips{
      {"ghi_kwh_m2", mj, "MJ/m2", "name the column `ghi_mj_m2`"},
      {"ghi_kwh_m2", wh, "Wh/m2", "name the column `ghi_wh_m2`"},
      {"ghi_kwh_m2", mean_w, "W/m2, the day's mean", "name the column `ghi_w_m2`"},
      {"ghi_kwh_m2", 360.0, "J/cm2", "divide by 100 and name the column `ghi_mj_m2`"},
      {"ghi_mj_m2", 1.0 / mj, "kWh/m2", "name the column `ghi_kwh_m2`"},
      {"ghi_mj_m2", wh / mj, "Wh/m2", "name the column `ghi_wh_m2`"},
      {"ghi_w_m2", 24e-3, "kWh/m2", "name the column `ghi_kwh_m2`"},
      {"ghi_w_m2", 24e-3 * mj, "MJ/m2", "name the column `ghi_mj_m2`"},
      {"ghi_wh_m2", 1e-3, "kWh/m2", "name the column `ghi_kwh_m2`"},
      {"ghi_wh_m2", 3.6e-3, "MJ/m2", "name the column `ghi_mj_m2`"}};
  for (const Slip& slip : slips) {
    INFO(slip.column << " " << slip.factor);
    auto record = invented_record(800);
    record.ghi_column = slip.column;
    scale_all(record, slip.factor);
    const std::string message = refusal(record);
    CHECK_THAT(message, StartsWith("own.csv:2: " + slip.column + " of the whole file gives clear"));
    CHECK_THAT(message, Contains("The values look like " + slip.look + ": " + slip.cure + "."));
  }
}

TEST_CASE("A cloudy place in MJ under kWh is refused too, though few days reach a clearness of 1") {
  auto record = invented_record(730);
  for (int i = 0; i < 730; ++i) {
    // Half of the days at 0.1 to 0.2.
    if (i % 2 == 0) *day_at(record, i).ghi_kwh_m2 *= 0.3;
  }
  scale_all(record, 3.6);
  CHECK_THAT(refusal(record), Contains("look like MJ/m2"));
}

TEST_CASE("A factor that fits no unit is refused without a guess, a dim sensor not at all") {
  auto record = invented_record(400);
  scale_all(record, 1e7);
  CHECK_THAT(refusal(record), Contains("No usual unit fits"));
  auto dim = invented_record(400);
  scale_all(dim, 0.5);
  check_quality(dim, kTextPlace);
  CHECK(dim.findings.empty());
}

TEST_CASE("A month in another unit than the rest is left out whole") {
  const auto scaled_month = [](double factor) {
    auto record = invented_record(5 * 365);
    for (auto& day : record.days) {
      const std::chrono::year_month_day ymd{day.date};
      if (ymd.year() / ymd.month() == std::chrono::year{2012} / std::chrono::June) {
        *day.ghi_kwh_m2 *= factor;
      }
    }
    check_quality(record, kTextPlace);
    return record;
  };
  for (const double factor : {3.6, 1000.0, 1.0 / 3.6}) {
    INFO(factor);
    const auto record = scaled_month(factor);
    const auto month = finding_with(record, "days of months whose irradiation is in another unit");
    CHECK_THAT(month.what, Contains("(Jun 2012): left out"));
    CHECK(month.count == 30);
    CHECK(month.line == 365 + 365 + 31 + 29 + 31 + 30 + 31 + 2);
    CHECK(days_with_value(record) == 5 * 365 - 30);
    CHECK(record.findings.size() == 1);
  }
  // A dull month is weather.
  CHECK(scaled_month(0.6).findings.empty());
}

TEST_CASE("A stuck irradiation is left out, three equal days are not") {
  auto record = invented_record(400);
  const auto hold = [&](int from, int count) {
    for (int i = from; i < from + count; ++i)
      day_at(record, i).ghi_kwh_m2 = day_at(record, from).ghi_kwh_m2;
  };
  hold(100, 3);
  check_quality(record, kTextPlace);
  CHECK(record.findings.empty());
  hold(200, 4);
  check_quality(record, kTextPlace);
  const auto stuck = finding_with(record, "days in runs of the same irradiation day after day");
  CHECK(stuck.count == 4);
  CHECK(stuck.line == 202);
  CHECK(days_with_value(record) == 396);
}

TEST_CASE("Equal days with a gap between them are not stuck") {
  auto record = invented_record(400);
  for (int i = 200; i < 204; ++i) day_at(record, i).ghi_kwh_m2 = day_at(record, 200).ghi_kwh_m2;
  record.days.erase(record.days.begin() + 202);
  check_quality(record, kTextPlace);
  CHECK(record.findings.empty());
}

TEST_CASE("Coarsely rounded values repeat without being stuck, unless they go on and on") {
  auto record = invented_record(730);
  for (auto& day : record.days)
    day.ghi_kwh_m2 = std::max(0.5, std::round(2.0 * *day.ghi_kwh_m2) / 2.0);
  // Steady weather that repeats about every other day.
  std::mt19937 random(1);
  for (int i = 1; i < 730; ++i) {
    if (random() % 100 < 45) day_at(record, i).ghi_kwh_m2 = day_at(record, i - 1).ghi_kwh_m2;
  }
  for (int i = 300; i < 304; ++i) day_at(record, i).ghi_kwh_m2 = 4.5;
  auto steady = record;
  check_quality(steady, kTextPlace);
  CHECK(finding_with(steady, "same irradiation").count == 0);
  for (int i = 500; i < 540; ++i) day_at(record, i).ghi_kwh_m2 = 3.0;
  check_quality(record, kTextPlace);
  CHECK(finding_with(record, "same irradiation").count >= 40);
}

TEST_CASE("A stuck temperature is left out from 5 days on") {
  auto record = invented_record(400);
  for (int i = 100; i < 104; ++i) day_at(record, i).temp_max_c = 15.0;
  for (int i = 200; i < 205; ++i) day_at(record, i).temp_min_c = 7.0;
  check_quality(record, kTextPlace);
  const auto stuck = finding_with(record, "days in runs of the same minimum temperature");
  CHECK(stuck.count == 5);
  CHECK(stuck.line == 202);
  CHECK_FALSE(day_at(record, 202).temp_min_c.has_value());
  CHECK(day_at(record, 202).temp_max_c.has_value());
  CHECK(record.findings.size() == 1);
}

TEST_CASE("Impossible temperatures are left out") {
  auto record = invented_record(400);
  day_at(record, 10).temp_max_c = 60.5;
  day_at(record, 20).temp_min_c = -91.0;
  check_quality(record, kTextPlace);
  CHECK(finding_with(record, "day with a maximum temperature beyond -90 to 60 C").line == 12);
  CHECK(finding_with(record, "day with a minimum temperature beyond -90 to 60 C").line == 22);
  CHECK_FALSE(day_at(record, 10).temp_max_c.has_value());
  CHECK_FALSE(day_at(record, 20).temp_min_c.has_value());
}

TEST_CASE("A maximum below the minimum takes both out; on most days the columns are exchanged") {
  auto record = invented_record(400);
  std::swap(day_at(record, 30).temp_max_c, day_at(record, 30).temp_min_c);
  check_quality(record, kTextPlace);
  const auto swapped = finding_with(record, "day with a maximum temperature below the minimum");
  CHECK(swapped.count == 1);
  CHECK(swapped.line == 32);
  CHECK_FALSE(day_at(record, 30).temp_max_c.has_value());
  CHECK_FALSE(day_at(record, 30).temp_min_c.has_value());
  CHECK(day_at(record, 31).temp_max_c.has_value());

  auto exchanged = invented_record(400);
  for (auto& day : exchanged.days) std::swap(day.temp_max_c, day.temp_min_c);
  CHECK_THAT(refusal(exchanged),
             StartsWith("own.csv:2: has a maximum temperature below the minimum on 400 of 400"));
  CHECK_THAT(refusal(exchanged), Contains("exchange their names"));
}

TEST_CASE("Temperatures in Fahrenheit or kelvin under a Celsius column are refused") {
  auto record = invented_record(400);
  for (auto& day : record.days) {
    day.temp_max_c = 1.8 * *day.temp_max_c + 32.0;
    day.temp_min_c = 1.8 * *day.temp_min_c + 32.0;
  }
  CHECK_THAT(refusal(record), Contains("The values look like degrees Fahrenheit"));
  record = invented_record(400);
  for (auto& day : record.days) day.temp_mean_c = 290.0 + *day.temp_max_c - 18.0;
  CHECK_THAT(refusal(record), Contains("has a mean temperature of"));
  CHECK_THAT(refusal(record), Contains("kelvin: subtract 273.15"));
}

TEST_CASE("A temperature far from both neighbours is noted and kept, a change of air is not") {
  auto record = invented_record(400);
  day_at(record, 50).temp_max_c = *day_at(record, 50).temp_max_c + 32.0;
  day_at(record, 50).temp_min_c = *day_at(record, 50).temp_min_c + 32.0;
  for (int i = 150; i < 400; ++i) {
    *day_at(record, i).temp_max_c -= 35.0;
    *day_at(record, i).temp_min_c -= 35.0;
  }
  check_quality(record, kTextPlace);
  const auto jump = finding_with(record, "day with a temperature more than 25 K from both");
  CHECK(jump.count == 1);
  CHECK(jump.line == 52);
  CHECK(day_at(record, 50).temp_max_c.has_value());
  CHECK(record.findings.size() == 1);
}

TEST_CASE("Dates of a typical year are named without the year") {
  auto record = invented_record(365);
  record.typical_year = true;
  for (auto& day : record.days) day.date += make_date(kTypicalYear, 1, 1) - kFirst;
  day_at(record, 59).ghi_kwh_m2 = 14.0;
  check_quality(record, kTextPlace);
  CHECK(finding_with(record, "above 1").what == "day with a clearness above 1: left out (1 Mar)");
}

// ---- Hours

constexpr int kHourlyDays = 60;

// An hourly file whose clock is `late_h` ahead of standard time.
WeatherRecord hourly_record(int late_h, std::optional<double> utc_offset_h) {
  std::string text = hourly_head();
  for (int d = 0; d < kHourlyDays; ++d) {
    for (int h = 0; h < 24; ++h) {
      const int hours = 24 * d + h - late_h;
      const Date date = kFirst + std::chrono::days{(hours + 240) / 24 - 10};
      const double light = hour_of_light(date, (hours + 240) % 24) * (0.6 + 0.04 * (d % 10));
      text += fmt::format("{},{},{:.1f},{:.1f}\n", iso_date(kFirst + std::chrono::days{d}), h + 1,
                          light, 5.0 + (d * 7 % 13) + 0.4 * h);
    }
  }
  WeatherRecord record = read_one(text);
  record.utc_offset_h = utc_offset_h;
  return record;
}

TEST_CASE("An hourly record in standard time passes") {
  auto record = hourly_record(0, -8.0);
  check_quality(record, kTextPlace);
  CHECK(record.findings.empty());
  auto without_offset = hourly_record(0, std::nullopt);
  check_quality(without_offset, kTextPlace);
  CHECK(without_offset.findings.empty());
}

TEST_CASE("An hourly record in UTC is refused, with or without a known offset") {
  for (const auto& offset : {std::optional<double>(-8.0), std::optional<double>()}) {
    CHECK_THAT(refusal(hourly_record(8, offset)),
               StartsWith("w.csv:2: has its light 8.0 h later than the sun at this place"));
    CHECK_THAT(refusal(hourly_record(8, offset)), Contains("The times look like UTC: give them"));
  }
  CHECK_THAT(refusal(hourly_record(-4, -8.0)), Contains("4.0 h earlier than the sun"));
  CHECK_THAT(refusal(hourly_record(-4, -8.0)), Contains("The times look like UTC-12: mend"));
}

TEST_CASE("Hours named by their other end are noted by their light at night") {
  for (const int late_h : {1, -1}) {
    auto record = hourly_record(late_h, -8.0);
    check_quality(record, kTextPlace);
    const auto night = finding_with(record, "hours of night with light: it comes 1.0 h");
    CHECK(night.count > kHourlyDays / 4);
    CHECK(night.line >= 2);
    CHECK_THAT(night.what, Contains(late_h > 0 ? "later" : "earlier"));
    CHECK_THAT(night.what, Contains("other end"));
    CHECK(days_with_value(record) == kHourlyDays);
  }
}

TEST_CASE("A single light at night is noted without blaming the clock") {
  auto record = hourly_record(0, -8.0);
  record.hours[5].ghi_wh_m2[2] = 40.0;
  check_quality(record, kTextPlace);
  const auto night = finding_with(record, "hour of night with light: a clock that was off");
  CHECK(night.count == 1);
  CHECK(night.line == 2 + 5 * 24);
}

TEST_CASE("The hours of a day that is left out go with it") {
  auto record = hourly_record(0, -8.0);
  record.hours[7].ghi_wh_m2[12] = 1600.0;
  record.days[9].ghi_kwh_m2 = 14.0;
  check_quality(record, kTextPlace);
  CHECK(finding_with(record, "day with an hour above 1500 W/m2").line == 2 + 7 * 24);
  CHECK(finding_with(record, "day with a clearness above 1").line == 2 + 9 * 24);
  for (const std::size_t i : {7u, 9u}) {
    CHECK_FALSE(record.days[i].ghi_kwh_m2.has_value());
    for (const double wh : record.hours[i].ghi_wh_m2) CHECK(std::isnan(wh));
  }
  CHECK(record.days[8].ghi_kwh_m2.has_value());
  CHECK_FALSE(std::isnan(record.hours[8].ghi_wh_m2[12]));
}

TEST_CASE("Hours in another unit are refused with the factor") {
  const auto scaled = [](double factor) {
    auto record = hourly_record(0, -8.0);
    for (auto& day : record.days) *day.ghi_kwh_m2 *= factor;
    for (auto& day : record.hours) {
      for (double& wh : day.ghi_wh_m2) wh *= factor;
    }
    return refusal(record);
  };
  CHECK_THAT(scaled(3.6), Contains("look like kJ/m2: divide by 3.6 and name the column"));
  CHECK_THAT(scaled(1e-3), Contains("look like kWh/m2: multiply by 1000"));
}

}  // namespace
}  // namespace dullspell::quality_test
