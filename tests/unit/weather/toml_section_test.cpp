#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "tests/support/input_text.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;
using Catch::Matchers::StartsWith;

constexpr Range kShare{0.0, 1.0};
constexpr Range kEnergy{50.0, 50000.0, "Wh"};
constexpr Range kNoTop{0.0, std::numeric_limits<double>::infinity(), "Wh"};

// The message of what happens on a one-line text.
template <class F>
std::string message_on(const std::string& text, F f) {
  return message_of([&] {
    TomlSection root = toml_root(text);
    f(root);
  });
}

TEST_CASE("Text that is not TOML is reported with line and column") {
  const std::string message = message_of([] { toml_root("name = \"a\"\ncapacity = = 5\n"); });
  // What stands between is the TOML library's own description.
  CHECK_THAT(message, StartsWith("plan.toml:2:12: is not valid TOML: "));
  CHECK_THAT(message, EndsWith("     2 | capacity = = 5\n"
                               "       |            ^\n"
                               "  A line reads `key = value`; text stands in \"quotes\", a table "
                               "begins with [name].\n"));
  CHECK_THAT(message_of([] { toml_root("a = 1\na = 2\n"); }), Contains("plan.toml:2:"));
}

TEST_CASE("A table in braces that runs over its line gets a cure of its own") {
  CHECK_THAT(
      message_of([] { toml_root("place = { latitude = 1,\n  longitude = 2 }\n"); }),
      EndsWith("  A table in braces stays on one line; a longer one is written as a table of "
               "its own, e.g. [camp.place] under its [[camp]].\n"));
}

TEST_CASE("A number is read with its bounds, whole or not") {
  TomlSection root = toml_root("whole = 50\nreal = 49999.5\ntop = 50000\n");
  CHECK(root.number("whole", kEnergy) == 50.0);
  CHECK(root.number("real", kEnergy) == 49999.5);
  CHECK(root.number("top", kEnergy) == 50000.0);
  CHECK_FALSE(root.number("absent", kEnergy).has_value());
  CHECK(root.number_or("absent", 7.0, kEnergy) == 7.0);
  CHECK(root.number_or("whole", 7.0, kEnergy) == 50.0);
  CHECK(root.required_number("whole", kEnergy) == 50.0);
}

TEST_CASE("A number of the wrong type is shown with what is allowed") {
  CHECK(message_on("capacity = \"5 kWh\"", [](auto& r) { r.number("capacity", kEnergy); }) ==
        "plan.toml:1:12: capacity is the text \"5 kWh\", not a number; allowed: 50 to 50000 (Wh)\n"
        "     1 | capacity = \"5 kWh\"\n"
        "       |            ^\n"
        "  Write the number without quotes or unit.\n");
  CHECK_THAT(message_on("a = true", [](auto& r) { r.number("a", kShare); }),
             Contains("a is true, not a number; allowed: 0 to 1\n"));
  CHECK_THAT(message_on("a = [1]", [](auto& r) { r.number("a", kShare); }),
             Contains("a is a list, not a number"));
  CHECK_THAT(message_on("a = {b = 1}", [](auto& r) { r.number("a", kShare); }),
             Contains("a is a table, not a number"));
  CHECK_THAT(message_on("a = 2027-05-21", [](auto& r) { r.number("a", kShare); }),
             Contains("a is a date, not a number"));
  CHECK_THAT(message_on("a = 12:00:00", [](auto& r) { r.number("a", kShare); }),
             Contains("a is a time of day, not a number"));
  CHECK_THAT(message_on("a = 2027-05-21T12:00:00", [](auto& r) { r.number("a", kShare); }),
             Contains("a is a date and time, not a number"));
}

TEST_CASE("A number outside its bounds is refused with the cure that the caller gives") {
  const auto read = [](auto& r) { r.number("capacity", kEnergy, "Energy, not charge."); };
  CHECK(message_on("capacity = -5", read) ==
        "plan.toml:1:12: capacity is -5; allowed: 50 to 50000 (Wh)\n"
        "     1 | capacity = -5\n"
        "       |            ^\n"
        "  Energy, not charge.\n");
  CHECK_THAT(message_on("capacity = 50000.5", read), Contains("capacity is 50000.5; allowed"));
  for (const char* value : {"nan", "+nan", "inf", "-inf"}) {
    INFO(value);
    CHECK_THAT(message_on(std::string("capacity = ") + value, read),
               Contains("allowed: 50 to 50000 (Wh)"));
  }
}

