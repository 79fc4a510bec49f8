#include <catch2/catch.hpp>

#include "tests/support/run_program.hpp"

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

const std::string kGood = R"(arrive = 2027-06-10T15:00:00
[[camp]]
place = "bishop-ca"
nights = 2
[battery]
capacity_wh = 1000
[[load]]
name = "lamp"
watts = 10
)";

std::string with(std::string from, const std::string& to) {
  std::string plan = kGood;
  const auto at = plan.find(from);
  REQUIRE(at != std::string::npos);
  return plan.replace(at, from.size(), to);
}

// What every refusal has in common.
ProgramRun refused(std::vector<std::string> arguments, const std::string& input = "") {
  const TemporaryFolder folder;
  ProgramRun run = run_program(arguments, input);
  CHECK(run.exit_code == 2);
  CHECK(run.out.empty());
  CHECK_FALSE(run.err.empty());
  return run;
}

}  // namespace

TEST_CASE("the plan that the bad ones are made from is good") {
  CHECK(run_program({"run", "-", "--stays", "200"}, kGood).exit_code == 0);
}

TEST_CASE("a bad value is named with line, column, key, bounds and the line itself") {
  const ProgramRun run = refused({"run", "-"}, with("1000", "-5"));
  CHECK(run.err ==
        "<standard input>:6:15: battery.capacity_wh is -5; allowed: 50 to 200000 (Wh)\n"
        "     6 | capacity_wh = -5\n"
        "       |               ^\n"
        "  Write the energy on the label in Wh, e.g. capacity_wh = 1920.\n");
}

TEST_CASE("a mistyped key is met with the right one") {
  const ProgramRun run = refused({"run", "-"}, with("capacity_wh", "capacty_wh"));
  CHECK(run.err ==
        "<standard input>:6:1: battery.capacty_wh is not a known key\n"
        "     6 | capacty_wh = 1000\n"
        "       | ^\n"
        "  Did you mean `capacity_wh`?\n");
}

TEST_CASE("every kind of bad plan is refused with its place and reason") {
  struct Case {
    std::string plan;
    std::string says;
  };
  const std::vector<Case> cases{
      {with("1000", "nan"), "battery.capacity_wh is nan"},
      {with("1000", "inf"), "battery.capacity_wh is inf"},
      {with("1000", "\"big\""), "battery.capacity_wh is the text \"big\", not a number"},
      {with("nights = 2", "nights = -2"), "camp[1].nights is -2"},
      {with("nights = 2", "nights = 2.5"), "camp[1].nights is 2.5"},
      {with("2027-06-10", "2027-06-31"), ":1:"},
      {with("2027-06-10", "1900-06-10"), "arrive is in 1900-06-10"},
      {with("15:00:00", "15:30:00"), "arrive is 15:30"},
      {with("bishop-ca", "bihsop-ca"), "Did you mean \"bishop-ca\"?"},
      {with("bishop-ca", "nowhere.toml"), "there is no such place file"},
      {with("bishop-ca", "Springfield"), "is the name of"},
      {with("\"bishop-ca\"", "{ latitude = 95, longitude = 0 }"), "camp[1].place.latitude is 95"},
      {with("[battery]", "[batery]"), "Did you mean `battery`?"},
      {with("[[load]]", "[load]"), "load is a single table"},
      {with("watts = 10", "watts = 10\nwats = 3"), "Did you mean `watts`?"},
      {with("watts = 10", "watts = 10\nside = \"ac\""), "inverter is missing"},
      {with("watts = 10", "watts = 10\nbetween = [\"25:00\", \"26:00\"]"), "is the text \"25:00\""},
      {with("watts = 10", "watts = 10\nhours_per_day = 30"), "load[1].hours_per_day is 30"},
      {with("watts = 10", ""), "load[1].watts is missing"},
      {with("watts = 10", "watts = "), "is not valid TOML"},
      {"now = 2027-06-12T15:00:00\n" + kGood, "now is 2027-06-12T15"},
      {"yesterday = \"dull\"\n" + kGood, "yesterday is \"dull\""},
      {kGood + "[[forecast]]\ndate = 2027-06-13\nk = 0.5\n", "forecast[1].date is 2027-06-13"},
      {kGood + "[[forecast]]\nday = 1\n", "forecast[1].sky is missing"},
      {with("nights = 2", "nights = 2\nelevation_ft = 30000"),
       "camp[1].elevation_ft is 30000; allowed: -1476 to 19685 (ft)"},
      {with("nights = 2", "nights = 2\nelevation_ft = 300\nelevation_m = 90"),
       "camp[1].elevation_ft is given besides elevation_m; allowed: one of the two"},
      {with("nights = 2", "nights = 2\nelevation_ft = \"high\""),
       "camp[1].elevation_ft is the text \"high\", not a number; allowed: -1476 to 19685 (ft)"},
      {with("nights = 2", "nights = 2\nelevation_feet = 300"), "Did you mean `elevation_ft`?"},
      {with("nights = 2", "nights = 2\ncanopy = 41"), "Did you mean 0.41 or \"41 %\"?"},
      {with("nights = 2", "nights = 2\ncanopy = \"141 %\""),
       "camp[1].canopy is \"141 %\"; allowed: 0 to 95 %"},
      {with("1000", "\"80 %\""), "A percent is for shares"},
      {with("watts = 10", "watts = 10\nhours_per_day = \"2 h 70 min\""),
       "load[1].hours_per_day is the text \"2 h 70 min\", not a number; allowed: 0 to 24 (h)"},
      {with("watts = 10", "watts = 10\nbetween = [\"15 pm\", \"8 pm\"]"),
       "from 1 to 12 with AM or PM"},
      {with("2027-06-10T15:00:00", "\"2027-06-10 3:30 pm\""), "arrive is 15:30"},
      {with("2027-06-10T15:00:00", "\"tomorrow 3 pm\""), "or \"2027-05-21 3 pm\""},
      {with("capacity_wh = 1000", "capacity_wh = 1000\nchemistry = \"agm\""), "Lithium only"},
  };
  for (const auto& c : cases) {
    INFO(c.plan);
    const ProgramRun run = refused({"run", "-"}, c.plan);
    CHECK_THAT(run.err, Contains(c.says));
  }
}

