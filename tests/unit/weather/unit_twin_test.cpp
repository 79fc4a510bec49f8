#include "weather/input/unit_twin.hpp"

#include <limits>
#include <string>
#include <utility>

#include "tests/support/input_text.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::Contains;

constexpr Range kElevation{-450.0, 6000.0, "m"};
constexpr Range kHeld{-20.0, 35.0, "C"};
constexpr Range kCover{0.0, 0.95};

std::string twin_of(std::string_view key, std::string_view unit) {
  const auto twin = unit_twin(key, unit);
  return twin ? twin->key : "";
}

TomlSection root_with(const std::string& text, const std::vector<std::string>& settings) {
  return TomlSection::root_of(
      std::make_shared<const TomlDocument>(SourceText{"plan.toml", text}, settings));
}

TEST_CASE("a key in a metric unit has a twin in that of the US") {
  const std::pair<std::pair<const char*, const char*>, const char*> twins[] = {
      {{"other_heat_c", "C"}, "other_heat_f"},
      {{"c", "C"}, "f"},
      {{"duty_at", "C"}, "duty_at_f"},
      {{"temp_range_c", "K"}, "temp_range_f"},
      {{"elevation_m", "m"}, "elevation_ft"},
      {{"length_cm", "cm"}, "length_in"},
      {{"thickness_mm", "mm"}, "thickness_in"},
      {{"way_km", "km"}, "way_mi"},
      {{"weight_kg", "kg"}, "weight_lb"},
      {{"tank_l", "L"}, "tank_gal"},
      {{"fuel_l_per_h_idle", "L/h"}, "fuel_gal_per_h_idle"},
      {{"fuel_l_per_kwh", "L/kWh"}, "fuel_gal_per_kwh"},
      {{"tank_kg", "kg"}, "tank_lb"},
      {{"fuel_kg_per_h_idle", "kg/h"}, "fuel_lb_per_h_idle"},
      {{"fuel_kg_per_kwh", "kg/kWh"}, "fuel_lb_per_kwh"},
      {{"output_w", "W of heat"}, "output_btu_h"},
      {{"heat_loss_w_per_k", "W/K"}, "heat_loss_btu_h_per_f"},
  };
  for (const auto& [metric, us] : twins) CHECK(twin_of(metric.first, metric.second) == us);
}

TEST_CASE("what is the same everywhere, or not named after its unit, has no twin") {
  CHECK(twin_of("rated_w", "W").empty());
  CHECK(twin_of("capacity_wh", "Wh").empty());
  CHECK(twin_of("canopy", "").empty());
  CHECK(twin_of("range_k_slope", "K").empty());
  CHECK(twin_of("latitude", "degrees, north +").empty());
  CHECK(twin_of("cm", "m").empty());
  CHECK(twin_of("column", "m").empty());
}

TEST_CASE(
    "a twin's value is converted, with the offset of a temperature and without that of a step") {
  CHECK(toml_root("elevation_ft = 5000").number("elevation_m", kElevation) == 1524.0);
  CHECK(toml_root("elevation_ft = -10.5").number("elevation_m", kElevation) == -3.2004);
  CHECK(toml_root("hold_f = 57.2").number("hold_c", kHeld) == 14.0);
  CHECK(toml_root("hold_f = -4").number("hold_c", kHeld) == -20.0);
  CHECK(toml_root("range_f = 18").number("range_c", {0.0, 40.0, "K"}) == 10.0);
  CHECK(toml_root("heat_btu_h = 36000").number("heat_w", {0.0, 5e4, "W of heat"}) == 10550.5585262);
  CHECK(toml_root("loss_btu_h_per_f = 200").number("loss_w_per_k", {0.0, 500.0, "W/K"}) ==
        105.505585262);
  CHECK(toml_root("tank_gal = 1").number_or("tank_l", 5.0, {0.1, 200.0, "L"}) == 3.785411784);
  CHECK(toml_root("way_mi = 3").required_number("way_km", {0.0, 9.0, "km"}) == 4.828032);
  CHECK(toml_root("x_lb = 100").number("x_kg", {0.0, 99.0, "kg"}) == 45.359237);
  CHECK(toml_root("x_in = 1").number("x_cm", {0.0, 99.0, "cm"}) == 2.54);
  CHECK(toml_root("x_in = 1").number("x_mm", {0.0, 99.0, "mm"}) == 25.4);
  CHECK(toml_root("x_gal_per_h = 2").number("x_l_per_h", {0.0, 9.0, "L/h"}) == 7.570823568);
}

