#include <string>

#include "tests/support/weather_text.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

const Date kDay = make_date(2019, 1, 1);
constexpr std::chrono::days kNext{1};

std::string two_days() {
  return epw_head() + epw_day(kDay) + epw_day(kDay + kNext);
}

std::string pieced_together(const std::string& head) {
  return head + epw_day(make_date(1998, 1, 31)) + epw_day(make_date(2003, 2, 1));
}

TEST_CASE("An EPW file gives its location and days") {
  const auto record = read_one(two_days());
  CHECK(record.name == "Invented, XX");
  CHECK(record.source == "Own, station 123456");
  CHECK(record.where.value().latitude_deg == 40.0);
  CHECK(record.where.value().longitude_deg == -120.0);
  CHECK(record.utc_offset_h == -8.0);
  CHECK(record.elevation_m == 500.0);
  CHECK_FALSE(record.typical_year);
  REQUIRE(record.days.size() == 2);
  CHECK(record.days[0].date == kDay);
  CHECK(record.days[0].line == 9);
  CHECK(record.days[1].line == 33);
  CHECK(record.days[1].ghi_kwh_m2.value() == Approx(day_of_light(kDay + kNext)));
  CHECK(record.days[1].temp_mean_c.value() == Approx(15.75));
  CHECK(record.hours[0].ghi_wh_m2[12] == hour_of_light(kDay, 12));
  CHECK(record.findings.empty());
}

TEST_CASE("Months of different years, or a head that says so, make a typical year") {
  const auto seams = read_one(pieced_together(epw_head()));
  CHECK(seams.typical_year);
  CHECK(seams.days[0].date == make_date(kTypicalYear, 1, 31));
  CHECK(seams.days[1].date == make_date(kTypicalYear, 2, 1));
  for (const char* source : {"TMY3", "SRC-TMYx", "IWEC2 Data", "CWEC", "TRY", "NREL TMY"}) {
    INFO(source);
    const auto named = read_one(epw_head(source) + epw_day(kDay));
    CHECK(named.typical_year);
    CHECK(named.days[0].date == make_date(kTypicalYear, 1, 1));
  }
  // "of one country" stands in the comments: no word of its own.
  CHECK_FALSE(read_one(epw_head("Own") + epw_day(kDay)).typical_year);
}

TEST_CASE("Measured years keep their dates, over the new year and with the same months again") {
  const auto winter =
      read_one(epw_head() + epw_day(make_date(2019, 12, 31)) + epw_day(make_date(2020, 1, 1)));
  CHECK_FALSE(winter.typical_year);
  const auto years = read_one(epw_head("TMY3") + epw_day(make_date(2018, 12, 31)) +
                              epw_day(make_date(2020, 12, 31)));
  CHECK_FALSE(years.typical_year);
  CHECK(years.days[0].date == make_date(2018, 12, 31));
}

TEST_CASE("29 February: kept in measured years, left out of typical ones, refused in common ones") {
  const Date leap = make_date(2020, 2, 29);
  const auto measured = read_one(epw_head("Own", "Yes") + epw_day(leap));
  CHECK(measured.days.at(0).date == leap);
  CHECK(finding_with(measured, "29 February").count == 0);
  const auto unsaid = read_one(epw_head("Own", "No") + epw_day(leap));
  CHECK(unsaid.days.size() == 1);
  CHECK(finding_with(unsaid, "rows of 29 February, though the head says").count == 24);
  const auto typical = read_one(epw_head("TMY") + epw_day(leap - kNext) + epw_day(leap));
  CHECK(typical.days.size() == 1);
  const auto left_out = finding_with(typical, "29 February of a typical year: left out");
  CHECK(left_out.count == 1);
  CHECK(left_out.line == 33);
  CHECK_THAT(refusal_of(epw_head() + "2019,2,29,1,0,?9,1,1,50,101300,0,0,300,0,0,0\n"),
             StartsWith("w.csv:9: day is `29` in month `2` of `2019`; allowed: a date"));
}

