#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/run_program.hpp"

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

namespace {

const std::string kDavis = project_file("datasets/records/us_ca_davis.csv");

// An invented stay on a place fitted to a record of many years.
std::string december_plan(const TemporaryFolder& folder) {
  const ProgramRun fit =
      run_program({"fit", kDavis, "--latitude", "38.536", "--longitude", "-121.776", "--utc-offset",
                   "-8", "--name", "Davis", "--out", folder.path("davis.toml")});
  INFO(fit.err);
  REQUIRE(fit.exit_code == 0);
  return folder.write("stay.toml",
                      "arrive = 2027-12-10T14:00:00\n"
                      "[[camp]]\nplace = \"davis.toml\"\nnights = 9\n"
                      "[battery]\ncapacity_wh = 2400\n"
                      "[[panels]]\nrated_w = 400\nmount = { tilt_deg = 40, azimuth_deg = 180 }\n"
                      "[[load]]\nname = \"all\"\nwatts = 30\n");
}

}  // namespace

TEST_CASE("a place fitted to measured years is hindcast by the same years as predicted") {
  const TemporaryFolder folder;
  const std::string plan = december_plan(folder);
  const ProgramRun run = run_program({"hindcast", plan, "--record", kDavis, "--json", "-"});
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  const Json json = Json::parse(run.out);
  CHECK(json["past_years"]["years"].size() == 25);
  CHECK(json["past_years"]["periods"] == 25 * 15);
  // The fit has seen these years, so the two must agree within the years' own interval.
  CHECK(json["model"]["flat"]["p"] > json["past_years"]["flat"]["low"]);
  CHECK(json["model"]["flat"]["p"] < json["past_years"]["flat"]["high"]);
  CHECK(json["model"]["flat"]["climate_high"] > json["model"]["flat"]["high"]);
}

TEST_CASE("a run with a record adds what past years would have done") {
  const TemporaryFolder folder;
  const std::string plan = december_plan(folder);
  const ProgramRun with = run_program({"run", plan, "--record", kDavis, "--window", "3"});
  REQUIRE(with.exit_code == 0);
  CHECK_THAT(with.out, Contains("In past years (us_ca_davis, 1994–2018) the same stay would"));
  CHECK_THAT(with.out, Contains("of 175"));
  CHECK_THAT(run_program({"run", plan}).out, !Contains("In past years"));
}

TEST_CASE("past years know each camp's height, and no camp may be far from the record") {
  const TemporaryFolder folder;
  const std::string plan =
      folder.write("stay.toml",
                   "arrive = 2027-12-10T14:00:00\n"
                   "[[camp]]\nplace = \"south-lake-tahoe-ca\"\nelevation_m = 1900\nnights = 3\n"
                   "[[camp]]\nplace = \"south-lake-tahoe-ca\"\nelevation_m = 1900\nnights = 4\n"
                   "[battery]\ncapacity_wh = 1500\n"
                   "[[load]]\nname = \"all\"\nside = \"dc\"\nwatts = 15\n"
                   "[furnace]\nblower_w = 60\noutput_w = 4000\nheat_loss_w_per_k = 120\n"
                   "hold_c = [{ from = \"00:00\", to = \"24:00\", c = 18 }]\n");
  const std::string record = project_file("datasets/records/tmy3_725847_south_lake_tahoe.csv");
  const auto missing_wh = [&](const std::string& elevation_m) {
    const ProgramRun run =
        run_program({"hindcast", plan, "--record", record, "--stays", "100", "--json", "-", "--set",
                     "camp[2].elevation_m=" + elevation_m});
    INFO(run.err);
    REQUIRE(run.exit_code == 0);
    return Json::parse(run.out)["past_years"]["years"][0]["shortfall_wh"].get<double>();
  };
  // 12 K warmer for four days of a furnace with 120 W/K and 66 Wh of output for each of its blower.
  CHECK(missing_wh("1900") - missing_wh("0") > 0.5 * 12.0 * 4 * 24 * 120 / 66);

  const ProgramRun far = run_program(
      {"hindcast", plan, "--record", record, "--set", "camp[2].place=crescent-city-ca"});
  CHECK(far.exit_code == 2);
  CHECK_THAT(far.err, Contains("--record was measured") && Contains("from the plan's second camp"));
}