TEST_CASE("lists and the first column of rows have a twin as well") {
  CHECK(toml_root("t_f = [32, 50, 212]").numbers("t_c", 3, {-50.0, 100.0, "C"}) ==
        std::vector<double>{0.0, 10.0, 100.0});
  TomlSection root = toml_root("duty_at_f = [[68, 0.22], [86, \"35 %\"]]");
  CHECK(root.number_rows("duty_at", {{-40.0, 70.0, "C"}, {0.0, 1.0}}) ==
        std::vector<std::vector<double>>{{20.0, 0.22}, {30.0, 0.35}});
  CHECK_NOTHROW(root.finish());
  const auto rows = [](const char* text) {
    return message_of([&] {
      toml_root(text).number_rows("duty_at", {{-40.0, 70.0, "C"}, {0.0, 1.0}});
    });
  };
  CHECK_THAT(rows("duty_at_f = [[168, 0.2]]"),
             Contains("duty_at_f is 168; allowed: -40 to 158 (F)"));
  CHECK_THAT(rows("duty_at_f = [[68, 22]]"),
             Contains("duty_at_f is 22; allowed: 0 to 1\n") && Contains("0.22 or \"22 %\""));
  CHECK_THAT(rows("duty_at_f = [[68]]"),
             Contains("duty_at_f has a row of 1 entries; allowed: a list of lists of 2 numbers, "
                      "-40 to 158 (F); 0 to 1\n"));
  CHECK_THAT(message_of([] {
               toml_root("t_f = [32]").numbers("t_c", 3, {-50.0, 100.0, "C"});
             }),
             Contains("t_f has 1 entries; allowed: a list of 3 numbers, each -58 to 212 (F)"));
}

TEST_CASE("only one of a key and its twin may be given") {
  const std::string both = "elevation_m = 100\nelevation_ft = 300\n";
  CHECK(message_of([&] { toml_root(both).number("elevation_m", kElevation); }) ==
        "plan.toml:2:16: elevation_ft is given besides elevation_m; allowed: one of the two\n"
        "     2 | elevation_ft = 300\n"
        "       |                ^\n"
        "  They say the same in two units: leave one out.\n");
}

TEST_CASE("a twin's bounds and mistakes are told in its own unit") {
  const auto message = [](const char* text) {
    return message_of([&] { toml_root(text).number("elevation_m", kElevation, "Of the camp."); });
  };
  CHECK(message("elevation_ft = 20000") ==
        "plan.toml:1:16: elevation_ft is 20000; allowed: -1476 to 19685 (ft)\n"
        "     1 | elevation_ft = 20000\n"
        "       |                ^\n"
        "  Of the camp.\n");
  CHECK_THAT(message("elevation_ft = \"high\""),
             Contains("elevation_ft is the text \"high\", not a number; allowed: -1476 to 19685"));
  CHECK_THAT(message("elevation_ft = nan"), Contains("elevation_ft is nan; allowed: -1476"));
  CHECK_THAT(message("elevation_ft = true"), Contains("elevation_ft is true, not a number"));
  // The bounds as they are told may be typed.
  CHECK_NOTHROW(toml_root("elevation_ft = 19685").number("elevation_m", kElevation));
  CHECK_NOTHROW(toml_root("elevation_ft = -1476").number("elevation_m", kElevation));
  CHECK_THAT(message_of([] { toml_root("").required_number("elevation_m", kElevation); }),
             Contains("elevation_m is missing; allowed: -450 to 6000 (m), or elevation_ft\n"));
}

TEST_CASE("bounds in US units are round numbers that lie inside the metric ones") {
  const auto shown = [](std::string_view key, const Range& range) {
    return unit_twin(key, range.unit)->shown(range);
  };
  for (const auto& [key, range] :
       std::vector<std::pair<std::string_view, Range>>{{"tank_l", {0.1, 200.0, "L"}},
                                                       {"heat_w", {100.0, 50000.0, "W of heat"}},
                                                       {"loss_w_per_k", {1.0, 2000.0, "W/K"}},
                                                       {"hold_c", {-20.0, 35.0, "C"}},
                                                       {"hold_c", {-40.0, 10.0, "C"}},
                                                       {"temp_mean_c", {-70.0, 50.0, "C"}},
                                                       {"elevation_m", kElevation},
                                                       {"x_kg", {0.0, 100000.0, "kg"}}}) {
    CAPTURE(key);
    const UsUnit unit = unit_twin(key, range.unit)->unit;
    const Range us = shown(key, range);
    CHECK(unit.to_metric(us.low) >= range.low);
    CHECK(unit.to_metric(us.high) <= range.high);
    // And no farther than the third digit, or the next whole number.
    const auto near = [&](double shown_bound, double bound) {
      const double exact = unit.from_metric(bound);
      return std::abs(shown_bound - exact) <= std::max(0.01 * std::abs(exact), 1e-9);
    };
    CHECK(near(us.low, range.low));
    CHECK(near(us.high, range.high));
  }
  CHECK(shown("tank_l", {0.1, 200.0, "L"}).low == 0.0265);
  CHECK(shown("tank_l", {0.1, 200.0, "L"}).high == 52.8);
  CHECK(shown("x_kg", {0.0, std::numeric_limits<double>::infinity(), "kg"}).high ==
        std::numeric_limits<double>::infinity());
}

