#include "reports/text_writer.hpp"

#include <sstream>

#include <catch2/catch.hpp>

#include "tests/support/text_width.hpp"

namespace dullspell::text_writer_test {

using Catch::Matchers::Contains;
using dullspell::test::widest_line;

namespace {

using Align = Column::Align;

const Table kDays{
    "days",
    "Days",
    {{"date", Align::left},
     {"flat that day", Align::right, 1},
     {"flat by then"},
     {"sampling", Align::left},
     {"climate", Align::left, 2}},
    {{{"Fri 21 May", "2.0 %", "2.0 %", "1.8–2.2 %", "1–6 %"}, ShareBar{0.02, 0.06}},
     {{"Sat 22 May", "30 %", "32 %", "31–33 %", "16–48 %"}, ShareBar{0.32, 0.48}, Tone::fails}}};

template <class Write>
std::string written(TextStyle style, Write write) {
  std::ostringstream out;
  TextWriter writer(out, style);
  write(writer);
  return out.str();
}

std::string table_text(const Table& table, TextStyle style) {
  return written(style, [&](TextWriter& writer) { writer.table(table); });
}

}  // namespace

TEST_CASE("a table with room has its heads in a line and bars at its end") {
  CHECK(table_text(kDays, {80, false}) ==
        "\nDays\n"
        "  date        flat that day  flat by then  sampling   climate\n"
        "  Fri 21 May          2.0 %         2.0 %  1.8–2.2 %  1–6 %    ▍\n"
        "  Sat 22 May           30 %          32 %  31–33 %    16–48 %  █████▌░░\n");
}

TEST_CASE("a table without room breaks its heads, then drops columns by rank and names them") {
  const std::string broken = table_text(kDays, {56, false});
  CHECK_THAT(broken, Contains("    flat  flat by\n") && !Contains("wider window"));
  const std::string narrow = table_text(kDays, {40, false});
  CHECK_THAT(narrow, Contains("A wider window also shows: flat that\n  day, climate.") &&
                         Contains("  Sat 22 May     32 %  31–33 %\n"));
  // What has no rank stays, however narrow the window.
  CHECK_THAT(table_text(kDays, {TextStyle::kLeastWidth, false}),
             Contains("32 %") && Contains("31–33 %"));
}

TEST_CASE("columns make way for bars where a table says so") {
  Table table = kDays;
  table.columns[4].rank = 5;
  table.bars_rank = 4;
  const std::string text = table_text(table, {54, false});
  CHECK_THAT(text, !Contains("climate\n") && Contains("31–33 %    ███"));
  table.bars_rank = 5;
  CHECK_THAT(table_text(table, {54, false}), Contains("climate\n") && !Contains("█"));
}

TEST_CASE("nothing is wider than its window") {
  const Table names{"names",
                    "A title that is longer than a narrow window is wide, so it is broken",
                    {{"change", Align::left}, {"flat"}, {"points, 95 %", Align::left, 1}},
                    {{{"helps:"}},
                     {{"satellite internet: 3 h a day in place of 6 h", "24 %", "−17 to −16"}},
                     {{"a row", "100 %"}}},
                    "A legend that says what the columns are, at some length."};
  for (std::size_t width = TextStyle::kLeastWidth; width <= 110; ++width) {
    INFO(width);
    CHECK(widest_line(table_text(kDays, {width, false})) <= width);
    const std::string text = table_text(names, {width, false});
    CHECK(widest_line(text) <= width);
    CHECK_THAT(text, Contains("24 %") && Contains("100 %") && Contains("  helps:\n"));
  }
}

TEST_CASE("long names are broken before a bar goes, and stand above where no room is left") {
  const Table changes{"changes",
                      "",
                      {{"change", Align::left}, {"flat"}, {"sampling", Align::left}},
                      {{{"the satellite internet for three hours a day", "24.5 %", "24.1–25.0 %"},
                        ShareBar{0.25, 0.25}}}};
  CHECK(table_text(changes, {65, false}) ==
        "  change                              flat  sampling\n"
        "  the satellite internet for        24.5 %  24.1–25.0 %  ██\n"
        "    three hours a day\n");
  CHECK(table_text(changes, {60, false}) ==
        "  change                                   flat  sampling\n"
        "  the satellite internet for three       24.5 %  24.1–25.0 %\n"
        "    hours a day\n");
  CHECK(table_text(changes, {32, false}) ==
        "               flat  sampling\n"
        "  the satellite internet for\n"
        "  three hours a day\n"
        "             24.5 %  24.1–25.0 %\n");
}

TEST_CASE("names of any letters neither break a table nor drive the terminal") {
  const std::string evil = "\x1b[2J\x1b]0;owned\x07 \u009B31m\u202E";
  const Table table{"loads",
                    "What " + evil,
                    {{"load " + evil, Align::left}, {"a day"}, {"note", Align::left, 1}},
                    {{{"冷蔵庫🔋冷蔵庫🔋冷蔵庫🔋冷蔵庫🔋冷蔵庫", "265 Wh", "e\u0301te\u0301"}},
                     {{"e\u0301e\u0301e\u0301 lamp", "82 Wh", evil}},
                     {{std::string(150, 'x'), "9 Wh", "a\tb\nc\xFF"}},
                     {{"group " + evil}}},
                    "Legend " + evil};
  const auto report = [&](TextWriter& writer) {
    writer.title(evil);
    writer.verdict("Bring " + evil + ". Then " + std::string(120, 'y'), Tone::fails);
    writer.paragraph(evil, 2);
    writer.table(table);
    writer.list(evil, {evil});
    writer.footer(evil);
  };
  for (std::size_t width = TextStyle::kLeastWidth; width <= 110; ++width) {
    INFO(width);
    const std::string text = written({width, false}, report);
    CHECK(widest_line(text) <= width);
    CHECK_THAT(text, !Contains("\x1b") && !Contains("\x07") && !Contains("\u009B") &&
                         !Contains("\u202E") && !Contains("\t") && !Contains("\xFF"));
    CHECK_THAT(text, Contains("265 Wh") && Contains("\uFFFD[2J"));
  }
  // Figures stand below each other whatever the letters before them.
  const std::string text =
      table_text({"",
                  "",
                  {{"load", Align::left}, {"a day"}},
                  {{{"冷蔵庫", "265 Wh"}}, {{"e\u0301te\u0301", "82 Wh"}}, {{"lights", "9 Wh"}}}},
                 {40, false});
  CHECK(text ==
        "  load     a day\n"
        "  冷蔵庫  265 Wh\n"
        "  e\u0301te\u0301      82 Wh\n"
        "  lights    9 Wh\n");
}

TEST_CASE("where there is no room beside its name a row stands below it") {
  const Table sure{"sure",
                   "",
                   {{"place", Align::left}, {"flat"}, {"sampling", Align::left}},
                   {{{"Albuquerque, NM", "99.98 %", "99.95–100.00 %"}}}};
  CHECK(table_text(sure, {32, false}) ==
        "            flat  sampling\n"
        "  Albuquerque, NM\n"
        "         99.98 %  99.95–100.00 %\n");
  CHECK(table_text(sure, {41, false}) ==
        "  place              flat  sampling\n"
        "  Albuquerque,    99.98 %  99.95–100.00 %\n"
        "    NM\n");
}

TEST_CASE("columns go before a row's name would be broken within a word") {
  const Table ids{"ids",
                  "",
                  {{"id", Align::left}, {"record", Align::left, 1}, {"where", Align::right, 2}},
                  {{{"marysville-beale-afb-ca", "typical", "39.13,-121.43"}}}};
  const std::string text = table_text(ids, {40, false});
  CHECK(widest_line(text) <= 40);
  CHECK_THAT(text, Contains("  marysville-beale-afb-ca  typical\n") &&
                       Contains("A wider window also shows: where."));
}

TEST_CASE("colour adds escape sequences and nothing else") {
  const auto report = [](TextWriter& writer) {
    writer.title("A stay");
    writer.verdict(
        "Bring the generator. Without it the battery runs flat in 40 of 100 stays, and "
        "it stays flat for about 8 hours.",
        Tone::fails);
    writer.table(kDays);
    writer.list("Cautions", {"Carbon monoxide kills."});
    writer.footer("The end.");
  };
  const std::string plain = written({72, false}, report), coloured = written({72, true}, report);
  CHECK(plain.find('\033') == std::string::npos);
  CHECK_THAT(coloured, Contains("\033[1;31mBring the generator.\033[0m Without it"));
  CHECK_THAT(coloured, Contains("  \033[31m██▉░\033[0m\n"));
  std::string stripped = coloured;
  for (std::size_t at; (at = stripped.find("\033[")) != std::string::npos;) {
    stripped.erase(at, stripped.find('m', at) - at + 1);
  }
  CHECK(stripped == plain);
}

TEST_CASE("a verdict's first sentence is bold over all its lines") {
  CHECK(written({32, true},
                [](TextWriter& writer) {
                  writer.verdict("This kit is probably too small for the stay. It runs flat.",
                                 Tone::plain);
                }) ==
        "\n\033[1mThis kit is probably too small\033[0m\n\033[1mfor the stay.\033[0m It runs "
        "flat.\n");
}

TEST_CASE("a bar is as long as its share, shaded on to where it may reach") {
  CHECK(bar_text({0.0, 0.0}, 8).empty());
  CHECK(bar_text({1.0, 1.0}, 8) == "████████");
  CHECK(bar_text({0.5, 1.0}, 8) == "████░░░░");
  CHECK(bar_text({0.3125, 0.5}, 8) == "██▌░");
  CHECK(bar_text({0.0, 0.25}, 8) == "░░");
}

}  // namespace dullspell::text_writer_test
