#include "reports/csv_writer.hpp"

#include <catch2/catch.hpp>

#include <sstream>
#include <stdexcept>

using namespace dullspell;

TEST_CASE("a text of CSV is quoted where RFC 4180 asks for it") {
  const auto written = [](const std::string& text) {
    std::ostringstream out;
    CsvWriter(out, "x").cells(text).end_row();
    return out.str();
  };
  CHECK(written("plain text") == "x\nplain text\n");
  CHECK(written("a, b") == "x\n\"a, b\"\n");
  CHECK(written("say \"no\"") == "x\n\"say \"\"no\"\"\"\n");
  CHECK(written("two\nlines") == "x\n\"two\nlines\"\n");
}

TEST_CASE("numbers of CSV read back as they were, or have the digits asked for") {
  std::ostringstream out;
  CsvWriter csv(out, "a,b,c,d,e");
  csv.cells(0.1, 3, true).fixed(2.0 / 3.0, 2).empty(1).end_row();
  CHECK(out.str() == "a,b,c,d,e\n0.1,3,true,0.67,\n");
}

TEST_CASE("a row of CSV has as many cells as the heading") {
  std::ostringstream out;
  CsvWriter csv(out, "a,b");
  CHECK_THROWS_AS(csv.cells(1).end_row(), std::logic_error);
  CHECK_THROWS_AS(csv.cells(2, 3).end_row(), std::logic_error);
}
