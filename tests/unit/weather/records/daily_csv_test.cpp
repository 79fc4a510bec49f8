#include <cmath>
#include <string>

#include "tests/support/weather_text.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

TEST_CASE("Days are read with their date, irradiation, temperatures and line") {
  const auto record = read_one(
      "# of an invented station\n"
      "date,ghi_kwh_m2,temp_max_c,temp_min_c,temp_mean_c\n"
      "2028-02-28,2.5,5,-3,0.5\n"
      "2028-02-29,,4,-4,\n");
  const auto& days = record.days;
  REQUIRE(days.size() == 2);
  CHECK(days[0].date == make_date(2028, 2, 28));
  CHECK(days[0].ghi_kwh_m2 == 2.5);
  CHECK(days[0].temp_max_c == 5.0);
  CHECK(days[0].temp_min_c == -3.0);
  CHECK(days[0].mean_temperature_c() == 0.5);
  CHECK(days[0].line == 3);
  CHECK(days[1].date == make_date(2028, 2, 29));
  CHECK_FALSE(days[1].ghi_kwh_m2.has_value());
  CHECK(days[1].mean_temperature_c() == 0.0);
  CHECK(record.file == "w.csv");
  CHECK_FALSE(record.typical_year);
  CHECK(record.hours.empty());
  const auto empty = finding_with(record, "day with an empty irradiation: missing");
  CHECK(empty.count == 1);
  CHECK(empty.line == 4);
}

TEST_CASE("A day without a mean and one of its ends has no mean temperature") {
  RecordedDay day{};
  CHECK_FALSE(day.mean_temperature_c().has_value());
  day.temp_max_c = 5.0;
  CHECK_FALSE(day.mean_temperature_c().has_value());
}

TEST_CASE("Irradiation is read in four units") {
  const auto ghi = [](const std::string& column, const std::string& value) {
    return read_one("date," + column + "\n2027-05-21," + value + "\n").days[0].ghi_kwh_m2.value();
  };
  CHECK(ghi("ghi_kwh_m2", "5") == 5.0);
  CHECK(ghi("ghi_mj_m2", "18") == Approx(5.0).epsilon(1e-12));
  CHECK(ghi("ghi_wh_m2", "5000") == Approx(5.0).epsilon(1e-12));
  CHECK(ghi("ghi_w_m2", "250") == Approx(6.0).epsilon(1e-12));
}

TEST_CASE("All spellings of the temperature columns are read, Fahrenheit too") {
  const auto c = read_one("date,ghi_kwh_m2,tmax_c,tmin_c,tmean_c\n2027-05-21,5,20,8,13\n").days[0];
  CHECK(c.temp_max_c == 20.0);
  CHECK(c.temp_min_c == 8.0);
  CHECK(c.temp_mean_c == 13.0);
  for (const char* names : {"tmax_f,tmin_f,tmean_f", "temp_max_f,temp_min_f,temp_mean_f"}) {
    const auto f =
        read_one("date,ghi_kwh_m2," + std::string(names) + "\n2027-05-21,5,212,32,-40\n").days[0];
    CHECK(f.temp_max_c.value() == Approx(100.0));
    CHECK(f.temp_min_c.value() == Approx(0.0).margin(1e-12));
    CHECK(f.temp_mean_c.value() == Approx(-40.0));
  }
}

TEST_CASE("Two columns for one quantity are refused") {
  CHECK_THAT(refusal_of("date,ghi_kwh_m2,ghi_mj_m2\n2027-05-21,5,18\n"),
             StartsWith("w.csv:1: ghi_mj_m2 stands besides `ghi_kwh_m2`; allowed: one column"));
  CHECK_THAT(refusal_of("date,ghi_kwh_m2,tmax_c,temp_max_f\n2027-05-21,5,18,50\n"),
             Contains("temp_max_f stands besides `tmax_c`"));
}