TEST_CASE("Missing values of an EPW file") {
  const auto coded = [](int hour, const std::string& ghi, const std::string& temp_c) {
    const std::string row = epw_row(kDay, hour, std::to_string(hour_of_light(kDay, hour)),
                                    fmt::format("{:.1f}", invented_temperature(hour)));
    return read_one(with(two_days(), row, epw_row(kDay, hour, ghi, temp_c)));
  };
  const auto noon = coded(12, "9999", "99.9");
  CHECK_FALSE(noon.days[0].ghi_kwh_m2.has_value());
  CHECK(noon.days[1].ghi_kwh_m2.has_value());
  CHECK(finding_with(noon, "day with an hour of light missing").line == 9);
  CHECK(finding_with(noon, "irradiation marked as missing").count == 1);
  CHECK(finding_with(noon, "temperature marked as missing").line == 21);
  CHECK(noon.days[0].temp_mean_c.has_value());
  CHECK(coded(23, "9999", "99.9").days[0].ghi_kwh_m2.has_value());
  CHECK(coded(23, "9999", "99.9").days[0].temp_max_c == 21.0);
}

TEST_CASE("Several records an hour are averaged") {
  std::string text = epw_head("Own", "No", "1,4,Data,Sunday,1/1,1/1");
  for (int h = 0; h < 24; ++h) {
    for (int q = 1; q <= 4; ++q)
      text += epw_row(kDay, h, h == 12 ? std::to_string(100 * q) : "0", std::to_string(q), 15 * q);
  }
  const auto record = read_one(text);
  CHECK(record.findings.empty());
  CHECK(record.days[0].ghi_kwh_m2.value() == Approx(0.250));
  CHECK(record.days[0].temp_max_c == 2.5);
  // One quarter of noon missing: the hour is.
  const auto cut = message_of([&] { read_one(with(text, epw_row(kDay, 12, "100", "1", 15), "")); });
  CHECK_THAT(cut, Contains("holds no day with all of its irradiation"));
}

TEST_CASE("All eight header lines are wanted, in order") {
  const std::string text = two_days();
  const std::vector<std::string> heads{"LOCATION",
                                       "DESIGN CONDITIONS",
                                       "TYPICAL/EXTREME PERIODS",
                                       "GROUND TEMPERATURES",
                                       "HOLIDAYS/DAYLIGHT SAVINGS",
                                       "COMMENTS 1",
                                       "COMMENTS 2",
                                       "DATA PERIODS"};
  for (int line = 2; line <= 8; ++line) {
    INFO(line);
    const auto i = static_cast<std::size_t>(line - 1);
    CHECK_THAT(refusal_of(without_line(text, line)),
               StartsWith(fmt::format("w.csv:{}: begins with `{}`; allowed: `{}`", line,
                                      line == 8 ? "2019" : heads[i + 1], heads[i])));
  }
  CHECK_THAT(refusal_of("LOCATION,Invented,XX,-,Own,1,40.0,-120.0,-8.0,500.0\n"),
             Contains("w.csv:2: begins with ``; allowed: `DESIGN CONDITIONS`"));
}

