#include <cmath>
#include <sstream>
#include <string>

#include <fmt/format.h>

#include "tests/support/input_text.hpp"
#include "tests/support/temporary_file.hpp"
#include "tests/support/test_place.hpp"
#include "weather/place_file.hpp"

namespace dullspell::place_file_test {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Catch::Matchers::VectorContains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

const std::string kWhere = "latitude = 51.2\nlongitude = -115.6\nutc_offset_h = -7\n";
const std::string kMeans =
    "k_mean = [0.40, 0.45, 0.50, 0.50, 0.48, 0.50, 0.55, 0.54, 0.50, 0.45, 0.40, 0.38]\n";
const std::string kTwelve = "[1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]";

Place read(const std::string& text) {
  TomlSection section = toml_root(text);
  return read_place(section);
}

std::string refusal(const std::string& text) {
  return message_of([&] { read(text); });
}

// The same nine quantiles for twelve months.
std::string quantile_rows(const std::string& row, int months = 12) {
  std::string rows = "k_quantiles = [";
  for (int m = 0; m < months; ++m) rows += (m ? ", [" : "[") + row + "]";
  return rows + "]\n";
}

// Their mean, by trapezoids over the probabilities, is 0.461.
const std::string kQuantileRow = "0.05, 0.10, 0.15, 0.30, 0.50, 0.65, 0.70, 0.72, 0.75";

TEST_CASE("A place needs coordinates, offset and twelve mean clearnesses and defaults the rest") {
  const Place place = read(kWhere + kMeans);
  CHECK(place.where.latitude_deg == 51.2);
  CHECK(place.where.longitude_deg == -115.6);
  CHECK(place.utc_offset_h == -7.0);
  CHECK_FALSE(place.elevation_m.has_value());
  CHECK(place.name == "51.20, -115.60");
  CHECK(place.source == "typed");
  CHECK(place.record == RecordKind::monthly_means);
  CHECK(place.months[0].k_mean == 0.40);
  CHECK(place.months[11].k_mean == 0.38);
  for (std::size_t m = 0; m < 12; ++m) {
    const MonthStatistics expected = default_month(static_cast<int>(m), 51.2);
    CHECK_FALSE(place.months[m].k_sd.has_value());
    CHECK(place.months[m].k_persistence == expected.k_persistence);
    CHECK(place.months[m].k_year_share == 0.0);
    CHECK(place.months[m].temp_sd_c == expected.temp_sd_c);
    CHECK(place.months[m].temp_k_correlation == expected.temp_k_correlation);
  }
  CHECK_FALSE(place.has_temperatures());
  CHECK(place.defaults.size() == 8);
  CHECK_THAT(place.defaults,
             VectorContains(std::string("day-to-day persistence of the sky (0.29)")));
}

TEST_CASE("What a place states is not among its defaults") {
  const Place place = read(kWhere + kMeans + "k_persistence = 0.35\nk_sd = 0.15\n");
  CHECK(place.defaults.size() == 6);
  CHECK(place.months[7].k_persistence == 0.35);
  CHECK(place.months[7].k_sd == 0.15);
}

TEST_CASE("South of the equator the default season is turned round") {
  const Place place = read("latitude = -41\nlongitude = 174\nutc_offset_h = 12\n" + kMeans);
  CHECK_THAT(place.months[0].temp_sd_c.value, WithinAbs(2.0, 1e-12));
  CHECK_THAT(place.months[6].temp_sd_c.value, WithinAbs(4.4, 1e-12));
}

TEST_CASE("The kind of record decides the default share of the year") {
  CHECK(read(kWhere + kMeans + "record = \"typical-year\"\n").months[0].k_year_share == 0.08);
  CHECK(read(kWhere + kMeans + "record = \"estimated\"\n").months[0].k_year_share == 0.08);
  CHECK(read(kWhere + kMeans + "record = \"measured\"\n").months[0].k_year_share == 0.0);
  CHECK(read(kWhere + kMeans + "record = \"measured\"\n").record == RecordKind::measured);
  CHECK_THAT(refusal(kWhere + kMeans + "record = \"mesured\"\n"),
             Contains("Did you mean \"measured\"?"));
}

TEST_CASE("Irradiation is turned into clearness by the place's own sun") {
  const Place place =
      read(kWhere + "ghi_kwh_m2 = [1.0, 1.8, 3.2, 4.5, 5.4, 5.9, 6.0, 5.0, 3.6, 2.2, 1.2, 0.8]\n");
  CHECK_THAT(place.months[6].k_mean.value,
             WithinRel(6000.0 / mean_extraterrestrial_wh_m2(6, place.where), 1e-12));
  CHECK(place.months[6].k_mean.value > 0.5);
  CHECK(place.months[6].k_mean.value < 0.6);
}

TEST_CASE("Irradiation that no sky can give is refused with what the month allows") {
  const std::string message = refusal(
      kWhere + "ghi_kwh_m2 = [6.0, 1.8, 3.2, 4.5, 5.4, 5.9, 6.0, 5.0, 3.6, 2.2, 1.2, 0.8]\n");
  CHECK_THAT(message, StartsWith("plan.toml:4:14: ghi_kwh_m2 of month 1 is 6 kWh/m2 a day, a "
                                 "clearness index of 2."));
  const double above_air_kwh_m2 = mean_extraterrestrial_wh_m2(0, {51.2, -115.6}) / 1000.0;
  CHECK_THAT(message, Contains(fmt::format("a clearness index of {:.2f} at latitude 51.2; allowed: "
                                           "{:.2f} to {:.2f} kWh/m2 in that month\n",
                                           6.0 / above_air_kwh_m2, 0.02 * above_air_kwh_m2,
                                           0.80 * above_air_kwh_m2)));
  CHECK_THAT(message, Contains("check the latitude's sign too."));
}

TEST_CASE("A month without sun may have any irradiation") {
  const Place place = read(
      "latitude = 80\nlongitude = 0\nutc_offset_h = 0\n"
      "ghi_kwh_m2 = [0, 0.1, 1.0, 3.5, 5.5, 6.0, 5.0, 3.0, 1.3, 0.1, 0, 0]\n");
  for (const std::size_t dark : {0u, 10u, 11u}) CHECK(place.months[dark].k_mean == 0.40);
  CHECK(place.months[5].k_mean.value > 0.4);
}

TEST_CASE("A month of hardly any sun takes twilight and rounding for the nearest clearness") {
  const std::string where = "latitude = 65\nlongitude = 0\nutc_offset_h = 0\n";
  const double december_wh_m2 = mean_extraterrestrial_wh_m2(11, {65.0, 0.0});
  REQUIRE(december_wh_m2 > 30.0);
  REQUIRE(december_wh_m2 < 300.0);
  const auto december = [&](const std::string& ghi) {
    return read(where + "ghi_kwh_m2 = [0.1, 0.6, 1.8, 3.5, 4.8, 5.2, 4.8, 3.5, 2.0, 0.8, 0.2, " +
                ghi + "]\n")
        .months[11]
        .k_mean;
  };
  CHECK(december("0.0") == 0.02);
  CHECK(december("0.3") == 0.80);
}

TEST_CASE("Too few or too many months are refused") {
  CHECK(refusal(kWhere + "k_mean = [0.4, 0.5]\n") ==
        "plan.toml:4:10: k_mean has 2 entries; allowed: a list of 12 numbers, each 0.02 to 0.8 "
        "(clearness index)\n"
        "     4 | k_mean = [0.4, 0.5]\n"
        "       |          ^\n"
        "  January comes first.\n");
  CHECK_THAT(refusal(kWhere + "ghi_kwh_m2 = [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]\n"),
             Contains("ghi_kwh_m2 has 13 entries"));
  CHECK_THAT(refusal(kWhere + kMeans + "k_persistence = [0.2, 0.3]\n"),
             Contains("k_persistence has 2 entries"));
}

TEST_CASE("A place without any clearness is told where to find one") {
  CHECK(refusal(kWhere) ==
        "plan.toml: k_mean is missing; allowed: twelve mean clearness indices, or ghi_kwh_m2, or "
        "k_quantiles\n"
        "  Any solar atlas prints the monthly irradiation of a horizontal plane: ghi_kwh_m2 = [12 "
        "numbers, kWh/m2 a day].\n");
}

TEST_CASE("Clearness is stated once") {
  CHECK_THAT(refusal(kWhere + kMeans + "ghi_kwh_m2 = " + kTwelve + "\n"),
             Contains("ghi_kwh_m2 is given besides k_mean; allowed: one of the two\n"));
}

TEST_CASE("Coordinates and offset are needed and bounded") {
  CHECK(refusal("longitude = 0\nutc_offset_h = 0\n" + kMeans) ==
        "plan.toml: latitude is missing; allowed: -90 to 90 (degrees, north +)\n");
  CHECK_THAT(refusal("latitude = 91\nlongitude = 0\nutc_offset_h = 0\n" + kMeans),
             Contains("latitude is 91; allowed: -90 to 90 (degrees, north +)"));
  CHECK_THAT(refusal("latitude = 45\nlongitude = 181\nutc_offset_h = 0\n" + kMeans),
             Contains("longitude is 181; allowed"));
  CHECK_THAT(refusal("latitude = 45\nlongitude = 0\n" + kMeans),
             Contains("utc_offset_h is missing; allowed: -12 to 14 (hours)"));
}

TEST_CASE("Quantiles give the month its mean") {
  const Place place = read(kWhere + quantile_rows(kQuantileRow));
  REQUIRE(place.months[4].k_quantiles.has_value());
  CHECK((*place.months[4].k_quantiles)[4] == 0.50);
  CHECK(place.months[4].k_mean == QuantileClearness(*place.months[4].k_quantiles).mean());
}

TEST_CASE("Quantiles override a mean that agrees within 0.01 and refuse another") {
  const double implied = read(kWhere + quantile_rows(kQuantileRow)).months[0].k_mean.value;
  CHECK_THAT(implied, WithinAbs(0.461, 1e-12));
  const auto means = [&](double k) {
    std::string list = "k_mean = [";
    for (int m = 0; m < 12; ++m) list += (m ? ", " : "") + std::to_string(k);
    return list + "]\n";
  };
  CHECK(read(kWhere + means(implied + 0.009) + quantile_rows(kQuantileRow)).months[0].k_mean ==
        implied);
  CHECK_THAT(refusal(kWhere + means(implied + 0.02) + quantile_rows(kQuantileRow)),
             Contains("k_quantiles of month 1 have the mean 0.461, but k_mean is 0.481; allowed: "
                      "means that agree within 0.01\n"));
}

TEST_CASE("Quantiles must grow, number nine and come in twelve rows") {
  CHECK_THAT(
      refusal(kWhere + quantile_rows("0.05, 0.10, 0.40, 0.30, 0.50, 0.65, 0.70, 0.72, 0.75")),
      Contains("k_quantiles of month 1 do not grow; allowed: nine numbers from the least to "
               "the greatest\n"));
  CHECK_THAT(refusal(kWhere + quantile_rows("0.1, 0.2")), Contains("a row of 2 entries"));
  CHECK_THAT(refusal(kWhere + quantile_rows(kQuantileRow, 11)),
             Contains("k_quantiles has 11 rows; allowed: twelve rows, one a month\n"));
  CHECK_THAT(refusal(kWhere + quantile_rows("0, 0, 0, 0, 0, 0, 0, 0, 1.1")),
             Contains("k_quantiles is 1.1; allowed: 0 to 1"));
}

TEST_CASE("Quantiles whose mean no month can have are refused like such a mean") {
  for (const char* row : {"0, 0, 0, 0, 0, 0, 0, 0, 0", "1, 1, 1, 1, 1, 1, 1, 1, 1"}) {
    INFO(row);
    CHECK_THAT(refusal(kWhere + quantile_rows(row)), Contains("k_quantiles"));
  }
}

TEST_CASE("A spread that is too wide for its mean is refused with the widest") {
  const std::string low_means =
      "k_mean = [0.40, 0.05, 0.50, 0.50, 0.48, 0.50, 0.55, 0.54, 0.50, 0.45, 0.40, 0.38]\n";
  CHECK(refusal(kWhere + low_means + "k_sd = 0.17\n") ==
        "plan.toml:5:8: k_sd of month 2 is 0.17, too wide for a mean of 0.050; allowed: below "
        "0.162 in that month\n"
        "     5 | k_sd = 0.17\n"
        "       |        ^\n");
  CHECK_NOTHROW(read(kWhere + low_means + "k_sd = 0.16\n"));
}

TEST_CASE("An unknown key of a place is reported") {
  CHECK_THAT(refusal(kWhere + kMeans + "k_persistance = 0.3\n"),
             Contains("plan.toml:5:1: k_persistance is not a known key") &&
                 Contains("Did you mean `k_persistence`?"));
}

TEST_CASE("One number stands for all months, of clearness and temperature too") {
  const Place place =
      read(kWhere + "k_mean = 0.45\nk_sd = 0.17\ntemp_mean_c = 6\ntemp_range_c = 9.5\n");
  for (const MonthStatistics& month : place.months) {
    CHECK(month.k_mean == 0.45);
    CHECK(month.k_sd == 0.17);
    CHECK(month.temp_mean_c == 6.0);
    CHECK(month.temp_range_c == 9.5);
  }
  CHECK_THAT(refusal(kWhere + "k_mean = 0.9\n"),
             StartsWith("plan.toml:4:10: k_mean is 0.9; allowed: 0.02 to 0.8 (clearness index)"));
  CHECK_THAT(refusal(kWhere + "k_mean = \"0.4\"\n"), StartsWith("plan.toml:4:10: k_mean is "));
}

TEST_CASE("Irradiation and quantiles are no single numbers") {
  CHECK_THAT(refusal(kWhere + "ghi_kwh_m2 = 4.5\n"), StartsWith("plan.toml:4:14: ghi_kwh_m2 is"));
  CHECK_THAT(refusal(kWhere + "k_quantiles = 0.5\n"), StartsWith("plan.toml:4:15: k_quantiles is"));
}

TEST_CASE("The years of a record are read, and are not known unless stated") {
  CHECK(read(kWhere + kMeans).record_years == 0.0);
  CHECK(read(kWhere + kMeans + "record_years = 24.5\n").record_years == 24.5);
  CHECK_THAT(refusal(kWhere + kMeans + "record_years = -1\n"),
             StartsWith("plan.toml:5:16: record_years is -1; allowed: 0 to 300 (years)"));
  CHECK_THAT(refusal(kWhere + kMeans + "record_years = \"1991-2020\"\n"),
             StartsWith("plan.toml:5:16: record_years is "));
}

TEST_CASE("A place without standard errors has none; what the table leaves out is 0") {
  const Place without = read(kWhere + kMeans);
  CHECK_FALSE(without.states_errors());
  CHECK_FALSE(without.months[0].k_persistence.standard_error.has_value());
  const Place place = read(kWhere + kMeans +
                           "temp_mean_c = 8\n[standard_error]\nk_mean = 0.01\ntemp_mean_c = "
                           "[0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8]\n");
  REQUIRE(place.states_errors());
  CHECK(place.months[0].k_mean.standard_error == 0.01);
  CHECK(place.months[11].k_mean.standard_error == 0.01);
  CHECK(place.months[6].temp_mean_c->standard_error == 0.3);
  CHECK(place.months[6].k_persistence.standard_error == 0.0);
  CHECK(place.months[6].temp_sd_c.standard_error == 0.0);
  // They are no defaults of the place.
  CHECK(place.defaults.size() == 8);
}

TEST_CASE("Defaults of a place carry errors of their own") {
  const MonthStatistics month = read(kWhere + kMeans + "temp_sd_c = 3.5\n").months[0];
  CHECK(month.temp_range_c == Estimate(11.0, 3.4));
  CHECK(month.temp_persistence == Estimate(0.60, 0.09));
  CHECK(month.temp_sd_c == Estimate(3.5));
}

TEST_CASE("The error of a number that the place does not state is refused") {
  const std::string table = "[standard_error]\nk_sd = 0.01\n";
  CHECK_THAT(refusal(kWhere + kMeans + table),
             StartsWith("plan.toml:6:8: standard_error.k_sd is given, but no k_sd; allowed: errors "
                        "of numbers that the place states\n") &&
                 Contains("State k_sd too, or leave its error out."));
  CHECK(read(kWhere + kMeans + "k_sd = 0.1\n" + table).months[0].k_sd == Estimate(0.1, 0.01));
  // Quantiles have a spread.
  const MonthStatistics month = read(kWhere + quantile_rows(kQuantileRow) + table).months[3];
  CHECK(month.k_sd == Estimate(QuantileClearness(*month.k_quantiles).sd(), 0.01));
}

TEST_CASE("A standard error that cannot be is refused with key and line") {
  const auto error = [](const std::string& line) {
    return refusal(kWhere + kMeans + "[standard_error]\n" + line + "\n");
  };
  CHECK(error("k_mean = -0.01") ==
        "plan.toml:6:10: standard_error.k_mean is -0.01; allowed: 0 to 0.5 (clearness "
        "index)\n"
        "     6 | k_mean = -0.01\n"
        "       |          ^\n");
  struct Bad {
    const char *line, *message;
  };
  for (const Bad& bad : std::initializer_list<Bad>{
           {"k_sd = 0.6", "plan.toml:6:8: standard_error.k_sd is 0.6; allowed: 0 to 0.5"},
           {"k_persistence = 2.1", "standard_error.k_persistence is 2.1; allowed: 0 to 2"},
           {"k_year_share = -1", "standard_error.k_year_share is -1; allowed: 0 to 2"},
           {"temp_mean_c = 21", "standard_error.temp_mean_c is 21; allowed: 0 to 20 (K)"},
           {"temp_range_c = -0.1", "standard_error.temp_range_c is -0.1; allowed: 0 to 20 (K)"},
           {"temp_sd_c = 99", "standard_error.temp_sd_c is 99; allowed: 0 to 20 (K)"},
           {"temp_persistence = nan", "standard_error.temp_persistence is nan; allowed: 0 to 2"},
           {"temp_k_correlation = 3", "standard_error.temp_k_correlation is 3; allowed: 0 to 2"},
           {"range_k_slope = 51", "standard_error.range_k_slope is 51; allowed: 0 to 50 (K)"},
           {"k_mean = \"small\"", "plan.toml:6:10: standard_error.k_mean is"},
           {"k_mean = [0.1, 0.2]", "plan.toml:6:10: standard_error.k_mean has 2 entries"},
           {"k_quantiles = [[0.1]]", "standard_error.k_quantiles"}}) {
    INFO(bad.line);
    CHECK_THAT(error(bad.line), Contains(bad.message));
  }
  CHECK_THAT(error("k_mean = [0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.7, 0.1, 0.1, 0.1, 0.1, 0.1]"),
             Contains("standard_error.k_mean is 0.7; allowed: 0 to 0.5"));
  CHECK_THAT(refusal(kWhere + kMeans + "standard_error = 0.1\n"),
             StartsWith("plan.toml:5:18: standard_error is 0.1"));
}

TEST_CASE("Errors of quantiles, which mean and spread move, are checked and noted") {
  const std::string row = "0.03, 0.02, 0.02, 0.01, 0.01, 0.02, 0.01, 0.01, 0.02";
  const std::string place = kWhere + quantile_rows(kQuantileRow) + "[standard_error]\n";
  CHECK(read(place).notes.empty());
  REQUIRE(read(place + quantile_rows(row)).notes.size() == 1);
  CHECK_THAT(read(place + quantile_rows(row)).notes[0],
             Contains("known as well as mean and spread"));
  CHECK_THAT(refusal(place + quantile_rows(row, 11)),
             Contains("standard_error.k_quantiles has 11 rows; allowed: twelve rows"));
  CHECK_THAT(refusal(place + quantile_rows("0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, -0.1")),
             Contains("standard_error.k_quantiles is -0.1; allowed: 0 to 1"));
}

TEST_CASE("An unknown key among the standard errors is refused with the likely one") {
  CHECK_THAT(refusal(kWhere + kMeans + "[standard_error]\nk_maen = 0.01\n"),
             StartsWith("plan.toml:6:1: standard_error.k_maen is not a known key") &&
                 Contains("Did you mean `k_mean`?"));
  CHECK_THAT(refusal(kWhere + kMeans + "[standard_error]\nrecord_years = 3\n"),
             StartsWith("plan.toml:6:1: standard_error.record_years is not a known key"));
  CHECK_THAT(
      refusal(kWhere + kMeans + "[standard_errors]\nk_mean = 0.01\n"),
      Contains("standard_errors is not a known key") && Contains("Did you mean `standard_error`?"));
}

void check_same(const Place& a, const Place& b) {
  CHECK(a.id == b.id);
  CHECK(a.name == b.name);
  CHECK(a.where.latitude_deg == b.where.latitude_deg);
  CHECK(a.where.longitude_deg == b.where.longitude_deg);
  CHECK(a.elevation_m == b.elevation_m);
  CHECK(a.utc_offset_h == b.utc_offset_h);
  CHECK(a.source == b.source);
  CHECK(a.licence == b.licence);
  CHECK(a.record == b.record);
  CHECK(a.years == b.years);
  CHECK(a.record_years == b.record_years);
  for (std::size_t m = 0; m < 12; ++m) {
    INFO("month " << m + 1);
    const MonthStatistics &x = a.months[m], &y = b.months[m];
    CHECK(x.k_mean == y.k_mean);
    CHECK(x.k_sd == y.k_sd);
    CHECK(x.k_quantiles == y.k_quantiles);
    CHECK(x.k_persistence == y.k_persistence);
    CHECK(x.k_year_share == y.k_year_share);
    CHECK(x.temp_mean_c == y.temp_mean_c);
    CHECK(x.temp_range_c == y.temp_range_c);
    CHECK(x.temp_sd_c == y.temp_sd_c);
    CHECK(x.temp_persistence == y.temp_persistence);
    CHECK(x.temp_k_correlation == y.temp_k_correlation);
    CHECK(x.range_k_slope == y.range_k_slope);
  }
}

Place written_and_read(const Place& place) {
  std::ostringstream out;
  write_place_file(out, place);
  const TemporaryFile file(out.str());
  return read_place_file(file.path());
}

Place full_place() {
  Place place = place_with_spread(kContrastingMeans, 0.1525);
  place.elevation_m = 1397.0;
  place.licence = "public domain";
  place.record = RecordKind::measured;
  place.years = "1991-2020";
  for (std::size_t m = 0; m < 12; ++m) {
    const auto i = static_cast<double>(m);
    MonthStatistics& month = place.months[m];
    month.k_persistence = 0.31 + 0.01 * i;
    month.k_year_share = 0.0125 * i;
    month.temp_mean_c = -8.25 + 2.0 * i;
    month.temp_range_c = 9.5 + 0.25 * i;
    month.temp_sd_c = 4.75 - 0.25 * i;
    month.temp_persistence = 0.5 + 0.03125 * i;
    month.temp_k_correlation = -0.25 + 0.0625 * i;
    month.range_k_slope = 10.0 + 0.5 * i;
  }
  // The file holds four decimals of shares and two of temperatures.
  for (MonthStatistics& month : place.months) {
    for (Estimate* number : {&month.k_persistence, &month.k_year_share, &month.temp_persistence,
                             &month.temp_k_correlation}) {
      number->value = std::stod(std::to_string(std::round(number->value * 1e4) / 1e4));
    }
  }
  return place;
}

TEST_CASE("A written place file is read back to the same numbers") {
  check_same(written_and_read(full_place()), full_place());
}

TEST_CASE("Names with quotes and backslashes survive a place file") {
  Place place = full_place();
  place.name = "The \"Lake\" at C:\\camp, Š";
  CHECK(written_and_read(place).name == place.name);
  place.name = "two\nlines";
  CHECK(written_and_read(place).name == "two lines");
}

TEST_CASE("A written place file keeps quantiles") {
  Place place = full_place();
  for (MonthStatistics& month : place.months) {
    month.k_quantiles = {0.05, 0.10, 0.15, 0.30, 0.50, 0.65, 0.70, 0.72, 0.75};
    month.k_mean = QuantileClearness(*month.k_quantiles).mean();
    month.k_sd.reset();
  }
  const Place read = written_and_read(place);
  for (MonthStatistics& month : place.months) {
    month.k_sd = QuantileClearness(*month.k_quantiles).sd();
  }
  check_same(read, place);
}

TEST_CASE("A written place file keeps weather details of a place without mean temperatures") {
  Place place = full_place();
  for (MonthStatistics& month : place.months) month.temp_mean_c.reset();
  check_same(written_and_read(place), place);
}

// Errors that differ from month to month, of as many decimals as the file holds.
Place place_with_errors() {
  Place place = full_place();
  place.record_years = 24.5;
  for (std::size_t m = 0; m < 12; ++m) {
    const auto i = static_cast<double>(m);
    MonthStatistics& month = place.months[m];
    month.temp_mean_c->standard_error = 0.25 + 0.25 * i;
    month.temp_range_c.standard_error = 0.5 + 0.25 * i;
    month.temp_sd_c.standard_error = 1.25;
    month.range_k_slope.standard_error = 2.0 + 0.5 * i;
    month.k_mean.standard_error = std::stod(fmt::format("{:.4f}", 0.0121 + 0.0013 * i));
    month.k_sd->standard_error = std::stod(fmt::format("{:.4f}", 0.0052 + 0.0007 * i));
    month.k_persistence.standard_error = 0.0123;
    month.k_year_share.standard_error = 0.0456;
    month.temp_persistence.standard_error = 0.0789;
    month.temp_k_correlation.standard_error = std::stod(fmt::format("{:.4f}", 0.0301 + 0.0011 * i));
  }
  return place;
}

void add_quantiles(Place& place) {
  for (MonthStatistics& month : place.months) {
    month.k_quantiles = {0.05, 0.10, 0.15, 0.30, 0.50, 0.65, 0.70, 0.72, 0.75};
    month.k_mean.value = QuantileClearness(*month.k_quantiles).mean();
  }
}

TEST_CASE("A written place file keeps standard errors and the years of the record") {
  check_same(written_and_read(place_with_errors()), place_with_errors());
}

TEST_CASE("A written place file keeps quantiles, spread and its error") {
  Place place = place_with_errors();
  add_quantiles(place);
  check_same(written_and_read(place), place);
}

TEST_CASE("A written place file without temperatures keeps the errors of its sky") {
  Place place = place_with_errors();
  for (MonthStatistics& month : place.months) month.temp_mean_c.reset();
  check_same(written_and_read(place), place);
}

std::string written(const Place& place) {
  std::ostringstream out;
  write_place_file(out, place);
  return out.str();
}

TEST_CASE("Months that agree are written as one number, others as twelve") {
  const std::string text = written(place_with_errors());
  CHECK_THAT(text, Contains("\nk_sd               = 0.1525\n"));
  CHECK_THAT(text, Contains("\nk_persistence      = [0.3100, 0.3200, "));
  CHECK_THAT(text, Contains("\n[standard_error]\n"));
  CHECK_THAT(text, Contains("\ntemp_persistence   = 0.0789\n"));
  CHECK_THAT(text, Contains("\nrecord_years = 24.5\n"));
  CHECK_THAT(written(full_place()), !Contains("record_years") && !Contains("standard_error"));
}

TEST_CASE("What was written, read and written again is the same text") {
  Place place = place_with_errors();
  add_quantiles(place);
  // More decimals than the file holds.
  for (MonthStatistics& month : place.months) {
    month.temp_range_c.value += 0.123456;
    *month.k_mean.standard_error += 0.0000123;
  }
  const std::string text = written(place);
  CHECK(written(written_and_read(place)) == text);
}

TEST_CASE("A place file that is missing is reported as a place") {
  CHECK_THAT(message_of([] { read_place_file("no/such/lake.toml"); }),
             Contains("no/such/lake.toml: there is no such place file"));
}

}  // namespace
}  // namespace dullspell::place_file_test
