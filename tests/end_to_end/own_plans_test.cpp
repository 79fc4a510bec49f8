#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/run_program.hpp"

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

// Plans as different people would write them, each invented.

namespace {

Json result_of(const std::string& plan) {
  const ProgramRun run = run_program({"run", "-", "--stays", "4000", "--json", "-"}, plan);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  return Json::parse(run.out);
}

double flat(const Json& result) {
  return result["stay"]["flat"]["p"];
}

}  // namespace

TEST_CASE("a box without panels lasts as long as its energy") {
  // 960 Wh x 0.98 for 20 W round the clock: 47 h.
  const std::string plan = R"(
arrive = 2027-07-02T12:00:00
leave = "12:00"
[[camp]]
place = "bishop-ca"
nights = 1
[battery]
capacity_wh = 960
self_discharge_per_month = 0
[[load]]
name = "fridge box"
watts = 20
)";
  CHECK(flat(result_of(plan)) == 0.0);
  std::string longer = plan;
  longer.replace(longer.find("nights = 1"), 10, "nights = 2");
  const Json result = result_of(longer);
  CHECK(flat(result) == 1.0);
  CHECK(result["days"][1]["flat_by_day"]["p"] == 0.0);
  CHECK(result["days"][2]["flat_by_day"]["p"] == 1.0);
}

TEST_CASE("panels without a generator are judged on the battery alone") {
  const Json result = result_of(R"(
arrive = 2027-06-10T15:00:00
[[camp]]
place = "tucson-az"
nights = 5
[battery]
capacity_wh = 1000
[[panels]]
rated_w = 200
[[load]]
name = "everything"
watts = 20
)");
  CHECK(result["generator"].is_null());
  CHECK(flat(result) < 0.02);  // 480 Wh a day against about 1.2 kWh from the panels
}

TEST_CASE("two camps in two states use each its own weather and one clock") {
  const Json result = result_of(R"(
arrive = 2027-12-01T15:00:00
[[camp]]
place = "phoenix-az"
nights = 3
[[camp]]
place = "port-angeles-wa"
nights = 3
[battery]
capacity_wh = 1500
[[panels]]
rated_w = 300
[[load]]
name = "everything"
watts = 30
)");
  CHECK(result["places"][0]["utc_offset_h"] == -7.0);
  CHECK(result["places"][1]["utc_offset_h"] == -8.0);
  CHECK(result["plan"]["clock_offset_h"] == -7.0);
  // The desert carries its days; the dull coast in December does not.
  CHECK(result["days"][2]["flat_on_day"]["p"] < 0.05);
  CHECK(result["days"][6]["flat_by_day"]["p"] > 0.5);
}

TEST_CASE("typed monthly means in the southern hemisphere follow southern seasons") {
  const auto plan = [](const char* month) {
    return std::string("arrive = 2027-") + month + R"(-10T15:00:00
[[camp]]
nights = 7
[camp.place]
name = "invented bay"
latitude = -41.3
longitude = 174.8
utc_offset_h = 12
ghi_kwh_m2 = [6.4, 5.6, 4.3, 2.9, 1.9, 1.5, 1.7, 2.5, 3.6, 4.9, 5.9, 6.4]
temp_mean_c = [17, 17, 16, 14, 11, 9, 9, 9, 11, 12, 14, 16]
[battery]
capacity_wh = 1200
[[panels]]
rated_w = 200
mount = { tilt_deg = 30, azimuth_deg = 0 }
[[load]]
name = "everything"
watts = 25
)";
  };
  const Json summer = result_of(plan("01")), winter = result_of(plan("07"));
  CHECK(flat(summer) < 0.02);
  CHECK(flat(winter) > flat(summer) + 0.2);
  CHECK(summer["energy_wh_per_day"]["panels"] > winter["energy_wh_per_day"]["panels"]);
}

TEST_CASE("polar night gives no sun, and polar day gives it round the clock") {
  const auto plan = [](const char* month) {
    return std::string("arrive = 2027-") + month + R"(-15T12:00:00
[[camp]]
nights = 3
[camp.place]
latitude = 78.2
longitude = 15.6
utc_offset_h = 1
ghi_kwh_m2 = [0, 0.1, 0.8, 2.8, 4.6, 5.0, 4.2, 2.5, 1.1, 0.2, 0, 0]
[battery]
capacity_wh = 1000
[[panels]]
rated_w = 300
[[load]]
name = "everything"
watts = 20
)";
  };
  const Json night = result_of(plan("12")), day = result_of(plan("06"));
  CHECK(night["energy_wh_per_day"]["panels"] == 0.0);
  CHECK(flat(night) == 1.0);
  CHECK(day["energy_wh_per_day"]["panels"] > 500.0);
  CHECK(flat(day) < 0.01);
}

TEST_CASE("a place without temperatures gets those known around it") {
  const ProgramRun run = run_program({"run", "-"}, R"(
arrive = 2027-06-10T15:00:00
[[camp]]
nights = 2
place = { latitude = 45, longitude = 7, utc_offset_h = 1, k_mean = [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5] }
[battery]
capacity_wh = 1000
[fridge]
running_w = 45
)");
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("temperatures come from a world grid and"));
}