TEST_CASE("A number without an upper bound must still be finite") {
  const auto read = [](auto& r) { r.number("a", kNoTop); };
  CHECK_THAT(message_on("a = -1", read), Contains("a is -1; allowed: 0 or more (Wh)\n"));
  CHECK_THAT(message_on("a = nan", read), Contains("allowed: 0 or more (Wh)"));
  CHECK_THAT(message_on("a = inf", read), Contains("allowed: 0 or more (Wh)"));
  CHECK(toml_root("a = 1e300").number("a", kNoTop) == 1e300);
}

TEST_CASE("A missing key of the root is reported without a place, that of a table at the table") {
  CHECK(message_on("x = 1",
                   [](auto& r) { r.required_number("capacity", kEnergy, "See the label."); }) ==
        "plan.toml: capacity is missing; allowed: 50 to 50000 (Wh)\n"
        "  See the label.\n");
  CHECK(message_on("x = 1\n[battery]\ny = 2",
                   [](auto& r) { r.section("battery")->required_number("capacity", kEnergy); }) ==
        "plan.toml:2:1: battery.capacity is missing; allowed: 50 to 50000 (Wh)\n"
        "     2 | [battery]\n"
        "       | ^\n");
}

TEST_CASE("A needed key that stands there misspelt is reported as such") {
  CHECK(message_on("capcity = 500\n", [](auto& r) { r.required_number("capacity", kEnergy); }) ==
        "plan.toml:1:1: capcity is not a known key\n"
        "     1 | capcity = 500\n"
        "       | ^\n"
        "  Did you mean `capacity`?\n");
  // A key that was looked up before is no misspelling of another.
  CHECK(message_on("capacity_w = 500\n", [](auto& r) {
          r.number("capacity_w", kEnergy);
          r.required_number("capacity_wh", kEnergy);
        }) == "plan.toml: capacity_wh is missing; allowed: 50 to 50000 (Wh)\n");
}

TEST_CASE("A whole number is read, and a broken or too large one refused") {
  CHECK(toml_root("people = 4").integer("people", 1, 12) == 4);
  CHECK_FALSE(toml_root("").integer("people", 1, 12).has_value());
  const auto read = [](auto& r) { r.integer("people", 1, 12); };
  CHECK(message_on("people = 2.5", read) ==
        "plan.toml:1:10: people is 2.5; allowed: a whole number from 1 to 12\n"
        "     1 | people = 2.5\n"
        "       |          ^\n");
  for (const char* value : {"0", "13", "4294967297", "9223372036854775807", "\"4\"", "true"}) {
    INFO(value);
    CHECK_THAT(message_on(std::string("people = ") + value, read),
               Contains("a whole number from 1 to 12"));
  }
}

TEST_CASE("A flag is true or false and nothing else") {
  TomlSection root = toml_root("yes = true\nno = false");
  CHECK(root.flag("yes") == true);
  CHECK(root.flag("no") == false);
  CHECK_FALSE(root.flag("absent").has_value());
  CHECK(message_on("dry = 1", [](auto& r) { r.flag("dry"); }) ==
        "plan.toml:1:7: dry is 1; allowed: true or false\n"
        "     1 | dry = 1\n"
        "       |       ^\n");
}

TEST_CASE("A text is read, and a number in its place refused") {
  TomlSection root = toml_root("name = \"At the lake\"");
  CHECK(root.text("name") == "At the lake");
  CHECK(root.required_text("name") == "At the lake");
  CHECK_FALSE(root.text("absent").has_value());
  CHECK(message_on("name = 5", [](auto& r) { r.text("name"); }) ==
        "plan.toml:1:8: name is 5, not text; allowed: text in \"quotes\"\n"
        "     1 | name = 5\n"
        "       |        ^\n");
  CHECK(message_on("x = 5", [](auto& r) { r.required_text("name", "Any name will do."); }) ==
        "plan.toml: name is missing; allowed: text in \"quotes\"\n"
        "  Any name will do.\n");
}

