#include <algorithm>
#include <array>
#include <regex>
#include <sstream>
#include <string>

#include <catch2/catch.hpp>

#include "reports/number_text.hpp"
#include "tests/support/run_program.hpp"

namespace dullspell::terminal_test {

namespace {

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;
using Catch::Matchers::StartsWith;

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");
const std::vector<std::string> kRun{"run", kDemo, "--stays", "500", "--cpu", "baseline"};

const std::string kNight = R"plan(title = "One night (invented)"
arrive = 2027-05-21T15:00:00
leave = "11:00"
[[camp]]
place = "daggett-ca"
nights = 1
[battery]
capacity_wh = 500
[[load]]
name = "fan"
side = "dc"
watts = 20
hours_per_day = 24
)plan";

const std::string kClear = "\r\033[K";

std::string without_escapes(std::string text) {
  for (std::size_t at; (at = text.find("\033[")) != std::string::npos;) {
    text.erase(at, text.find('m', at) - at + 1);
  }
  return text;
}

std::size_t widest_line(const std::string& text) {
  std::istringstream in(text);
  std::size_t widest = 0;
  for (std::string line; std::getline(in, line);) {
    widest = std::max(widest, dullspell::display_width(line));
  }
  return widest;
}

std::vector<std::string> operator+(std::vector<std::string> words,
                                   const std::vector<std::string>& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

TEST_CASE("A terminal gets colour, as wide as a pipe the same text beneath it") {
  const TerminalRun run = run_on_terminal(kRun, 92);
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.report(), StartsWith("\033[1mTwo forest camps (invented)\033[0m\n"));
  CHECK_THAT(run.report(), Contains("\033[1;31mBring the generator.\033[0m"));
  CHECK(without_escapes(run.report()) == run_program(kRun).out);
}

TEST_CASE("NO_COLOR, a dumb terminal and an unknown one get none; an empty NO_COLOR says nothing") {
  const std::string plain = run_program(kRun).out;
  CHECK(run_on_terminal(kRun, 92, {"NO_COLOR=1"}).report() == plain);
  CHECK(run_on_terminal(kRun, 92, {"NO_COLOR=0"}).report() == plain);
  CHECK(run_on_terminal(kRun, 92, {"TERM=dumb"}).report() == plain);
  CHECK(run_on_terminal(kRun, 92, {"TERM"}).report() == plain);
  CHECK_THAT(run_on_terminal(kRun, 92, {"NO_COLOR="}).report(), Contains("\033[1m"));
}

TEST_CASE("A pipe gets the same bytes whatever the environment says") {
  const ProgramRun usual = run_program(kRun);
  CHECK(usual.err.empty());
  CHECK(usual.out.find('\033') == std::string::npos);
  CHECK(widest_line(usual.out) <= 92);
  for (const auto& changes :
       std::vector<std::vector<std::string>>{{"COLUMNS=40", "TERM=xterm-256color"},
                                             {"COLUMNS=200", "TERM=dumb"},
                                             {"TERM", "NO_COLOR=1"},
                                             // Whether the machine has them or not.
                                             {"LC_ALL=de_DE.UTF-8", "LANG=de_DE.UTF-8"},
                                             {"LC_ALL=tr_TR.UTF-8", "LANG=tr_TR.UTF-8"},
                                             {"LC_ALL=C"},
                                             {"LC_ALL=none.such"}}) {
    INFO(changes.front());
    const ProgramRun run = run_words(program_words(kRun), "", "", changes);
    CHECK(run.out == usual.out);
    CHECK(run.err.empty());
  }
}

// Line ends and indents as single blanks.
std::string on_one_line(const std::string& text) {
  std::istringstream words(text);
  std::string out;
  for (std::string word; words >> word;) out += (out.empty() ? "" : " ") + word;
  return out;
}

TEST_CASE("A report fits its terminal, with the risk and its interval in it") {
  const std::string record = project_file("datasets/records/us_ca_davis.csv");
  const std::vector<std::vector<std::string>> commands{
      kRun,
      {"budget", kDemo},
      {"size", kDemo, "--stays", "500"},
      {"compare", kDemo, kDemo, "--stays", "500"},
      {"levers", kDemo, "--stays", "500"},
      {"shade", kDemo},
      {"calendar", kDemo, "--stays", "200"},
      {"where", kDemo, "--stays", "200", "--near", "41.8,-124.1", "--within", "200"},
      {"hindcast", kDemo, "--stays", "500", "--record", record},
      {"places", "tahoe"},
      {"places", "--near", "41.8,-124.1"},
      {"weather", "daggett-ca"}};
  for (const auto& command : commands) {
    INFO(command.front());
    const std::string wide = on_one_line(run_program(command).out);
    std::smatch risk;
    const bool has_risk =
        std::regex_search(wide, risk, std::regex("[0-9.]+ of 100 stays \\([0-9.]+–[0-9.]+ %\\)"));
    if (command.front() == "run") CHECK(has_risk);
    for (const unsigned short columns : std::array<unsigned short, 5>{20, 32, 40, 80, 120}) {
      INFO(columns);
      const std::string screen = run_on_terminal(command, columns, {"NO_COLOR=1"}).report();
      CHECK(widest_line(screen) <= std::clamp<std::size_t>(columns, 32, 110));
      if (has_risk) CHECK_THAT(on_one_line(screen), Contains(risk.str()));
    }
  }
}

TEST_CASE("COLUMNS wins where it is a width, which is held to 32 to 110") {
  const auto width = [](unsigned short columns, const std::string& variable) {
    return widest_line(
        run_on_terminal({"run", kDemo, "--stays", "100"}, columns, {"NO_COLOR=1", variable})
            .report());
  };
  const std::size_t at_40 = width(40, "COLUMNS");
  CHECK(at_40 <= 40);
  CHECK(width(92, "COLUMNS=40") == at_40);
  CHECK(width(40, "COLUMNS=0") == at_40);
  CHECK(width(40, "COLUMNS=-50") == at_40);
  CHECK(width(40, "COLUMNS=wide") == at_40);
  CHECK(width(40, "COLUMNS=") == at_40);
  CHECK(width(5, "COLUMNS") == width(32, "COLUMNS"));
  CHECK(width(5, "COLUMNS") <= 32);
  CHECK(width(0, "COLUMNS") == width(80, "COLUMNS"));  // a terminal that does not know its size
  CHECK(width(500, "COLUMNS") == width(110, "COLUMNS"));
}

TEST_CASE("Long work shows how far it is, and is gone before the report") {
  const TemporaryFolder folder;
  const std::string night = folder.write("night.toml", kNight);
  // Much longer than the moment for which nothing is shown.
  const std::vector<std::string> slow{"run",       night, "--stays", "4000000",
                                      "--threads", "1",   "--cpu",   "baseline"};
  const TerminalRun run = run_on_terminal(slow, 100, {"NO_COLOR=1"});
  CHECK(run.exit_code == 0);
  REQUIRE_THAT(run.screen, StartsWith(kClear));
  CHECK_THAT(run.screen, Contains(" of 4,000,000 stays: flat in "));
  const std::string report = run.report();
  CHECK_THAT(report, StartsWith("One night (invented)\n"));
  CHECK_THAT(report, EndsWith("4,000,000 stays, seed 1. Intervals are 95 %.\n"));
  const std::string progress = run.screen.substr(0, run.screen.size() - report.size());
  CHECK(progress.find('\n') == std::string::npos);
}

TEST_CASE("A line of progress is cut to its terminal") {
  const TemporaryFolder folder;
  const std::string night = folder.write("night.toml", kNight);
  const std::vector<std::string> slow{"run",   night,      "--stays",   "4000000",
                                      "--cpu", "baseline", "--threads", "1"};
  const std::string screen = run_on_terminal(slow, 32, {"NO_COLOR=1"}).screen;
  const std::string lines =
      dullspell::replaced(screen.substr(0, screen.rfind(kClear)), kClear, "\n");
  CHECK(widest_line(lines) == 31);
}

TEST_CASE("A pipe or a dumb terminal gets the report of long work and nothing else") {
  const TemporaryFolder folder;
  const std::string night = folder.write("night.toml", kNight);
  const std::vector<std::string> slow{"run", night, "--stays", "2000000", "--cpu", "baseline"};
  const ProgramRun piped = run_words(program_words(slow), "", "", {"TERM=xterm-256color"});
  CHECK(piped.err.empty());
  CHECK_THAT(piped.out, StartsWith("One night (invented)\n"));
  CHECK(without_escapes(piped.out) == piped.out);
  CHECK_THAT(run_on_terminal(slow, 100, {"TERM=dumb"}).screen,
             StartsWith("One night (invented)\n"));
}

TEST_CASE("Units are those asked for in texts, and metric in what programs read") {
  const std::vector<std::string> us{"--units", "us"};
  const std::string metric = run_program(kRun).out;
  CHECK(run_program(kRun + std::vector<std::string>{"--units", "metric"}).out == metric);
  CHECK_THAT(metric, Contains("liters of fuel") && !Contains(" gal"));
  CHECK_THAT(run_program(kRun + us).out, Contains("gallons of fuel") && !Contains("litres"));
  const std::vector<std::string> csv{"calendar", kDemo, "--stays", "200", "--csv", "-"};
  CHECK(run_program(csv + us).out == run_program(csv).out);
}

TEST_CASE("Other units are refused with the nearest word, before any work") {
  const TemporaryFolder folder;
  const std::string json = folder.path("result.json");
  for (const auto& [typed, near] : {std::pair{"metrc", "metric"}, {"US", "us"}}) {
    const ProgramRun run =
        run_program({"run", kDemo, "--stays", "4000000", "--json", json, "--units", typed});
    CHECK(run.exit_code == 2);
    CHECK(run.out.empty());
    CHECK(run.err == "command line: --units is `" + std::string(typed) +
                         "`; allowed: us or metric\n  Did you mean `" + near + "`?\n");
  }
  CHECK(folder.entries() == 0);
}

TEST_CASE("A plan's letters reach neither report nor message as anything but letters") {
  const TemporaryFolder folder;
  std::string plan = kNight;
  plan.replace(plan.find("One night (invented)"), 20, R"(\u001B[2J\u009B31m 森の中 \u202Eevil)");
  plan.replace(plan.find("\"fan\""), 5, R"("\u001B]0;owned\u0007")");
  const std::string path = folder.write("plan.toml", plan);
  const ProgramRun run = run_program({"run", path, "--stays", "200"});
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, StartsWith("\uFFFD[2J\uFFFD31m 森の中 \uFFFDevil\n"));
  CHECK_THAT(run.out, Contains("\uFFFD]0;owned\uFFFD"));
  CHECK_THAT(run.out, !Contains("\033") && !Contains("\a") && !Contains("\u009B"));
  const ProgramRun wrong = run_program({"run", path, "--set", "camp[1].place=\033[31mred"});
  CHECK(wrong.exit_code == 2);
  CHECK_THAT(wrong.err, Contains("\uFFFD[31mred") && !Contains("\033"));
  for (const char* word : {"\033[31mrun", "--\033[31mrun"}) {
    const ProgramRun unknown = run_program({word});
    CHECK(unknown.exit_code == 2);
    CHECK_THAT(unknown.err, Contains("\uFFFD[31mrun") && !Contains("\033"));
  }
}

}  // namespace

}  // namespace dullspell::terminal_test
