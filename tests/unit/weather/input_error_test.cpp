#include <string>

#include <catch2/catch.hpp>

#include "weather/input/input_error.hpp"

namespace dullspell {
namespace {

InputProblem battery_problem() {
  InputProblem p;
  p.file = "forest.toml";
  p.line = 14;
  p.column = 13;
  p.key = "battery.usable_wh";
  p.problem = "is -5";
  p.allowed = "50 to 50000 (Wh)";
  p.fix = "Write the energy that the box delivers, e.g. usable_wh = 1680.";
  p.source_line = "usable_wh = -5";
  return p;
}

TEST_CASE("A message names place, key, problem, bounds and cure, and points at the value") {
  CHECK(describe(battery_problem()) ==
        "forest.toml:14:13: battery.usable_wh is -5; allowed: 50 to 50000 (Wh)\n"
        "    14 | usable_wh = -5\n"
        "       |             ^\n"
        "  Write the energy that the box delivers, e.g. usable_wh = 1680.\n");
}

TEST_CASE("A message leaves out what is not known") {
  InputProblem p;
  p.file = "forest.toml";
  p.problem = "there is no such plan file";
  CHECK(describe(p) == "forest.toml: there is no such plan file\n");
  p.line = 3;
  CHECK(describe(p) == "forest.toml:3: there is no such plan file\n");
  p.source_line = "name = 1";
  CHECK(describe(p) == "forest.toml:3: there is no such plan file\n     3 | name = 1\n");
}

TEST_CASE("A column without a line is not shown") {
  InputProblem p = battery_problem();
  p.line = 0;
  CHECK(describe(p) ==
        "forest.toml: battery.usable_wh is -5; allowed: 50 to 50000 (Wh)\n"
        "  Write the energy that the box delivers, e.g. usable_wh = 1680.\n");
}

TEST_CASE("A long line is cut to 72 columns around the caret") {
  InputProblem p = battery_problem();
  p.fix.clear();
  p.source_line = std::string(99, 'a') + "X" + std::string(99, 'b');
  p.column = 100;
  CHECK(describe(p) ==
        "forest.toml:14:100: battery.usable_wh is -5; allowed: 50 to 50000 (Wh)\n"
        "    14 | " +
            std::string(61, 'a') + "X" + std::string(10, 'b') + "\n" + "       | " +
            std::string(61, ' ') + "^\n");
}

TEST_CASE("A long line with letters beyond ASCII is cut between letters, caret in place") {
  // Columns count letters, as the TOML reader does; every é takes two bytes.
  const auto letters = [](int count) {
    std::string text;
    for (int i = 0; i < count; ++i) text += "é";
    return text;
  };
  InputProblem p = battery_problem();
  p.fix.clear();
  p.source_line = letters(99) + "X" + letters(99);
  p.column = 100;
  CHECK(describe(p) ==
        "forest.toml:14:100: battery.usable_wh is -5; allowed: 50 to 50000 (Wh)\n"
        "    14 | " +
            letters(61) + "X" + letters(10) + "\n" + "       | " + std::string(61, ' ') + "^\n");
}

TEST_CASE("Tabs and control bytes of a line cannot move the caret or garble a terminal") {
  InputProblem p = battery_problem();
  p.source_line = "\tusable\x1b[2J = -5";
  p.problem = "is \x1b[31mred";
  CHECK(describe(p) ==
        "forest.toml:14:13: battery.usable_wh is \uFFFD[31mred; allowed: 50 to 50000 (Wh)\n"
        "    14 |  usable\uFFFD[2J = -5\n"
        "       |             ^\n"
        "  Write the energy that the box delivers, e.g. usable_wh = 1680.\n");
}

TEST_CASE("The caret stands below its letter where letters before it are wide or take no column") {
  InputProblem p = battery_problem();
  p.fix.clear();
  p.source_line = "\"電池\" = -5";  // columns count letters: the value is the eighth
  p.column = 8;
  CHECK(describe(p) ==
        "forest.toml:14:8: battery.usable_wh is -5; allowed: 50 to 50000 (Wh)\n"
        "    14 | \"電池\" = -5\n"
        "       |          ^\n");
  p.source_line = "\"e\u0301\" = -5";
  CHECK(describe(p) ==
        "forest.toml:14:8: battery.usable_wh is -5; allowed: 50 to 50000 (Wh)\n"
        "    14 | \"e\u0301\" = -5\n"
        "       |       ^\n");
}

TEST_CASE("No part of a message lets a control byte through") {
  InputProblem p = battery_problem();
  p.file = "\x1b[1mforest.toml";
  p.key = "\x1b[2mbattery";
  p.allowed = "\x1b[3m50";
  p.fix = "Did you mean `\x1b[4m`?";
  CHECK(describe(p).find('\x1b') == std::string::npos);
}

TEST_CASE("An input error carries its problem and says the same text") {
  const InputError error(battery_problem());
  CHECK(error.what() == describe(battery_problem()));
  CHECK(error.problem().key == "battery.usable_wh");
  CHECK(error.problem().line == 14);
}

}  // namespace
}  // namespace dullspell
