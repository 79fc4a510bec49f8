#include <string>

#include "tests/support/input_text.hpp"
#include "weather/input/csv_table.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::Contains;

SourceText csv(const std::string& text) {
  return {"days.csv", text};
}

TEST_CASE("Columns are found by name, in any order, and others are ignored") {
  const SourceText source = csv("b,note,a\n2,hello,1\n-2.5e1,,0.125\n");
  CsvTable table(source, CsvDelimiter::comma, {"a", "b"}, {"c"});
  CHECK(table.has_column(0));
  CHECK(table.has_column(1));
  CHECK_FALSE(table.has_column(2));
  REQUIRE(table.next());
  CHECK(table.number(0) == 1.0);
  CHECK(table.number(1) == 2.0);
  CHECK(table.text(2).empty());
  CHECK_FALSE(table.number(2).has_value());
  REQUIRE(table.next());
  CHECK(table.required_number(0) == 0.125);
  CHECK(table.required_number(1) == -25.0);
  CHECK_FALSE(table.next());
  CHECK_FALSE(table.next());
}

TEST_CASE("Tabs separate cells where they are asked for, and commas are then text") {
  const SourceText source = csv("name\tn\nLake, upper\t3\n");
  CsvTable table(source, CsvDelimiter::tab, {"name", "n"});
  REQUIRE(table.next());
  CHECK(table.text(0) == "Lake, upper");
  CHECK(table.number(1) == 3.0);
}

TEST_CASE("Blanks around cells, comments and line ends of either kind do not matter") {
  const SourceText source = csv("# made by hand\r\na , b\r\n# between\r\n 1 ,  2\r\n#last\n3,4");
  CsvTable table(source, CsvDelimiter::comma, {"a", "b"});
  REQUIRE(table.next());
  CHECK(table.number(0) == 1.0);
  CHECK(table.number(1) == 2.0);
  CHECK(table.line() == 4);
  REQUIRE(table.next());
  CHECK(table.number(1) == 4.0);
  CHECK(table.line() == 6);
  CHECK_FALSE(table.next());
}

TEST_CASE("An empty cell is a missing value, not zero") {
  const SourceText source = csv("a,b\n,2\n");
  CsvTable table(source, CsvDelimiter::comma, {"a", "b"});
  REQUIRE(table.next());
  CHECK_FALSE(table.number(0).has_value());
  CHECK(message_of([&] { table.required_number(0); }) ==
        "days.csv:2: a is missing; allowed: a finite number\n"
        "     2 | ,2\n");
}

TEST_CASE("A cell that is no finite number is reported with its line as people count it") {
  const SourceText source = csv("# source: a station\na,b\n1,2\n# broken from here\n1,2 kWh\n");
  CsvTable table(source, CsvDelimiter::comma, {"a", "b"});
  table.next();
  table.next();
  CHECK(message_of([&] { table.number(1); }) ==
        "days.csv:5: b is `2 kWh`; allowed: a finite number, or nothing where it is missing\n"
        "     5 | 1,2 kWh\n");
}

TEST_CASE("Cells that only look like numbers are refused") {
  for (const char* cell : {"nan", "inf", "-inf", "1e999", "0x10", "1.2.3", "--1", "1,5e", "one"}) {
    INFO(cell);
    const SourceText tabbed = {"days.csv", "a\n" + std::string(cell) + "\n"};
    CsvTable table(tabbed, CsvDelimiter::tab, {"a"});
    REQUIRE(table.next());
    CHECK_THAT(message_of([&] { table.number(0); }),
               Contains("days.csv:2: a is `" + std::string(cell) + "`; allowed: a finite number"));
  }
}

TEST_CASE("A missing column is reported with all that are needed") {
  const SourceText source = csv("# note\na,c\n1,2\n");
  CHECK(message_of([&] {
          CsvTable(source, CsvDelimiter::comma, {"a", "b"});
        }) ==
        "days.csv:2: has no column `b`\n"
        "     2 | a,c\n"
        "  Needed columns: a, b.\n");
}

TEST_CASE("A row with too few or too many cells is reported") {
  const SourceText source = csv("a,b,c\n1,2\n");
  CsvTable short_row(source, CsvDelimiter::comma, {"a", "b"});
  CHECK(message_of([&] { short_row.next(); }) ==
        "days.csv:2: has fewer cells than the header\n"
        "     2 | 1,2\n"
        "  A line may be cut short.\n");
  const SourceText longer = csv("a,b\n1,2\n1,2,3\n");
  CsvTable long_row(longer, CsvDelimiter::comma, {"a", "b"});
  REQUIRE(long_row.next());
  CHECK(message_of([&] { long_row.next(); }) ==
        "days.csv:3: has more cells than the header\n"
        "     3 | 1,2,3\n");
}

