#include <string>

#include "tests/support/input_text.hpp"
#include "tests/support/temporary_file.hpp"
#include "weather/daily_record.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::Contains;

DailyRecords read(const std::string& text) {
  return read_daily_records({"days.csv", text});
}

std::string refusal(const std::string& text) {
  return message_of([&] { read(text); });
}

TEST_CASE("Days are read with their date, irradiation and temperatures") {
  const auto records = read(
      "date,ghi_kwh_m2,temp_max_c,temp_min_c,temp_mean_c\n"
      "2028-02-28,2.5,5,-3,0.5\n"
      "2028-02-29,,4,-4,\n");
  REQUIRE(records.size() == 1);
  const auto& days = records.at("");
  REQUIRE(days.size() == 2);
  CHECK(days[0].date == make_date(2028, 2, 28));
  CHECK(days[0].ghi_kwh_m2 == 2.5);
  CHECK(days[0].temp_max_c == 5.0);
  CHECK(days[0].temp_min_c == -3.0);
  CHECK(days[0].mean_temperature_c() == 0.5);
  CHECK(days[1].date == make_date(2028, 2, 29));
  CHECK_FALSE(days[1].ghi_kwh_m2.has_value());
  CHECK(days[1].mean_temperature_c() == 0.0);
}

TEST_CASE("A day without a mean and one of its ends has no mean temperature") {
  RecordedDay day{};
  CHECK_FALSE(day.mean_temperature_c().has_value());
  day.temp_max_c = 5.0;
  CHECK_FALSE(day.mean_temperature_c().has_value());
}

TEST_CASE("Both spellings of the temperature columns are read") {
  const auto days = read("date,ghi_kwh_m2,tmax_c,tmin_c\n2027-05-21,5,20,8\n").at("");
  CHECK(days[0].temp_max_c == 20.0);
  CHECK(days[0].temp_min_c == 8.0);
}

TEST_CASE("Months and days in columns of their own are dates of a common year") {
  const auto days = read("month,day,ghi_kwh_m2\n1,31,2\n2,1,3\n").at("");
  CHECK(days[0].date == make_date(kTypicalYear, 1, 31));
  CHECK(days[1].date == make_date(kTypicalYear, 2, 1));
  CHECK_THAT(refusal("month,day,ghi_kwh_m2\n2,29,2\n"), Contains("days.csv:2: day is `29`"));
}

TEST_CASE("Sites of one file are kept apart, by id or by station number") {
  const auto by_id = read("id,date,ghi_kwh_m2\na,2027-01-01,1\nb,2027-01-01,2\na,2027-01-02,3\n");
  REQUIRE(by_id.size() == 2);
  CHECK(by_id.at("a").size() == 2);
  CHECK(by_id.at("b")[0].ghi_kwh_m2 == 2.0);
  const auto by_wban = read("wban,date,ghi_kwh_m2\n00123,2027-01-01,1\n");
  CHECK(by_wban.count("00123") == 1);
}

TEST_CASE("A date that does not exist is refused with the form that is wanted") {
  CHECK(refusal("date,ghi_kwh_m2\n2027-02-29,1\n") ==
        "days.csv:2: date is `2027-02-29`; allowed: a date of the calendar\n"
        "     2 | 2027-02-29,1\n"
        "  Dates read 2020-01-31; or give `month` and `day` in columns of their own.\n");
  for (const char* date : {"2027-13-01", "2027-00-10", "2027-1-1", "21.05.2027", "20270521", "",
                           "2027-05-2x", "x027-05-21", "2027/05/21"}) {
    INFO(date);
    CHECK_THAT(refusal("date,ghi_kwh_m2\n" + std::string(date) + ",1\n"),
               Contains("days.csv:2: date is `" + std::string(date) + "`; allowed: a date of the"));
  }
}

TEST_CASE("Dates out of order or given twice are refused") {
  CHECK(refusal("date,ghi_kwh_m2\n2027-01-02,1\n2027-01-01,1\n") ==
        "days.csv:3: date is 2027-01-01, not after the day before it (2027-01-02); allowed: days "
        "in order, each once\n"
        "     3 | 2027-01-01,1\n");
  CHECK_THAT(refusal("date,ghi_kwh_m2\n2027-01-02,1\n2027-01-02,1\n"), Contains("days.csv:3:"));
  CHECK_THAT(refusal("month,day,ghi_kwh_m2\n1,2,1\n1,2,1\n"), Contains("days.csv:3: day is"));
}

TEST_CASE("Gaps between days are allowed") {
  CHECK(read("date,ghi_kwh_m2\n2027-01-02,1\n2027-03-01,1\n").at("").size() == 2);
}

TEST_CASE("Values that no weather has are refused") {
  CHECK(refusal("date,ghi_kwh_m2\n2027-01-02,25\n") ==
        "days.csv:2: ghi_kwh_m2 is 25; allowed: -0.1 to 15 (kWh/m2 a day)\n"
        "     2 | 2027-01-02,25\n"
        "  Leave the cell empty where a value is missing.\n");
  CHECK_THAT(refusal("date,ghi_kwh_m2\n2027-01-02,-99\n"), Contains("ghi_kwh_m2 is -99"));
  CHECK_THAT(refusal("date,ghi_kwh_m2\n2027-01-02,nan\n"), Contains("ghi_kwh_m2 is `nan`"));
  CHECK_THAT(refusal("date,ghi_kwh_m2,tmax_c\n2027-01-02,1,99.9\n"),
             Contains("tmax_c is 99.9; allowed: -90 to 60 (C)"));
  CHECK_THAT(refusal("date,ghi_kwh_m2,temp_mean_c\n2027-01-02,1,-91\n"),
             Contains("temp_mean_c is -91"));
}

TEST_CASE("A record needs irradiation and dates") {
  CHECK_THAT(refusal("date,temp_mean_c\n2027-01-02,1\n"), Contains("has no column `ghi_kwh_m2`"));
  CHECK(refusal("month,ghi_kwh_m2\n1,1\n") ==
        "days.csv:1: date is missing; allowed: a column `date`, or columns `month` and `day`\n"
        "     1 | month,ghi_kwh_m2\n");
}

TEST_CASE("A record is read from a file") {
  const TemporaryFile file("date,ghi_kwh_m2\n2027-01-02,1.5\n");
  CHECK(read_daily_record_file(file.path()).at("").at(0).ghi_kwh_m2 == 1.5);
  CHECK_THAT(message_of([] { read_daily_record_file("no/such.csv"); }),
             Contains("there is no such daily weather file"));
}

}  // namespace
}  // namespace dullspell