TEST_CASE("Months and days alone are a typical year") {
  const auto record = read_one("month,day,ghi_kwh_m2\n1,31,2\n2,1,3\n");
  CHECK(record.typical_year);
  CHECK(record.days[0].date == make_date(kTypicalYear, 1, 31));
  CHECK(record.days[1].date == make_date(kTypicalYear, 2, 1));
  CHECK(finding_with(record, "days of the year without a row: missing").count == 363);
  CHECK_THAT(refusal_of("month,day,ghi_kwh_m2\n2,29,2\n"), Contains("w.csv:2: day is `29`"));
}

TEST_CASE("Year, month and day may stand in columns of their own") {
  const auto record = read_one("year,month,day,ghi_kwh_m2\n2028,2,29,2\n");
  CHECK_FALSE(record.typical_year);
  CHECK(record.days[0].date == make_date(2028, 2, 29));
  CHECK_THAT(refusal_of("year,month,day,ghi_kwh_m2\n2027,2,29,2\n"), Contains("day is `29`"));
}

TEST_CASE("Sites of one file are kept apart, by id or by station number") {
  const auto by_id =
      read_sites("id,date,ghi_kwh_m2\na,2027-01-01,1\nb,2027-01-01,2\na,2027-01-02,3\n");
  REQUIRE(by_id.size() == 2);
  CHECK(by_id[0].site == "a");
  CHECK(by_id[0].days.size() == 2);
  CHECK(by_id[1].site == "b");
  CHECK(by_id[1].days[0].ghi_kwh_m2 == 2.0);
  CHECK(read_one("wban,date,ghi_kwh_m2\n00123,2027-01-01,1\n").site == "00123");
}

TEST_CASE("Marks of missing values are no values, and counted with their first line") {
  for (const char* mark : {"-9999", "-999", "-99", "-99.9", "-9900", "9999", "99999", "NA", "nan",
                           "null", "-9999.0"}) {
    INFO(mark);
    const auto record = read_one("date,ghi_kwh_m2\n2027-01-01,1\n2027-01-02," + std::string(mark) +
                                 "\n2027-01-03,-9999\n");
    CHECK_FALSE(record.days[1].ghi_kwh_m2.has_value());
    const auto finding = finding_with(record, "irradiations marked as missing");
    CHECK(finding.count == 2);
    CHECK(finding.line == 3);
  }
  const auto temps =
      read_one("date,ghi_kwh_m2,tmax_c,tmin_f\n2027-01-01,1,99.9,99.9\n2027-01-02,1,20,-999\n");
  CHECK_FALSE(temps.days[0].temp_max_c.has_value());
  CHECK(temps.days[0].temp_min_c.value() == Approx(37.7222).epsilon(1e-5));
  CHECK_FALSE(temps.days[1].temp_min_c.has_value());
  CHECK(finding_with(temps, "temperatures marked as missing").count == 2);
}

TEST_CASE("A negative zero is zero") {
  const auto day = read_one("date,ghi_kwh_m2\n2027-01-01,-0.0\n").days[0];
  CHECK(day.ghi_kwh_m2 == 0.0);
  CHECK_FALSE(std::signbit(*day.ghi_kwh_m2));
}

TEST_CASE("A date that does not exist is refused with the form that is wanted") {
  CHECK(refusal_of("date,ghi_kwh_m2\n2027-02-29,1\n") ==
        "w.csv:2: date is `2027-02-29`; allowed: a date of the calendar\n"
        "     2 | 2027-02-29,1\n"
        "  Dates read 2020-01-31; or give `month` and `day` in columns of their own.\n");
  for (const char* date : {"2027-13-01", "2027-00-10", "2027-1-1", "21.05.2027", "20270521", "",
                           "2027-05-2x", "x027-05-21", "2027/05/21", "0027-05-21", "9027-05-21"}) {
    INFO(date);
    CHECK_THAT(refusal_of("date,ghi_kwh_m2\n" + std::string(date) + ",1\n"),
               Contains("w.csv:2: date is `" + std::string(date) + "`; allowed: a date of the"));
  }
}