TEST_CASE("A column that is named twice is reported, even if nobody asked for it") {
  const SourceText source = csv("a,b,a\n1,2,3\n");
  CHECK_THAT(message_of([&] { CsvTable(source, CsvDelimiter::comma, {"a"}); }),
             Contains("days.csv:1: names a column twice"));
}

TEST_CASE("A table without a header or without rows") {
  const SourceText empty = csv("# only a comment\n");
  CHECK_THAT(message_of([&] { CsvTable(empty, CsvDelimiter::comma, {"a"}); }),
             Contains("days.csv: has no header row"));
  const SourceText header_only = csv("a\n");
  CsvTable table(header_only, CsvDelimiter::comma, {"a"});
  CHECK_FALSE(table.next());
}

TEST_CASE("A file may hold more columns than a table can be asked for") {
  std::string header = "a", row = "1";
  for (int i = 0; i < 40; ++i) {
    header += ",x" + std::to_string(i);
    row += ",0";
  }
  const SourceText source = csv(header + ",b\n" + row + ",2\n");
  CsvTable table(source, CsvDelimiter::comma, {"a", "b"});
  REQUIRE(table.next());
  CHECK(table.number(1) == 2.0);
}

TEST_CASE("A caller's own problem names line and column name") {
  const SourceText source = csv("month\n13\n");
  CsvTable table(source, CsvDelimiter::comma, {"month"});
  table.next();
  CHECK(message_of([&] { table.fail(0, "is 13", "1 to 12", "Count months from 1."); }) ==
        "days.csv:2: month is 13; allowed: 1 to 12\n"
        "     2 | 13\n"
        "  Count months from 1.\n");
}

TEST_CASE("A byte order mark before the header is not part of the first column's name") {
  const SourceText source =
      csv("\xef\xbb\xbf"
          "a,b\n1,2\n");
  CsvTable table(source, CsvDelimiter::comma, {"a", "b"});
  REQUIRE(table.next());
  CHECK(table.number(0) == 1.0);
}

TEST_CASE("Blank lines are no rows") {
  const SourceText source = csv("\n \na,b\n\r\n1,2\n\t\n3,4\n\n");
  CsvTable table(source, CsvDelimiter::comma, {"a", "b"});
  REQUIRE(table.next());
  CHECK(table.line() == 5);
  REQUIRE(table.next());
  CHECK(table.number(0) == 3.0);
  CHECK_FALSE(table.next());
}

TEST_CASE("A table may stand below other lines, and have its columns named by the caller") {
  const SourceText below = csv("\"Lake, upper\",7\na,b\n1,2\nx,3\n");
  CsvTable table(below, CsvDelimiter::comma, {"b", "a"}, {}, {1, ""});
  REQUIRE(table.next());
  CHECK(table.number(0) == 2.0);
  CHECK(table.line() == 3);
  REQUIRE(table.next());
  CHECK_THAT(message_of([&] { table.number(1); }), Contains("days.csv:4: a is `x`"));

  const SourceText bare = csv("head\nmore,of it\n1,2\n3,4,5\n");
  CsvTable named(bare, CsvDelimiter::comma, {"b", "a"}, {"c"}, {2, "a,b"});
  CHECK_FALSE(named.has_column(2));
  REQUIRE(named.next());
  CHECK(named.number(0) == 2.0);
  CHECK(named.line() == 3);
  CHECK_THAT(message_of([&] { named.next(); }), Contains("days.csv:4: has more cells"));
}

TEST_CASE("A table below the end of the file has no header or no rows") {
  const SourceText source = csv("one\ntwo");
  CHECK_THAT(message_of([&] {
               CsvTable(source, CsvDelimiter::comma, {"a"}, {}, {5, ""});
             }),
             Contains("days.csv: has no header row"));
  CsvTable named(source, CsvDelimiter::comma, {"a"}, {}, {2, "a,b"});
  CHECK_FALSE(named.next());
}

TEST_CASE("A cell of any length makes a short message, a line beyond 16 MiB is refused") {
  const SourceText cell = csv("a\n" + std::string(100'000, '7') + "\n");
  CsvTable table(cell, CsvDelimiter::comma, {"a"});
  REQUIRE(table.next());
  CHECK(message_of([&] { table.number(0); }).size() < 400);
  const SourceText line = csv("a\n1" + std::string(17 * 1024 * 1024, ' ') + "\n");
  CsvTable longer(line, CsvDelimiter::comma, {"a"});
  CHECK_THAT(message_of([&] { longer.next(); }),
             Contains("days.csv:2: is longer than a row of a table can be"));
}

}  // namespace
}  // namespace dullspell