TEST_CASE("files that are no plan are refused, whatever they are") {
  const TemporaryFolder folder;
  CHECK_THAT(refused({"run", folder.path("none.toml")}).err,
             Contains("there is no such plan file"));
  CHECK_THAT(refused({"run", folder.path("")}).err, Contains("is a directory"));
  CHECK_THAT(refused({"run", folder.write("empty.toml", "")}).err, Contains("is empty"));
  CHECK_THAT(refused({"run", folder.write("blank.toml", " \n\n")}).err, Contains("is empty"));
  CHECK_THAT(refused({"run", folder.write("zeros.toml", std::string(400, '\0'))}).err,
             Contains("binary data"));
  std::string junk;
  for (int i = 0; i < 4000; ++i) junk += static_cast<char>(1 + (i * 37) % 255);
  CHECK_THAT(refused({"run", folder.write("junk.toml", junk)}).err, Contains("is not valid TOML"));
  CHECK_THAT(refused({"run", "-"}).err, Contains("is empty"));

  const std::string huge = folder.path("huge.toml");
  std::filesystem::resize_file(folder.write("huge.toml", "a = 1\n"), 100 * 1024 * 1024);
  CHECK_THAT(refused({"run", huge}).err, Contains("is larger than a plan file can be"));
}

TEST_CASE("a refused plan writes no output file") {
  const TemporaryFolder folder;
  refused({"run", "-", "--json", folder.path("result.json")}, with("1000", "-5"));
  CHECK(folder.entries() == 0);
  refused({"run", "-", "--json", folder.path("no/such/result.json")}, kGood);
  CHECK(folder.entries() == 0);
  refused({"run", "-", "--json", folder.path("")}, kGood);
}

