#include <map>
#include <random>
#include <stdexcept>
#include <string>

#include "tests/support/daily_records.hpp"
#include "tests/support/temporary_file.hpp"
#include "tests/support/weather_text.hpp"
#include "weather/records/quality.hpp"

namespace dullspell::record_file_test {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

const Date kDay = make_date(2027, 6, 21);
constexpr std::chrono::days kNext{1};

TEST_CASE("The format of a weather file is told by its content") {
  CHECK(read_one(epw_head() + epw_day(kDay)).ghi_column == "global horizontal radiation");
  CHECK(read_one(tmy3_head() + tmy3_day(kDay)).ghi_column == "GHI (W/m^2)");
  CHECK(read_one("# own\n" + hourly_head() + hourly_day(kDay)).ghi_column == "ghi_w_m2");
  CHECK(read_one("date,ghi_mj_m2\n2027-06-21,20\n").ghi_column == "ghi_mj_m2");
}

TEST_CASE("A weather file is read from disk") {
  const TemporaryFile file("date,ghi_kwh_m2\n2027-01-02,1.5\n");
  const auto records = read_weather_file(file.path());
  REQUIRE(records.size() == 1);
  CHECK(records[0].file == file.path());
  CHECK(records[0].days.at(0).ghi_kwh_m2 == 1.5);
  CHECK(read_daily_record_file(file.path()).at("").at(0).ghi_kwh_m2 == 1.5);
  CHECK_THAT(message_of([] { read_weather_file("no/such.csv"); }),
             Contains("there is no such weather file"));
}

TEST_CASE("Content that is no weather file is refused in words") {
  CHECK_THAT(refusal_of("date;ghi_kwh_m2\n2027-01-02;1,5\n"),
             StartsWith("w.csv:1: parts its cells by semicolons; allowed: commas"));
  CHECK_THAT(refusal_of("# own\ndate\tghi_kwh_m2\n"),
             StartsWith("w.csv:2: parts its cells by tabs"));
  CHECK_THAT(refusal_of(std::string("date,ghi\0_kwh\n", 14)),
             StartsWith("w.csv:1: holds binary data"));
  CHECK_THAT(refusal_of("2027-01-02,1.5\n2027-01-03,1.5\n"),
             Contains("Name the columns in the first row"));
  CHECK_THAT(refusal_of("# nothing\n"), StartsWith("w.csv"));
  CHECK_THAT(refusal_of(""), StartsWith("w.csv"));
  CHECK_THAT(refusal_of("\x89PNG\r\n\x1a\n\x7f\xff\xfe"), StartsWith("w.csv"));
}

TEST_CASE("A row of megabytes is refused with a short message", "[long]") {
  const std::string megabytes(10'000'000, '7');
  for (const std::string& text :
       {"date,ghi_kwh_m2\n2027-01-02," + megabytes + "\n", "date,ghi_kwh_m2\n" + megabytes + "\n",
        megabytes, "date," + megabytes + "\n2027-01-02,1\n", epw_head() + megabytes + "\n",
        "LOCATION," + megabytes,
        with(tmy3_head() + tmy3_day(kDay), ",0,0,10.0", ",0," + megabytes + ",10.0"),
        "date,ghi_kwh_m2\n2027-01-02,1" + std::string(20'000'000, ' ') + "\n"}) {
    CHECK(refusal_of(text).size() < 1000);
  }
  // Commas alone.
  CHECK(refusal_of("date,ghi_kwh_m2\n" + std::string(1'000'000, ',') + "\n").size() < 1000);
}

// ---- Several files of one site

WeatherRecord file_of(const std::string& name, const std::string& text) {
  return parse_weather_text({name, text}).at(0);
}

TEST_CASE("Files of one site are joined in order, their findings kept with their file") {
  const auto joined = join_records(
      {file_of("a.csv", daily_text(make_date(2026, 1, 1), 365)),
       file_of("b.csv", with(daily_text(make_date(2027, 1, 1), 365), "2.000", "-999"))});
  CHECK(joined.file == "a.csv, b.csv");
  CHECK(joined.days.size() == 730);
  CHECK(joined.days.back().date == make_date(2027, 12, 31));
  CHECK(joined.days.back().line == 0);
  REQUIRE(joined.findings.size() == 1);
  CHECK(joined.findings[0].what == "irradiation marked as missing (in b.csv)");
  CHECK(joined.findings[0].line == 2);
  const auto alone = join_records({file_of("a.csv", daily_text(make_date(2026, 1, 1), 365))});
  CHECK(alone.file == "a.csv");
  CHECK(alone.days[0].line == 2);
  CHECK_THROWS_AS(join_records({}), std::invalid_argument);
}

TEST_CASE("Files in another order or with a few days in common are mended, and said") {
  const auto joined = join_records({file_of("b.csv", daily_text(make_date(2027, 1, 1), 365)),
                                    file_of("a.csv", daily_text(make_date(2026, 1, 10), 365))});
  CHECK(joined.days.size() == 721);
  CHECK(joined.days[0].date == make_date(2026, 1, 10));
  CHECK(finding_with(joined, "day earlier than the row before").count == 1);
  CHECK(finding_with(joined, "days given twice: the first kept").count == 9);
  const auto apart = join_records({file_of("a.csv", daily_text(make_date(2026, 1, 1), 365)),
                                   file_of("b.csv", daily_text(make_date(2027, 1, 11), 365))});
  CHECK(finding_with(apart, "days without a row between the first and the last").count == 10);
  CHECK_THAT(message_of([] {
               join_records({file_of("a.csv", daily_text(make_date(2026, 1, 1), 365)),
                             file_of("b.csv", daily_text(make_date(2026, 1, 1), 365))});
             }),
             StartsWith("a.csv, b.csv: repeats a day that was there before (365 of 730 rows"));
}

TEST_CASE("Hours are kept if all files have them, and dropped with a finding if not") {
  const auto hourly = [](const std::string& name, Date first) {
    return file_of(name, hourly_head() + hourly_day(first) + hourly_day(first + kNext));
  };
  const auto both = join_records({hourly("a.csv", kDay), hourly("b.csv", kDay + 2 * kNext)});
  CHECK(both.hours.size() == 4);
  CHECK(both.findings.empty());
  const auto mixed =
      join_records({hourly("a.csv", kDay), file_of("b.csv", daily_text(kDay + 2 * kNext, 30))});
  CHECK(mixed.hours.empty());
  CHECK(mixed.days.size() == 32);
  CHECK(mixed.days[0].ghi_kwh_m2.value() == Approx(day_of_light(kDay)));
  CHECK(finding_with(mixed, "days with hours among files of days").count == 2);
}

TEST_CASE("Files that do not belong together are refused") {
  const auto refused = [](const std::string& a, const std::string& b) {
    return message_of([&] { join_records({file_of("a.csv", a), file_of("b.csv", b)}); });
  };
  const std::string days = daily_text(kDay, 30);
  CHECK_THAT(refused(days, tmy3_head() + tmy3_day(kDay)),
             StartsWith("b.csv: cannot be joined with a.csv: a typical year stands alone"));
  CHECK_THAT(
      refused("id,date,ghi_kwh_m2\nx,2027-01-01,1\n", "id,date,ghi_kwh_m2\ny,2027-01-02,1\n"),
      StartsWith("b.csv: holds the site `y`, a.csv holds `x`"));
  const std::string epw = epw_head() + epw_day(kDay);
  CHECK_THAT(refused(epw, with(epw, ",40.0,", ",41.0,")),
             StartsWith("b.csv: is of a place 111 km (69 mi) from that of a.csv"));
  CHECK_THAT(refused(epw, with(epw, ",-8.0,", ",-7.0,")),
             StartsWith("b.csv: has the UTC offset -7, a.csv has -8"));
}

// ---- Real files

std::string project_file(const std::string& name) {
  return std::string(DULLSPELL_SOURCE_DIR) + "/datasets/records/" + name;
}

// The daily sums were made from the same hours by other means, and rounded: irradiation to 1 Wh,
// temperatures to 0.1 C.
void check_against_daily_sums(const WeatherRecord& record, const std::string& site) {
  static const DailyRecords sums = read_daily_record_file(project_file("typical_daily_us.csv"));
  const auto& expected = sums.at(site);
  REQUIRE(expected.size() == 365);
  REQUIRE(record.days.size() == 365);
  REQUIRE(record.hours.size() == 365);
  CHECK(record.typical_year);
  CHECK(record.findings.empty());
  for (std::size_t i = 0; i < 365; ++i) {
    INFO(iso_date(expected[i].date));
    REQUIRE(record.days[i].date == expected[i].date);
    REQUIRE(*record.days[i].ghi_kwh_m2 == Approx(*expected[i].ghi_kwh_m2).margin(0.0005001));
    REQUIRE(*record.days[i].temp_max_c == Approx(*expected[i].temp_max_c).margin(1e-9));
    REQUIRE(*record.days[i].temp_min_c == Approx(*expected[i].temp_min_c).margin(1e-9));
    if (expected[i].temp_mean_c) {
      REQUIRE(*record.days[i].temp_mean_c == Approx(*expected[i].temp_mean_c).margin(0.050001));
    }
  }
}

TEST_CASE("NREL's TMY3 file of South Lake Tahoe sums up to the daily record of its station") {
  const auto record = read_weather_file(project_file("tmy3_725847_south_lake_tahoe.csv")).at(0);
  CHECK(record.name == "SOUTH LAKE TAHOE, CA");
  CHECK(record.where.value().latitude_deg == 38.9);
  CHECK(record.utc_offset_h == -8.0);
  CHECK(record.elevation_m == 1909.0);
  check_against_daily_sums(record, "tmy3_725847");
}

TEST_CASE("NREL's TMY3 data of Port Angeles as EPW sum up to the daily record of their station") {
  const auto record = read_weather_file(project_file("tmy3_727885_port_angeles.epw")).at(0);
  CHECK(record.name == "William R Fairchild, WA, USA");
  CHECK(record.where.value().longitude_deg == -123.5);
  CHECK(record.elevation_m == 91.0);
  check_against_daily_sums(record, "usa_wa_port_angeles_william_r_fairchild_intl_ap_727885_tmy3");
}

TEST_CASE("Real hourly files pass the quality control, their clocks included") {
  for (const char* name : {"tmy3_725847_south_lake_tahoe.csv", "tmy3_727885_port_angeles.epw"}) {
    auto record = read_weather_file(project_file(name)).at(0);
    check_quality(record, *record.where);
    CHECK(record.findings.empty());
    // The same hours at a place three zones away are found out.
    auto moved = read_weather_file(project_file(name)).at(0);
    moved.utc_offset_h = *moved.utc_offset_h + 3.0;
    CHECK_THAT(message_of([&] { check_quality(moved, *moved.where); }),
               Contains("h earlier than the sun at this place"));
  }
}

TEST_CASE("A real file that is cut anywhere is read with a finding or refused by line") {
  const auto source = read_source(project_file("tmy3_727885_port_angeles.epw"), "weather", 1 << 24);
  // In the middle of a row's first cells, and after a row.
  const auto at = source.text.find("\n2001,6,") == std::string::npos
                      ? source.text.find('\n', source.text.size() / 2)
                      : source.text.find("\n2001,6,");
  CHECK_THAT(message_of([&] {
               parse_weather_text({"cut.epw", source.text.substr(0, at + 12)});
             }),
             Contains("has fewer cells than the header"));
  const auto record = parse_weather_text({"cut.epw", source.text.substr(0, at + 1)}).at(0);
  CHECK(record.days.size() < 365);
  CHECK(finding_with(record, "rows missing of those that the head announces").count > 0);
}

// ---- Broken content

// Random bytes in, whatever comes out must be a record or an InputError; anything else fails here.
void read_broken(const std::string& text) {
  try {
    for (auto& record : parse_weather_text({"broken.csv", text})) {
      check_quality(record, record.where.value_or(kTextPlace));
    }
  } catch (const InputError& error) {
    if (std::string_view(error.what()).size() >= 2000) FAIL("a message of pages");
  }
}

std::string mutated(std::string text, std::mt19937& random) {
  const auto below = [&](std::size_t n) {
    return std::size_t{random()} % std::max<std::size_t>(n, 1);
  };
  static const std::vector<std::string> kPieces{"nan",  "-inf", "1e308", "-0", "25",
                                                "\"",   ",",    "\n",    "#",  "\t",
                                                "9999", "2/29", "",      ";",  "LOCATION,"};
  for (std::size_t n = 1 + below(3); n > 0; --n) {
    const std::size_t at = below(text.size());
    switch (below(6)) {
      case 0:
        if (!text.empty()) text[at] = static_cast<char>(random());
        break;
      case 1:
        text.resize(at);
        break;
      case 2: {
        const auto end = std::min(text.find('\n', at), text.size());
        text.erase(at, end - at + 1);
        break;
      }
      case 3:
        text.insert(at, kPieces[below(kPieces.size())]);
        break;
      case 4: {
        const std::string piece = text.substr(at, below(200));
        text.insert(below(text.size()), piece);
        break;
      }
      default: {
        const auto comma = text.find(',', at);
        const auto end = comma == std::string::npos ? comma : text.find_first_of(",\n", comma + 1);
        if (end != std::string::npos) {
          text.replace(comma + 1, end - comma - 1, kPieces[below(kPieces.size())]);
        }
      }
    }
  }
  return text;
}

TEST_CASE("Broken content of any format is read or refused in words") {
  const std::vector<std::string> sound{
      epw_head("TMY3") + epw_day(kDay) + epw_day(kDay + kNext),
      tmy3_head() + tmy3_day(kDay) + tmy3_day(kDay + kNext),
      hourly_head() + hourly_day(kDay) + hourly_day(kDay + kNext),
      daily_text(kDay, 40),
      "month,day,ghi_mj_m2,tmean_f\n1,1,5,40\n1,2,6,41\n",
      "id,year,month,day,ghi_w_m2\na,2020,2,29,100\nb,2020,2,29,120\n"};
#ifdef NDEBUG
  constexpr int kTimes = 800;
#else
  constexpr int kTimes = 100;  // where each takes ten times as long
#endif
  std::mt19937 random(20270521);
  for (const std::string& text : sound) {
    read_broken(text);
    for (int i = 0; i < kTimes; ++i) {
      const std::string broken = mutated(text, random);
      INFO(broken);
      REQUIRE_NOTHROW(read_broken(broken));
    }
  }
  SUCCEED();
}

TEST_CASE("Every beginning of a sound file is read or refused in words") {
  for (const std::string& text : {epw_head() + epw_day(kDay), tmy3_head() + tmy3_day(kDay)}) {
    for (std::size_t length = 0; length < text.size(); length += 3) {
      INFO(length);
      REQUIRE_NOTHROW(read_broken(text.substr(0, length)));
    }
  }
}

}  // namespace
}  // namespace dullspell::record_file_test