TEST_CASE("every weather file is fitted as it comes") {
  const TemporaryFolder folder;
  const auto fitted = [&](std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "fit");
    arguments.insert(arguments.end(), {"--out", folder.path("place.toml")});
    const ProgramRun run = run_program(arguments);
    INFO(run.err);
    REQUIRE(run.exit_code == 0);
    const ProgramRun use =
        run_program({"weather", folder.path("place.toml"), "--days", "3", "--from", "2027-05-01"});
    INFO(use.err);
    CHECK(use.exit_code == 0);
    return run.out;
  };
  // TMY3 and EPW say themselves where they are from, and that they are typical years.
  const std::string tahoe =
      fitted({project_file("datasets/records/tmy3_725847_south_lake_tahoe.csv")});
  CHECK_THAT(tahoe, Contains("38.90, -120.00, 1909 m, UTC-8; typical-year"));
  CHECK_THAT(tahoe, Contains("How far to trust it: a typical year"));
  const std::string angeles =
      fitted({project_file("datasets/records/tmy3_727885_port_angeles.epw")});
  CHECK_THAT(angeles, Contains("UTC-8; typical-year"));
  const std::string graz =
      fitted({project_file("datasets/records/europe_daily.csv"), "--site", "at_graz", "--latitude",
              "47.08", "--longitude", "15.45", "--utc-offset", "1"});
  CHECK_THAT(graz, Contains("Standard errors"));
  CHECK_THAT(graz, Contains("2006–2021"));
}

TEST_CASE("records that cannot serve end in one message, and nothing is written") {
  const TemporaryFolder folder;
  const std::string plan = december_plan(folder);
  const std::size_t before = folder.entries();
  const auto refused = [&](std::vector<std::string> arguments, const std::string& message) {
    const ProgramRun run = run_program(arguments);
    INFO(run.err);
    CHECK(run.exit_code == 2);
    CHECK(run.out.empty());
    CHECK_THAT(run.err, Contains(message));
  };
  const std::string out = folder.path("never.toml");
  refused({"hindcast", plan, "--record", folder.path("no.csv")}, "no.csv");
  refused({"hindcast", plan}, "--record");
  refused({"hindcast", plan, "--record", kDavis, "--window", "46"},
          "--window is `46`; allowed: a whole number from 0 to 45");
  refused({"hindcast", plan, "--record", kDavis, "--site", "nowhere"}, "--site is `nowhere`");
  refused({"hindcast", plan, "--record", project_file("datasets/records/europe_daily.csv")},
          "--site is missing");
  refused({"hindcast", plan, "--record", kDavis, "--json", folder.path("no/such/folder.json")},
          "--json");
  refused({"fit", kDavis, "--out", out}, "needs --latitude and --longitude");
  refused({"fit", kDavis, "--latitude", "38.5", "--longitude", "-121.8", "--out", out},
          "needs --utc-offset");
  std::string megajoules = "date,ghi_kwh_m2\n";
  for (int day = 1; day <= 28; ++day) {
    megajoules += "2020-06-" + std::string(day < 10 ? "0" : "") + std::to_string(day) + ",27.5\n";
  }
  const std::string wrong_unit = folder.write("mj.csv", megajoules);
  refused({"fit", wrong_unit, "--latitude", "38.5", "--longitude", "-121.8", "--utc-offset", "-8",
           "--out", out},
          "ghi_mj_m2");
  const std::string short_record = folder.write("short.csv", "date,ghi_kwh_m2\n2020-06-01,7.1\n");
  refused({"hindcast", plan, "--record", short_record}, "holds no whole period");
  CHECK(folder.entries() == before + 2);  // the two records that this test wrote
}

TEST_CASE("the instruction set changes nothing but its name in the result") {
  const TemporaryFolder folder;
  const std::string plan = project_file("datasets/plans/winter-desert.toml");
  const auto result = [&](std::vector<std::string> more) {
    std::vector<std::string> arguments{"run", plan, "--stays", "3000", "--json", "-"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    Json json = Json::parse(run_program(arguments).out);
    const std::string used = json["instruction_set"];
    json.erase("instruction_set");
    return std::pair{used, json};
  };
  const auto [best, expected] = result({});
  const auto [baseline, same] = result({"--cpu", "baseline"});
  CHECK(baseline == "baseline");
  CHECK(same == expected);
  const ProgramRun wrong = run_program({"run", plan, "--cpu", "v9"});
  CHECK(wrong.exit_code == 2);
  CHECK_THAT(wrong.err, Contains("--cpu is `v9`"));
}