TEST_CASE("Header lines are checked") {
  const std::string text = two_days();
  CHECK_THAT(refusal_of(with(text, ",40.0,", ",999,")),
             StartsWith("w.csv:1: latitude is `999`; allowed: -90 to 90 (degrees)"));
  CHECK_THAT(refusal_of(with(text, ",-120.0,", ",190,")), Contains("longitude is `190`"));
  CHECK_THAT(refusal_of(with(text, ",-8.0,", ",-20,")), Contains("time zone is `-20`"));
  CHECK_THAT(refusal_of(with(text, ",500.0\n", ",high\n")), Contains("elevation is `high`"));
  CHECK_THAT(refusal_of(with(text, ",-120.0,-8.0,500.0\n", "\n")),
             StartsWith("w.csv:1: LOCATION has 7 cells"));
  CHECK_THAT(refusal_of(epw_head("Own", "Maybe") + epw_day(kDay)),
             StartsWith("w.csv:5: leap year observed is `MAYBE`; allowed: Yes or No"));
  const auto periods = [](const std::string& cells) {
    return refusal_of(epw_head("Own", "No", cells) + epw_day(kDay));
  };
  CHECK_THAT(periods("0,1,Data,Sunday,1/1,1/2"),
             StartsWith("w.csv:8: number of data periods is `0`"));
  CHECK_THAT(periods("2,1,Data,Sunday,1/1,1/2"), Contains("number of data periods is `2` with 7"));
  CHECK_THAT(periods("1,7,Data,Sunday,1/1,1/2"), Contains("records per hour is `7`"));
  CHECK_THAT(periods("1,0,Data,Sunday,1/1,1/2"), Contains("records per hour is `0`"));
  CHECK_THAT(periods("1,1,Data,Sunday,1/1,2/30"), Contains("holds the date `2/30`"));
  CHECK_THAT(periods("1,1,Data,Sunday,,"), Contains("holds the date ``"));
}

TEST_CASE("Rows that the head announces and the file lacks are counted") {
  const auto year = read_one(epw_head("Own", "No", "1,1,Data,Sunday,1/1,12/31") + epw_day(kDay));
  CHECK(finding_with(year, "rows missing of those that the head announces").count == 364 * 24);
  const auto leap = read_one(epw_head("Own", "Yes", "1,1,Data,Sunday,1/1,12/31") + epw_day(kDay));
  CHECK(finding_with(leap, "rows missing of those").count == 364 * 24);
  const auto leap_year = read_one(epw_head("Own", "Yes", "1,1,Data,Sunday,1/1,12/31") +
                                  epw_day(make_date(2020, 1, 1)));
  CHECK(finding_with(leap_year, "rows missing of those").count == 365 * 24);
  // A period over the new year, and two periods.
  const auto winter = read_one(
      epw_head("Own", "No", "2,1,A,Sunday,12/31,1/2/2020,B,Sunday,7/1,7/2") + epw_day(kDay));
  CHECK(finding_with(winter, "rows missing of those").count == 4 * 24);
}

TEST_CASE("A broken row of an EPW file is refused with its line") {
  const std::string row = "2019,1,1,2,0,?9,";
  const auto broken = [&](const std::string& cells) {
    return refusal_of(with(two_days(), row, cells));
  };
  CHECK_THAT(broken("2019,1,1,25,0,?9,"), StartsWith("w.csv:10: hour is `25`; allowed: 1 to 24"));
  CHECK_THAT(broken("2019,1,1,0,0,?9,"), Contains("hour is `0`"));
  CHECK_THAT(broken("2019,13,1,2,0,?9,"), Contains("w.csv:10: day is `1` in month `13`"));
  CHECK_THAT(broken("2019,1,1,2,0,?9,x"), Contains("w.csv:10: dry bulb is `x10.5`"));
  CHECK_THAT(broken("2019,1,1,2,0,"), Contains("w.csv:10: has fewer cells"));
  const std::string text = two_days();
  CHECK_THAT(refusal_of(text.substr(0, text.size() - 30)),
             StartsWith("w.csv:56: has fewer cells than the header"));
  CHECK_THAT(refusal_of(epw_head()), StartsWith("w.csv:9: has 0 cells"));
  CHECK_THAT(refusal_of(epw_head() + "2019,1,1\n"), StartsWith("w.csv:9: has 3 cells"));
}

TEST_CASE("An EPW file may end its lines in either way and begin with a byte order mark") {
  std::string text;
  for (const char c : two_days()) {
    if (c == '\n') text += '\r';
    text += c;
  }
  CHECK(read_one("\xef\xbb\xbf" + text).days.size() == 2);
}

}  // namespace
}  // namespace dullspell