TEST_CASE("A choice takes one of its words and guesses what a mistyped one means") {
  const std::vector<std::string> kinds{"lithium", "lead-acid"};
  CHECK(toml_root("kind = \"lead-acid\"").choice("kind", kinds) == "lead-acid");
  CHECK_FALSE(toml_root("").choice("kind", kinds).has_value());
  CHECK(message_on("kind = \"lithum\"", [&](auto& r) { r.choice("kind", kinds); }) ==
        "plan.toml:1:8: kind is \"lithum\"; allowed: \"lithium\", \"lead-acid\"\n"
        "     1 | kind = \"lithum\"\n"
        "       |        ^\n"
        "  Did you mean \"lithium\"?\n");
  CHECK_THAT(message_on("kind = \"gravity\"", [&](auto& r) { r.choice("kind", kinds); }),
             !Contains("Did you mean"));
  CHECK_THAT(message_on("kind = 3", [&](auto& r) { r.choice("kind", kinds); }),
             Contains("kind is 3, not text"));
}

TEST_CASE("A list of numbers must have its length, and each entry its bounds") {
  CHECK(toml_root("k = [0, 0.5, 1]").numbers("k", 3, kShare) == std::vector<double>{0.0, 0.5, 1.0});
  CHECK_FALSE(toml_root("").numbers("k", 3, kShare).has_value());
  const auto read = [](auto& r) { r.numbers("k", 3, kShare, "January comes first."); };
  CHECK(message_on("k = [0.1, 0.2]", read) ==
        "plan.toml:1:5: k has 2 entries; allowed: a list of 3 numbers, each 0 to 1\n"
        "     1 | k = [0.1, 0.2]\n"
        "       |     ^\n"
        "  January comes first.\n");
  CHECK(message_on("k = [0.1, 1.2, 0.3]", read) ==
        "plan.toml:1:11: k is 1.2; allowed: 0 to 1\n"
        "     1 | k = [0.1, 1.2, 0.3]\n"
        "       |           ^\n"
        "  January comes first.\n");
  CHECK_THAT(message_on("k = 0.1", read), Contains("k is 0.1; allowed: a list of 3 numbers"));
  CHECK_THAT(message_on("k = [0.1, \"b\", 0.3]", read),
             Contains("k is the text \"b\", not a number"));
  CHECK_THAT(message_on("k = [0.1, nan, 0.3]", read), Contains("k is nan; allowed: 0 to 1"));
}

TEST_CASE("Rows of numbers are read, and a short row is pointed at") {
  CHECK(toml_root("rows = [[0, 1], [0.5, 0.6]]").number_rows("rows", {kShare, kShare}) ==
        std::vector<std::vector<double>>{{0.0, 1.0}, {0.5, 0.6}});
  CHECK_FALSE(toml_root("").number_rows("rows", {kShare, kShare}).has_value());
  const auto read = [](auto& r) { r.number_rows("rows", {kShare, kShare}); };
  CHECK(message_on("rows = [[0, 1], [0.5]]", read) ==
        "plan.toml:1:17: rows has a row of 1 entries; allowed: a list of lists of 2 numbers, each "
        "0 to 1\n"
        "     1 | rows = [[0, 1], [0.5]]\n"
        "       |                 ^\n");
  CHECK_THAT(message_on("rows = [[0, 1], 5]", read), Contains("rows is 5; allowed: a list of"));
  CHECK_THAT(message_on("rows = 5", read), Contains("rows is 5; allowed: a list of lists"));
  CHECK_THAT(message_on("rows = [[0, 2]]", read), Contains("rows is 2; allowed: 0 to 1"));
}

TEST_CASE("A local time is a date and a minute of the day") {
  const auto time = toml_root("arrive = 2028-02-29T15:30:00").local_time("arrive");
  REQUIRE(time.has_value());
  CHECK(time->date == make_date(2028, 2, 29));
  CHECK(time->minute_of_day == 15 * 60 + 30);
  CHECK_FALSE(toml_root("").local_time("arrive").has_value());
  const auto read = [](auto& r) { r.local_time("arrive", "No zone."); };
  CHECK(message_on("arrive = 2027-05-21T15:00:00Z", read) ==
        "plan.toml:1:10: arrive is a time with a zone; allowed: a local date and time such as "
        "2027-05-21T15:00:00 or \"2027-05-21 3 pm\"\n"
        "     1 | arrive = 2027-05-21T15:00:00Z\n"
        "       |          ^\n"
        "  No zone.\n");
  CHECK_THAT(message_on("arrive = 2027-05-21", read),
             Contains("arrive is a date; allowed: a local"));
  CHECK_THAT(message_on("arrive = \"friday\"", read), Contains("arrive is the text \"friday\""));
  CHECK_THAT(message_on("arrive = 2027-05-21T15:00:30", read),
             Contains("arrive has seconds; allowed: whole minutes"));
  CHECK_THAT(message_on("arrive = 2027-02-29T15:00:00", read), Contains("plan.toml:1:"));
}