TEST_CASE("a setting in one unit stands in place of the text's value in the other") {
  const auto height = [](const std::string& text, const std::vector<std::string>& settings) {
    TomlSection root = root_with(text, settings);
    const auto value = root.number("elevation_m", kElevation);
    CHECK_NOTHROW(root.finish());
    return value;
  };
  CHECK(height("elevation_m = 100\n", {"elevation_ft=5000"}) == 1524.0);
  CHECK(height("elevation_ft = 5000\n", {"elevation_m=100"}) == 100.0);
  CHECK(height("elevation_ft = 5000\n", {"elevation_ft=1000"}) == 304.8);
  CHECK(height("", {"elevation_ft=1000"}) == 304.8);
  CHECK_THAT(message_of([&] {
               height("", {"elevation_ft=1000", "elevation_m=10"});
             }),
             Contains("--set elevation_ft=1000: elevation_ft is given besides elevation_m"));
  CHECK_THAT(message_of([&] { height("elevation_m = 1\n", {"elevation_ft=99999"}); }),
             Contains("--set elevation_ft=99999: elevation_ft is 99999; allowed: -1476"));
}

TEST_CASE("a key's name as it is typed can be asked for") {
  CHECK(toml_root("elevation_ft = 1").typed_key("elevation_m", "m") == "elevation_ft");
  CHECK(toml_root("elevation_m = 1").typed_key("elevation_m", "m") == "elevation_m");
  CHECK(toml_root("").typed_key("elevation_m", "m") == "elevation_m");
  TomlSection root = toml_root("elevation_ft = 1");
  root.typed_key("elevation_m", "m");
  CHECK_NOTHROW(root.finish());
}

TEST_CASE("a twin that is mistyped is met with the right one") {
  TomlSection root = toml_root("elevation_feet = 1\n");
  root.number("elevation_m", kElevation);
  CHECK_THAT(message_of([&] { root.finish(); }), Contains("Did you mean `elevation_ft`?"));
}

TEST_CASE("a share may be a percent") {
  const auto share = [](const char* value) {
    return toml_root(std::string("canopy = ") + value).number("canopy", kCover);
  };
  CHECK(share("\"41 %\"") == 0.41);
  CHECK(share("\"41%\"") == 0.41);
  CHECK(share("\"0 %\"") == 0.0);
  CHECK(share("\"95 %\"") == 0.95);
  CHECK(share("\"12.5 %\"") == 0.125);
  CHECK(toml_root("k = [\"10 %\", 0.2]").numbers("k", 2, kCover) == std::vector<double>{0.1, 0.2});
  CHECK(root_with("", {"canopy=41 %"}).number("canopy", kCover) == 0.41);
  CHECK(root_with("", {"canopy=41%"}).number("canopy", kCover) == 0.41);
  // As the number would be typed, to the bit.
  for (int percent = 0; percent <= 95; ++percent) {
    const std::string typed = "\"" + std::to_string(percent) + " %\"";
    const std::string number = (percent < 10 ? "0.0" : "0.") + std::to_string(percent);
    CHECK(share(typed.c_str()) == share(number.c_str()));
  }
}

TEST_CASE("a percent out of bounds, or where no share is meant, is refused") {
  const auto read = [](const char* value, const Range& range) {
    return message_of([&] { toml_root(std::string("x = ") + value).number("x", range, ""); });
  };
  CHECK_THAT(read("\"120 %\"", kCover), Contains("x is \"120 %\"; allowed: 0 to 95 %\n"));
  CHECK_THAT(read("\"-1%\"", kCover), Contains("x is \"-1%\"; allowed: 0 to 95 %\n"));
  CHECK_THAT(read("\"nan %\"", kCover), Contains("x is \"nan %\"; allowed: 0 to 95 %\n"));
  CHECK_THAT(read("\"most\"", kCover),
             Contains("x is the text \"most\", not a number; allowed: 0 to 0.95\n") &&
                 Contains("Write a share as 0.41 or \"41 %\"."));
  CHECK_THAT(read("41", kCover), Contains("Did you mean 0.41 or \"41 %\"?"));
  CHECK_THAT(read("99", kCover), !Contains("Did you mean"));
  for (const Range& range :
       {Range{50.0, 500.0, "Wh"}, Range{0.0, 2.0}, Range{0.0, 0.5, "clearness index"}}) {
    CHECK_THAT(read("\"80 %\"", range),
               Contains("x is the text \"80 %\", not a number") &&
                   Contains("A percent is for shares: write a number here, without unit."));
  }
}

TEST_CASE("hours of use may be said in hours and minutes") {
  constexpr Range kHours{0.0, 12.0, kHoursUnit};
  const auto hours = [&](const char* value) {
    return toml_root(std::string("x = ") + value).number("x", kHours);
  };
  CHECK(hours("\"2:30\"") == 2.5);
  CHECK(hours("\"2 h 30 min\"") == 2.5);
  CHECK(hours("\"45 min\"") == 0.75);
  CHECK(hours("2.5") == 2.5);
  CHECK_THAT(message_of([&] { hours("\"13 h\""); }),
             Contains("x is \"13 h\"; allowed: 0 to 12 (h)\n"));
  CHECK_THAT(message_of([&] { hours("\"long\""); }),
             Contains("x is the text \"long\", not a number; allowed: 0 to 12 (h)\n") &&
                 Contains("\"2 h 30 min\""));
}

}  // namespace
}  // namespace dullspell