TEST_CASE("a setting that is none, or is wrong, is named as it was typed") {
  for (const auto* command : {"run", "budget"}) {
    CHECK(refused({command, "-", "--set", "battery.health=9"}, kGood).err ==
          "command line: --set battery.health=9: battery.health is 9; allowed: 0.2 to 1\n"
          "  1 is new, 0.8 an old battery.\n");
    CHECK_THAT(refused({command, "-", "--set", "batery.health=0.9"}, kGood).err,
               Contains("Did you mean `battery`?"));
    CHECK_THAT(refused({command, "-", "--set", "health"}, kGood).err, Contains("has no `=`"));
    CHECK_THAT(refused({command, "-", "--set"}, kGood).err, Contains("--set"));
  }
  CHECK(refused({"run", "-", "--set", "camp[1].elevation_ft=99999"}, kGood).err ==
        "command line: --set camp[1].elevation_ft=99999: camp[1].elevation_ft is 99999; allowed: "
        "-1476 to 19685 (ft)\n");
  CHECK_THAT(refused({"run", "-", "--set", "camp[1].canopy=141 %"}, kGood).err,
             Contains("camp[1].canopy is \"141 %\"; allowed: 0 to 95 %"));
  // The file's own mistakes keep their lines.
  CHECK_THAT(refused({"run", "-", "--set", "accept_risk=0.2"}, with("1000", "-5")).err,
             StartsWith("<standard input>:6:15: battery.capacity_wh is -5"));
}

TEST_CASE("bad words on the command line are refused with what is known") {
  CHECK_THAT(refused({"rum"}).err,
             Contains("there is no command `rum`") && Contains("Did you mean `run`?"));
  CHECK_THAT(refused({"run"}).err, Contains("PLAN"));
  CHECK_THAT(refused({"run", "-", "--stay", "5"}, kGood).err, Contains("Did you mean `--stays`?"));
  CHECK_THAT(refused({"run", "-", "--stays", "x"}, kGood).err,
             StartsWith("command line: --stays is `x`; allowed: a whole number from 100 to"));
  CHECK_THAT(refused({"run", "-", "--stays", "-5"}, kGood).err, Contains("--stays"));
  CHECK_THAT(refused({"run", "-", "--stays"}, kGood).err, Contains("--stays"));
  CHECK_THAT(refused({"run", "-", "--precision", "nan"}, kGood).err,
             Contains("--precision is `nan`"));
  CHECK_THAT(refused({"run", "-", "--precision", "0.01", "--stays", "200"}, kGood).err,
             Contains("one of the two"));
  CHECK_THAT(refused({"places", "--near", "nortth"}).err, Contains("--near is `nortth`"));
  CHECK_THAT(refused({"places", "qqq"}).err, Contains("is in no place's id or name"));
  CHECK_THAT(refused({"places", "--kind", "guessed"}).err,
             Contains("--kind is `guessed`; allowed: measured, typical-year, monthly-means"));
  CHECK_THAT(refused({"places", "kabul", "--kind", "measured"}).err,
             Contains("--kind leaves no place"));
  CHECK_THAT(refused({"weather", "dagget-ca"}).err, Contains("Did you mean `daggett-ca`?"));
  CHECK_THAT(refused({"weather", "daggett-ca", "--days", "9", "--from", "2027-02-30"}).err,
             Contains("--from is `2027-02-30`"));
}

TEST_CASE("no output falls on the plan, a record or another output") {
  const TemporaryFolder folder;
  const std::string plan = folder.write("mine.toml", kGood);
  const std::string other = folder.path("./mine.toml");
  for (const char* command : {"run", "size", "levers", "calendar", "where"}) {
    INFO(command);
    const ProgramRun run = refused({command, plan, "--stays", "200", "--json", other});
    CHECK_THAT(run.err, Contains("--json") && Contains("reads or writes already"));
  }
  const std::string same = folder.path("out");
  CHECK_THAT(refused({"size", plan, "--stays", "200", "--json", same, "--csv", same}).err,
             Contains("--csv") && Contains("reads or writes already"));
  CHECK(text_of(plan) == kGood);
  CHECK_FALSE(std::filesystem::exists(same));
}

TEST_CASE("a stay that is under way by the command line needs the charge of now") {
  const ProgramRun run =
      refused({"run", "-", "--set", "now=2027-06-11T09:00:00"},
              with("capacity_wh = 1000", "capacity_wh = 1000\nstart_charge = 1"));
  CHECK_THAT(run.err, Contains("start_charge") && Contains("--set battery.start_charge="));
}