TEST_CASE("A few dates out of order or doubled are mended, and said") {
  const std::string text = daily_text(make_date(2027, 1, 1), 60);
  auto lines = text + "2027-01-05,9.9,1,0\n2027-03-02,3.3,1,0\n";
  const auto record = read_one(lines);
  REQUIRE(record.days.size() == 61);
  CHECK(std::is_sorted(record.days.begin(), record.days.end(),
                       [](const auto& a, const auto& b) { return a.date < b.date; }));
  CHECK(record.days[4].ghi_kwh_m2 != 9.9);
  const auto unordered = finding_with(record, "day earlier than the row before: put in order");
  CHECK(unordered.count == 1);
  CHECK(unordered.line == 62);
  const auto doubled = finding_with(record, "day given twice: the first kept");
  CHECK(doubled.count == 1);
  CHECK(doubled.line == 62);
}

TEST_CASE("Many dates out of order or doubled are refused") {
  CHECK(refusal_of("date,ghi_kwh_m2\n2027-01-02,1\n2027-01-01,1\n") ==
        "w.csv:3: is earlier than the row before it (1 of 2 rows are); allowed: days in order, "
        "each once; up to 5 % are mended\n"
        "     3 | 2027-01-01,1\n"
        "  Sort the rows by date, oldest first.\n");
  CHECK_THAT(refusal_of("date,ghi_kwh_m2\n2027-01-02,1\n2027-01-02,1\n"),
             StartsWith("w.csv:3: repeats a day that was there before (1 of 2 rows do)"));
}

TEST_CASE("Gaps between days are allowed, and counted") {
  const auto record = read_one("date,ghi_kwh_m2\n2027-01-02,1\n2027-01-03,1\n2027-03-01,1\n");
  CHECK(record.days.size() == 3);
  const auto gap = finding_with(record, "days without a row between the first and the last");
  CHECK(gap.count == 56);
  CHECK(gap.line == 4);
}

TEST_CASE("A cell that is no number is refused, whatever it looks like") {
  CHECK_THAT(refusal_of("date,ghi_kwh_m2\n2027-01-02,2 kWh\n"),
             StartsWith("w.csv:2: ghi_kwh_m2 is `2 kWh`; allowed: a finite number"));
  for (const char* cell : {"inf", "-inf", "1e999", "0x10", "1.2.3", "--1", "one"}) {
    INFO(cell);
    CHECK_THAT(refusal_of("date,ghi_kwh_m2\n2027-01-02," + std::string(cell) + "\n"),
               Contains("ghi_kwh_m2 is `" + std::string(cell) + "`"));
  }
  CHECK(read_one("date,ghi_kwh_m2\n2027-01-02,1e308\n").days[0].ghi_kwh_m2 == 1e308);
}

TEST_CASE("A daily file needs irradiation, dates and rows") {
  CHECK_THAT(refusal_of("date,temp_mean_c\n2027-01-02,1\n"),
             StartsWith("w.csv:1: has no column of global horizontal irradiation; allowed: one of "
                        "ghi_kwh_m2, ghi_mj_m2"));
  CHECK_THAT(refusal_of("month,ghi_kwh_m2\n1,1\n"),
             StartsWith("w.csv:1: date is missing; allowed: a column `date`, or columns `month`"));
  CHECK_THAT(refusal_of("date,ghi_kwh_m2\n"), StartsWith("w.csv: has a header but no rows"));
  CHECK_THAT(refusal_of("date,ghi_kwh_m2\n2027-01-02,\n2027-01-03,-9999\n"),
             StartsWith("w.csv: ghi_kwh_m2 is missing in every row"));
}

TEST_CASE("A row that is cut short is refused with its line") {
  CHECK(refusal_of("date,ghi_kwh_m2,tmax_c\n2027-01-02,1,2\n2027-01-0") ==
        "w.csv:3: has fewer cells than the header\n"
        "     3 | 2027-01-0\n"
        "  A line may be cut short.\n");
}

TEST_CASE("Byte order marks, line ends of either kind, blank lines and comments do not matter") {
  const auto record = read_one(
      "\xef\xbb\xbf# made by hand\r\n\r\ndate,ghi_kwh_m2\r\n\r\n2027-01-02, 1.5\r\n# last\r\n"
      "2027-01-03,2\r\n\r\n");
  REQUIRE(record.days.size() == 2);
  CHECK(record.days[0].ghi_kwh_m2 == 1.5);
  CHECK(record.days[1].line == 7);
}

}  // namespace
}  // namespace dullspell
