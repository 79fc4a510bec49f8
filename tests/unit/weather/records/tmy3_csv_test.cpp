#include <string>

#include "tests/support/weather_text.hpp"

namespace dullspell::tmy3_csv_test {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

// Two days whose months come from different years.
std::string two_days() {
  return tmy3_head() + tmy3_day(make_date(1995, 1, 31)) + tmy3_day(make_date(1988, 2, 1));
}

TEST_CASE("A TMY3 file gives its station and days of a typical year") {
  const auto record = read_one(two_days());
  CHECK(record.name == "INVENTED, LAKE, XX");
  CHECK(record.source == "TMY3, station 123456");
  CHECK(record.utc_offset_h == -8.0);
  CHECK(record.where.value().latitude_deg == 40.0);
  CHECK(record.where.value().longitude_deg == -120.0);
  CHECK(record.elevation_m == 500.0);
  CHECK(record.typical_year);
  REQUIRE(record.days.size() == 2);
  CHECK(record.days[0].date == make_date(kTypicalYear, 1, 31));
  CHECK(record.days[1].date == make_date(kTypicalYear, 2, 1));
  CHECK(record.days[0].line == 3);
  CHECK(record.days[1].line == 27);
  CHECK(record.days[0].ghi_kwh_m2.value() == Approx(day_of_light(make_date(1995, 1, 31))));
  CHECK(record.days[0].temp_max_c == 21.5);
  // "13:00" ends the hour that begins at 12.
  CHECK(record.hours[0].ghi_wh_m2[12] == hour_of_light(make_date(1995, 1, 31), 12));
}

TEST_CASE("A TMY3 file that is shorter than a year is read, and said to be short") {
  const auto record = read_one(two_days());
  const auto cut = finding_with(record, "hours missing of the 8760 of a TMY3 file");
  CHECK(cut.count == 8760 - 48);
  CHECK(finding_with(record, "days of the year without a row").count == 363);
}

TEST_CASE("Months that come in two years make a measured record") {
  const auto record =
      read_one(tmy3_head() + tmy3_day(make_date(2019, 2, 28)) + tmy3_day(make_date(2020, 2, 29)));
  CHECK_FALSE(record.typical_year);
  CHECK(record.days[1].date == make_date(2020, 2, 29));
}

TEST_CASE("Missing values of a TMY3 file") {
  const Date day = make_date(1995, 1, 31);
  const auto coded = [&](int hour, const std::string& mark) {
    const std::string light = std::to_string(hour_of_light(day, hour));
    return read_one(with(two_days(),
                         tmy3_row(day, hour, light, fmt::format("{:.1f}", 10 + 0.5 * hour)),
                         tmy3_row(day, hour, mark, "-9900")));
  };
  for (const char* mark : {"-9900", "-9999", ""}) {
    INFO(mark);
    const auto noon = coded(12, mark);
    CHECK_FALSE(noon.days[0].ghi_kwh_m2.has_value());
    CHECK(noon.days[1].ghi_kwh_m2.has_value());
    CHECK(finding_with(noon, "day with an hour of light missing").line == 3);
    CHECK(noon.days[0].temp_max_c == 21.5);
    CHECK(finding_with(noon, "temperature marked as missing").line == 15);
    CHECK(coded(0, mark).days[0].ghi_kwh_m2.has_value());
  }
}

TEST_CASE("A broken head of a TMY3 file is refused") {
  const std::string text = two_days();
  CHECK_THAT(refusal_of(with(text, ",40.000,", ",999,")),
             StartsWith("w.csv:1: latitude is `999`; allowed: -90 to 90 (degrees)"));
  CHECK_THAT(refusal_of(with(text, ",-8.0,", ",x,")), Contains("time zone is `x`"));
  CHECK_THAT(refusal_of(with(text, ",-120.000,500", "")), Contains("w.csv:1: has 5 cells"));
  CHECK_THAT(refusal_of(with(text, "GHI (W/m^2)", "GHI")),
             StartsWith("w.csv:2: has no column `GHI (W/m^2)`"));
  CHECK_THAT(refusal_of(text.substr(0, text.find('\n') + 1)), StartsWith("w.csv: has no header"));
  CHECK_THAT(refusal_of(tmy3_head()), StartsWith("w.csv: holds no rows of weather"));
}

TEST_CASE("A broken row of a TMY3 file is refused with its line") {
  CHECK_THAT(refusal_of(with(two_days(), "01/31/1995,02:00", "02/29/1995,02:00")),
             StartsWith("w.csv:4: Date (MM/DD/YYYY) is `02/29/1995`; allowed: a date"));
  for (const char* time : {"25:00", "00:00", "1200", "12:30", ""}) {
    INFO(time);
    CHECK_THAT(refusal_of(with(two_days(), "01/31/1995,02:00", "01/31/1995," + std::string(time))),
               StartsWith("w.csv:4: Time (HH:MM) is `" + std::string(time) + "`"));
  }
  for (const char* date : {"1995-01-31", "31/01/1995", "01/31", "", "/"}) {
    INFO(date);
    CHECK_THAT(refusal_of(with(two_days(), "01/31/1995,02:00", std::string(date) + ",02:00")),
               StartsWith("w.csv:4: Date (MM/DD/YYYY) is `" + std::string(date) + "`"));
  }
  const std::string text = two_days();
  CHECK_THAT(refusal_of(text.substr(0, text.size() - 12)),
             StartsWith("w.csv:50: has fewer cells than the header"));
}

}  // namespace
}  // namespace dullspell::tmy3_csv_test
