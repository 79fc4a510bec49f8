#include <cmath>
#include <string>

#include "tests/support/weather_text.hpp"

namespace dullspell::hourly_csv_test {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

const Date kDay = make_date(2027, 6, 21);
constexpr std::chrono::days kNext{1};

TEST_CASE("Hours of a day are summed, and their temperatures taken together") {
  const auto record = read_one(hourly_head() + hourly_day(kDay));
  REQUIRE(record.days.size() == 1);
  CHECK(record.days[0].date == kDay);
  CHECK(record.days[0].line == 2);
  CHECK(record.days[0].ghi_kwh_m2.value() == Approx(day_of_light(kDay)).epsilon(1e-12));
  CHECK(record.days[0].temp_min_c == 10.0);
  CHECK(record.days[0].temp_max_c == 21.5);
  CHECK(record.days[0].temp_mean_c.value() == Approx(15.75).epsilon(1e-12));
  REQUIRE(record.hours.size() == 1);
  CHECK(record.hours[0].date == kDay);
  for (int h = 0; h < 24; ++h) {
    CHECK(record.hours[0].ghi_wh_m2[static_cast<std::size_t>(h)] == hour_of_light(kDay, h));
  }
  CHECK_FALSE(record.where.has_value());
  CHECK_FALSE(record.typical_year);
}

TEST_CASE("Hours are named by their end, their beginning or a time") {
  const auto noon_at = [](const std::string& head, const std::string& noon) {
    std::string text = head;
    for (int h = 0; h < 24; ++h) {
      // The row of noon is told by its text.
      const std::string row =
          head.starts_with("time")
              ? fmt::format("2027-06-21T{:02}:00,0\n", h)
              : fmt::format("2027-06-21,{},0\n", head.find("ending") < head.size() ? h + 1 : h);
      text += row.starts_with(noon) ? row.substr(0, row.size() - 2) + "700\n" : row;
    }
    const auto hours = read_one(text).hours.at(0).ghi_wh_m2;
    return std::find(hours.begin(), hours.end(), 700.0) - hours.begin();
  };
  CHECK(noon_at("date,hour_ending,ghi_w_m2\n", "2027-06-21,12,") == 11);
  CHECK(noon_at("date,hour_beginning,ghi_wh_m2\n", "2027-06-21,12,") == 12);
  CHECK(noon_at("time,ghi_w_m2\n", "2027-06-21T12:00,") == 12);
}

TEST_CASE("Hours that no clock has are refused") {
  for (const char* hour : {"25", "0", "-1", "1.5", "", "x"}) {
    INFO(hour);
    CHECK_THAT(refusal_of("date,hour_ending,ghi_w_m2\n2027-06-21," + std::string(hour) + ",1\n"),
               StartsWith("w.csv:2: hour_ending is `" + std::string(hour) + "`; allowed: 1 to 24"));
  }
  CHECK_THAT(refusal_of("date,hour_beginning,ghi_w_m2\n2027-06-21,24,1\n"),
             Contains("hour_beginning is `24`; allowed: 0 to 23"));
  for (const char* time : {"2027-06-21", "2027-06-21T24:00", "2027-06-21T12:30", "2027-02-29T12:00",
                           "2027-06-21T1:00", "2027-06-21T12:00Z", "2027-06-21T12:00+01:00", ""}) {
    INFO(time);
    CHECK_THAT(refusal_of("time,ghi_w_m2\n" + std::string(time) + ",1\n"),
               StartsWith("w.csv:2: time is `" + std::string(time) + "`"));
  }
  CHECK_THAT(refusal_of("time,ghi_w_m2\n2027-06-21T12:00Z,1\n"),
             Contains("standard time of the place"));
  CHECK_THAT(refusal_of("date,hour_ending,ghi_w_m2\n2027-02-29,1,1\n"),
             StartsWith("w.csv:2: date is `2027-02-29`"));
}

TEST_CASE("Seconds and a blank between date and time are read") {
  const auto record = read_one("time,ghi_w_m2\n" + [] {
    std::string rows;
    for (int h = 0; h < 24; ++h) rows += fmt::format("2027-06-21 {:02}:00:00,{}\n", h, 10 * h);
    return rows;
  }());
  CHECK(record.hours.at(0).ghi_wh_m2[23] == 230.0);
}

TEST_CASE("Columns of an hourly file that leave something open are refused") {
  CHECK_THAT(refusal_of("date,hour,ghi_w_m2\n2027-06-21,1,0\n"),
             StartsWith("w.csv:1: hour does not say which end of the hour it means"));
  CHECK_THAT(refusal_of("date,hour_ending,hour_beginning,ghi_w_m2\n2027-06-21,1,0,0\n"),
             Contains("hour_beginning stands besides `hour_ending`"));
  CHECK_THAT(refusal_of("hour_ending,ghi_w_m2\n1,0\n"), Contains("date is missing"));
  CHECK_THAT(refusal_of("date,hour_ending,ghi_kwh_m2\n2027-06-21,1,0\n"),
             Contains("ghi_w_m2 (the hour's mean) or ghi_wh_m2"));
  CHECK_THAT(refusal_of("date,hour_ending,ghi_w_m2,ghi_wh_m2\n2027-06-21,1,0,0\n"),
             Contains("ghi_wh_m2 stands besides `ghi_w_m2`"));
  CHECK_THAT(refusal_of("id,date,hour_ending,ghi_w_m2\na,2027-06-21,1,0\nb,2027-06-21,2,0\n"),
             StartsWith("w.csv:3: id is `b`; allowed: the same site in all rows"));
  CHECK_THAT(refusal_of(hourly_head()), StartsWith("w.csv: holds no rows of weather"));
}

TEST_CASE("A day with an hour of light missing has no irradiation; one of night does no harm") {
  const std::string text =
      hourly_head() + hourly_day(kDay) + hourly_day(kDay + kNext) + hourly_day(kDay + 2 * kNext);
  // Line 2 + 24 is the second day's hour 1.
  const auto night = read_one(without_line(text, 2 + 24));
  CHECK(night.days[1].ghi_kwh_m2.value() == Approx(day_of_light(kDay + kNext)));
  CHECK(night.hours[1].ghi_wh_m2[0] == 0.0);
  CHECK(night.findings.empty());

  const auto noon = read_one(without_line(text, 2 + 24 + 12));
  CHECK(noon.days[0].ghi_kwh_m2.has_value());
  CHECK_FALSE(noon.days[1].ghi_kwh_m2.has_value());
  CHECK(noon.days[1].temp_max_c == 21.5);
  CHECK(std::isnan(noon.hours[1].ghi_wh_m2[12]));
  CHECK(noon.hours[1].ghi_wh_m2[11] > 0.0);
  const auto finding = finding_with(noon, "day with an hour of light missing");
  CHECK(finding.count == 1);
  CHECK(finding.line == 26);
}

TEST_CASE("Temperatures of fewer than 20 hours are not those of a day") {
  std::string text = "date,hour_ending,ghi_w_m2,temp_f\n";
  for (int h = 1; h <= 24; ++h) {
    text += fmt::format("2027-06-21,{},100,{}\n", h, h <= 20 ? "50" : "");
    text += "";
  }
  for (int h = 1; h <= 24; ++h) {
    text += fmt::format("2027-06-22,{},100,{}\n", h, h <= 19 ? "50" : "-999");
  }
  const auto record = read_one(text);
  CHECK(record.days[0].temp_mean_c.value() == Approx(10.0));
  CHECK_FALSE(record.days[1].temp_mean_c.has_value());
  CHECK_FALSE(record.days[1].temp_max_c.has_value());
  const auto few = finding_with(record, "day with fewer than 20 hours of temperature");
  CHECK(few.count == 1);
  CHECK(few.line == 26);
  CHECK(finding_with(record, "temperatures marked as missing").count == 5);
}

TEST_CASE("A slightly negative hour counts as dark, a negative one as missing") {
  const auto with_noon = [](const std::string& value) {
    std::string text = hourly_head() + hourly_day(kDay) + hourly_day(kDay + kNext);
    return read_one(with(text, fmt::format("2027-06-21,1,{}", hour_of_light(kDay, 0)),
                         "2027-06-21,1," + value));
  };
  const auto offset = with_noon("-3.5");
  CHECK(offset.days[0].ghi_kwh_m2.value() == Approx(day_of_light(kDay)));
  CHECK(finding_with(offset, "hour with a slightly negative irradiation").count == 1);
  const auto negative = with_noon("-300");
  CHECK(finding_with(negative, "hour with a negative irradiation: left out").count == 1);
}

TEST_CASE("A few hours out of order or doubled are mended, and said") {
  std::string text = hourly_head();
  for (int i = 0; i < 3; ++i) text += hourly_day(kDay + i * kNext);
  const auto record = read_one(text + "2027-06-21,13,5000,10\n");
  CHECK(record.days[0].ghi_kwh_m2.value() == Approx(day_of_light(kDay)));
  CHECK(finding_with(record, "hour earlier than the row before: put in order").line == 74);
  CHECK(finding_with(record, "hour given twice: the first kept").count == 1);
  CHECK_THAT(refusal_of(text + text.substr(hourly_head().size())),
             Contains("repeats an hour that was there before (72 of 144 rows do)"));
}

TEST_CASE("A file without a whole day of light is refused") {
  CHECK_THAT(refusal_of(hourly_head() + "2027-06-21,12,500,20\n"),
             StartsWith("w.csv: holds no day with all of its irradiation"));
}

}  // namespace
}  // namespace dullspell::hourly_csv_test