TEST_CASE("A date stands without a time") {
  CHECK(toml_root("date = 2028-02-29").date("date") == make_date(2028, 2, 29));
  CHECK_FALSE(toml_root("").date("date").has_value());
  const auto read = [](auto& r) { r.date("date"); };
  CHECK(message_on("date = \"2027-05-22\"", read) ==
        "plan.toml:1:8: date is the text \"2027-05-22\"; allowed: a date such as 2027-05-22\n"
        "     1 | date = \"2027-05-22\"\n"
        "       |        ^\n"
        "  Write it without quotes and without a time.\n");
  CHECK_THAT(message_on("date = 2027-05-22T09:00:00", read), Contains("date is a date and time"));
  CHECK_THAT(message_on("date = 3", read), Contains("date is 3"));
  CHECK_THAT(message_on("date = 2027-02-29", read), Contains("plan.toml:1:"));
}

TEST_CASE("A clock time is text or a TOML time, from 00:00 to 24:00") {
  TomlSection root = toml_root("a = \"00:00\"\nb = \"17:30\"\nc = \"24:00\"\nd = 07:15:00");
  CHECK(root.clock_time("a") == 0);
  CHECK(root.clock_time("b") == 17 * 60 + 30);
  CHECK(root.clock_time("c") == 1440);
  CHECK(root.clock_time("d") == 7 * 60 + 15);
  CHECK_FALSE(root.clock_time("absent").has_value());
  CHECK(message_on("at = \"7:3\"", [](auto& r) { r.clock_time("at"); }) ==
        "plan.toml:1:6: at is the text \"7:3\"; allowed: a time of day such as \"17:30\" or "
        "\"5:30 pm\", from \"00:00\" to \"24:00\"\n"
        "     1 | at = \"7:3\"\n"
        "       |      ^\n"
        "  Hours go from 0 to 24, or from 1 to 12 with AM or PM; minutes have two digits.\n");
  for (const char* value : {"\"24:01\"", "\"12:60\"", "\"25:00\"", "\"12.30\"", "\"-1:00\"",
                            "\"12:3x\"", "\"\"", "730", "true"}) {
    INFO(value);
    CHECK_THAT(message_on(std::string("at = ") + value, [](auto& r) { r.clock_time("at"); }),
               Contains("a time of day such as"));
  }
}

TEST_CASE("A clock time may be said as people say it") {
  const auto at = [](const char* text) {
    return toml_root(std::string("at = ") + text).clock_time("at");
  };
  CHECK(at("\"3 pm\"") == 900);
  CHECK(at("\"3:30 PM\"") == 930);
  CHECK(at("\"15\"") == 900);
  CHECK(at("\"7:30\"") == 450);
  CHECK_THAT(message_of([&] { at("\"15:30 PM\""); }), Contains("from 1 to 12 with AM or PM"));
  CHECK(toml_root("w = [\"6 pm\", \"12 am\"]").window("w")->to_min == 1440);
}

TEST_CASE("A local time may be text, a date with a time of day") {
  const auto at = [](const char* text) {
    return *toml_root(std::string("at = \"") + text + "\"").local_time("at");
  };
  for (const char* text : {"2028-02-29 3:30 pm", "2028-02-29 15:30", "2028-02-29T15:30"}) {
    CAPTURE(text);
    CHECK(at(text).date == make_date(2028, 2, 29));
    CHECK(at(text).minute_of_day == 930);
  }
  CHECK(at("2028-02-29 9").minute_of_day == 540);
  for (const char* text : {"2027-02-29 3 pm", "2028-02-29", "2028-02-29 ", "2028-02-29 25",
                           "2028-02-29 24:00", "2028-02-29x3 pm", "28-02-29 3 pm", "3 pm"}) {
    CAPTURE(text);
    CHECK_THAT(message_of([&] { at(text); }),
               Contains("allowed: a local date and time such as 2027-05-21T15:00:00 or "));
  }
}

TEST_CASE("Clock times have no seconds") {
  CHECK_THAT(message_on("at = 07:30:20", [](auto& r) { r.clock_time("at"); }),
             Contains("seconds; allowed: whole minutes"));
}

TEST_CASE("A list of clock times is read entry by entry") {
  CHECK(toml_root("at = [\"10:00\", \"14:00\"]").clock_times("at") == std::vector<int>{600, 840});
  CHECK(toml_root("at = []").clock_times("at") == std::vector<int>{});
  CHECK_FALSE(toml_root("").clock_times("at").has_value());
  CHECK_THAT(message_on("at = \"10:00\"", [](auto& r) { r.clock_times("at"); }),
             Contains("at is the text \"10:00\"; allowed: a list of times"));
  CHECK_THAT(message_on("at = [\"10:00\", 5]", [](auto& r) { r.clock_times("at"); }),
             Contains("plan.toml:1:16: at is 5; allowed: a time of day"));
}

std::pair<int, int> window_of(const std::string& text) {
  const auto window = toml_root("w = " + text).window("w");
  REQUIRE(window.has_value());
  return {window->from_min, window->to_min};
}

TEST_CASE("A window may run over midnight, end at midnight or hold the whole day") {
  CHECK(window_of("[\"17:00\", \"23:00\"]") == std::pair{1020, 1380});
  CHECK(window_of("[\"22:00\", \"06:30\"]") == std::pair{1320, 390});
  CHECK(window_of("[\"22:00\", \"24:00\"]") == std::pair{1320, 1440});
  CHECK(window_of("[\"22:00\", \"00:00\"]") == std::pair{1320, 1440});
  CHECK(window_of("[\"00:00\", \"24:00\"]") == std::pair{0, 1440});
  CHECK_FALSE(toml_root("").window("w").has_value());
}

TEST_CASE("A window of no length or with another number of ends is refused") {
  const auto read = [](auto& r) { r.window("w"); };
  CHECK(message_on("w = [\"08:00\", \"08:00\"]", read) ==
        "plan.toml:1:5: w is a window of no length; allowed: two times such as [\"17:00\", "
        "\"23:00\"]\n"
        "     1 | w = [\"08:00\", \"08:00\"]\n"
        "       |     ^\n"
        "  For the whole day write [\"00:00\", \"24:00\"].\n");
  CHECK_THAT(message_on("w = [\"24:00\", \"24:00\"]", read), Contains("of no length"));
  CHECK_THAT(message_on("w = [\"00:00\", \"00:00\"]", read), Contains("of no length"));
  CHECK_THAT(message_on("w = [\"08:00\"]", read), Contains("w has 1 entries; allowed: two times"));
  CHECK_THAT(message_on("w = \"08:00\"", read), Contains("allowed: two times"));
  CHECK_THAT(message_on("w = [\"08:00\", \"9.\"]", read), Contains("w is the text \"9.\""));
}

TEST_CASE("A window from 24:00 to 00:00 has no length") {
  CHECK_THAT(message_on("w = [\"24:00\", \"00:00\"]", [](auto& r) { r.window("w"); }),
             Contains("of no length"));
}

TEST_CASE("Several windows are a list of windows") {
  const auto windows =
      toml_root("w = [[\"08:00\", \"10:00\"], [\"22:00\", \"06:00\"]]").windows("w");
  REQUIRE(windows.size() == 2);
  CHECK(windows[1].from_min == 1320);
  CHECK(windows[1].to_min == 360);
  CHECK(toml_root("").windows("w").empty());
  CHECK_THAT(message_on("w = [\"08:00\", \"10:00\"]", [](auto& r) { r.windows("w"); }),
             Contains("w is the text \"08:00\"; allowed: two times"));
  CHECK_THAT(message_on("w = 8", [](auto& r) { r.windows("w"); }),
             Contains("w is 8; allowed: a list of windows"));
}

TEST_CASE("A table is read under its dotted name") {
  TomlSection root = toml_root("[battery]\n[battery.cold]\nlimit = 2\n");
  auto battery = root.section("battery");
  REQUIRE(battery.has_value());
  auto cold = battery->section("cold");
  REQUIRE(cold.has_value());
  CHECK(cold->path() == "battery.cold");
  CHECK_FALSE(root.section("absent").has_value());
  CHECK(message_of([&] { cold->number("limit", kShare); }) ==
        "plan.toml:3:9: battery.cold.limit is 2; allowed: 0 to 1\n"
        "     3 | limit = 2\n"
        "       |         ^\n");
  CHECK_THAT(message_on("[[battery]]\na = 1", [](auto& r) { r.section("battery"); }),
             Contains("battery is a list; allowed: a table, written [battery]\n") &&
                 Contains("There can be only one: write [battery], not [[battery]]."));
  CHECK_THAT(message_on("battery = 5", [](auto& r) { r.section("battery"); }),
             Contains("battery is 5; allowed: a table, written [battery]\n"));
}

TEST_CASE("Tables of a list are numbered from one") {
  TomlSection root = toml_root("[[load]]\nname = \"a\"\n[[load]]\nname = 3\n");
  auto loads = root.sections("load");
  REQUIRE(loads.size() == 2);
  CHECK(loads[0].text("name") == "a");
  CHECK_THAT(message_of([&] { loads[1].text("name"); }),
             Contains("plan.toml:4:8: load[2].name is 3, not text"));
  CHECK(root.sections("absent").empty());
  CHECK_THAT(message_on("[load]\na = 1", [](auto& r) { r.sections("load"); }),
             Contains("load is a single table; allowed: tables, each written [[load]]\n") &&
                 Contains("Write [[load]] with two brackets: there may be several."));
  CHECK_THAT(message_on("load = [5]", [](auto& r) { r.sections("load"); }),
             Contains("load holds 5; allowed: tables"));
  CHECK_THAT(message_on("load = 5", [](auto& r) { r.sections("load"); }),
             Contains("load is 5; allowed: tables"));
}

TEST_CASE("The kind of a value can be asked without reading it") {
  const TomlSection root = toml_root("t = \"a\"\nl = [1]\nn = 1\n[s]\n");
  CHECK(root.has("n"));
  CHECK_FALSE(root.has("x"));
  CHECK(root.is_text("t"));
  CHECK(root.is_array("l"));
  CHECK(root.is_table("s"));
  CHECK_FALSE(root.holds_lists("l"));
  CHECK_FALSE(root.holds_lists("x"));
  CHECK(toml_root("l = [[1], [2]]").holds_lists("l"));
  CHECK_FALSE(toml_root("l = []").holds_lists("l"));
  for (const char* key : {"n", "x"}) {
    CHECK_FALSE(root.is_text(key));
    CHECK_FALSE(root.is_array(key));
    CHECK_FALSE(root.is_table(key));
  }
}

TEST_CASE("A key that nobody asked for is reported with the nearest known one") {
  TomlSection root = toml_root("[battery]\ncapacity_wh = 100\ncapcity_kind = 1\n");
  TomlSection battery = *root.section("battery");
  battery.number("capacity_wh", kEnergy);
  battery.number("capacity_kind", kShare);
  CHECK(message_of([&] { battery.finish(); }) ==
        "plan.toml:3:1: battery.capcity_kind is not a known key\n"
        "     3 | capcity_kind = 1\n"
        "       | ^\n"
        "  Did you mean `capacity_kind`?\n");
  CHECK_NOTHROW(root.finish());
}

TEST_CASE("An unknown key that resembles nothing is answered with the known ones") {
  TomlSection root = toml_root("volume = 1\n");
  root.text("name");
  root.flag("dry");
  CHECK(message_of([&] { root.finish(); }) ==
        "plan.toml:1:1: volume is not a known key\n"
        "     1 | volume = 1\n"
        "       | ^\n"
        "  Known here: dry, name.\n");
}

TEST_CASE("A section whose keys were all looked up finishes quietly") {
  TomlSection root = toml_root("a = 1\nb = 2\n");
  root.number("a", {0.0, 9.0});
  CHECK(message_of([&] { root.finish(); }) != "");
  root.number("b", {0.0, 9.0});
  CHECK_NOTHROW(root.finish());
}

TEST_CASE("A caller's own problem points at the value, else at the table") {
  TomlSection root = toml_root("top = 1\n[s]\na = 5\n");
  const TomlSection s = *root.section("s");
  CHECK(message_of([&] { s.fail("a", "is odd", "even numbers", "Add one."); }) ==
        "plan.toml:3:5: s.a is odd; allowed: even numbers\n"
        "     3 | a = 5\n"
        "       |     ^\n"
        "  Add one.\n");
  CHECK(message_of([&] { s.fail_here("has no b"); }) ==
        "plan.toml:2:1: s has no b\n"
        "     2 | [s]\n"
        "       | ^\n");
  CHECK(message_of([&] { root.fail_here("has no s"); }) == "plan.toml: has no s\n");
}

TEST_CASE("A long text in a message is cut between letters") {
  std::string letters;
  for (int i = 0; i < 60; ++i) letters += "é";
  const std::string message =
      message_on("a = \"x" + letters + "\"", [](auto& r) { r.number("a", kShare); });
  // Each é takes two bytes; the cut must not leave half of one.
  CHECK_THAT(message, Contains("é\"…, not a number"));
}

}  // namespace
}  // namespace dullspell
