#include "reports/verdict.hpp"

#include <catch2/catch.hpp>

#include "engine/plan/plan_file.hpp"
#include "engine/study/prepare.hpp"

namespace dullspell::verdict_test {

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

Plan plan_with(const std::string& more, const std::vector<std::string>& settings = {}) {
  return parse_plan({"plan.toml", R"(
arrive = 2027-05-21T15:00:00
accept_risk = 0.1
[[camp]]
place = "bishop-ca"
nights = 6
[battery]
capacity_wh = 1000
[[load]]
name = "lamp"
watts = 10
)" + more},
                    PlaceCatalogue::built_in(), settings);
}

const std::string kGenerator = R"(
[generator]
rated_w = 1000
charger_w = 500
allowed = [["17:00", "20:00"]]
)";

TrackRisk risk_of(std::uint64_t flat, std::uint64_t stays) {
  TrackRisk risk;
  risk.flat = Proportion(flat, stays);
  if (flat > 0) risk.usual_failure = UsualFailure{6, 4, 0.5, 3.0};
  return risk;
}

std::string verdict_of(const std::string& more, std::uint64_t home, std::uint64_t along = 0,
                       const std::vector<std::string>& settings = {}) {
  const Plan plan = plan_with(more, settings);
  const PreparedPlan prepared = prepare(plan);
  StudyResult result;
  result.home = risk_of(home, 10000);
  if (plan.generator) {
    result.generator.emplace();
    result.generator->risk = risk_of(along, 10000);
  }
  const Budget budget = expected_budget(prepared);
  return verdict({plan, prepared, result, budget});
}

}  // namespace

TEST_CASE("a risk is judged by its interval") {
  CHECK(standing(Proportion(500, 10000), 0.1) == RiskStanding::within);
  CHECK(standing(Proportion(1500, 10000), 0.1) == RiskStanding::exceeded);
  CHECK(standing(Proportion(1010, 10000), 0.1) == RiskStanding::too_close);
  CHECK(standing(Proportion(0, 10000), 0.0) == RiskStanding::within);
  CHECK(standing(Proportion(1, 10000), 0.0) == RiskStanding::exceeded);
  CHECK(standing(Proportion(10000, 10000), 1.0) == RiskStanding::within);
}

TEST_CASE("the verdict without a generator says whether the kit holds, and the night") {
  CHECK_THAT(verdict_of("", 100),
             StartsWith("This kit should hold. The battery runs flat in 1.0 of"));
  CHECK_THAT(verdict_of("", 1010), StartsWith("Too close to call."));
  CHECK_THAT(verdict_of("", 3400),
             StartsWith("This kit is too small for the stay.") &&
                 Contains("34 of 100 stays (33–35 %); you accept 10 in 100.") &&
                 Contains("in the small hours of Thu 27 May, after the sixth night") &&
                 Contains("about 3 hours"));
}

TEST_CASE("the climate interval is said, and whether it could turn the decision") {
  const Plan plan = plan_with("");
  const PreparedPlan prepared = prepare(plan);
  const Budget budget = expected_budget(prepared);
  const auto said = [&](std::optional<Interval> climate) {
    StudyResult result;
    result.home = risk_of(2000, 10000);
    result.home.flat_climate = climate;
    return verdict({plan, prepared, result, budget});
  };
  CHECK_THAT(said(Interval{0.12, 0.29}),
             Contains("Allowing for gaps in the weather record, anywhere from 12 to 29 %."));
  CHECK_THAT(said(Interval{0.07, 0.36}),
             Contains("anywhere from 7 to 36 %: on either side of what you accept."));
  CHECK_THAT(said(std::nullopt), !Contains("anywhere"));
}

TEST_CASE("a stay under way keeps the plan's own count of nights") {
  // The study counts from now, 24 May: what fails there on its third date is the plan's sixth.
  const Plan plan = plan_with("", {"now=2027-05-24T09:00:00", "battery.start_charge=0.8"});
  const PreparedPlan prepared = prepare(plan);
  CHECK(night_name(prepared, 2, 22) == "late in the evening of Wed 26 May, in the sixth night");
  CHECK(night_name(prepared, 0, 9) == "in the morning of Mon 24 May, after the third night");
  CHECK(night_name(prepared, 3, 4) == "in the small hours of Thu 27 May, after the sixth night");
}

TEST_CASE("the verdict with a generator says whether to bring it") {
  CHECK_THAT(verdict_of(kGenerator, 10), StartsWith("You can leave the generator at home."));
  CHECK_THAT(verdict_of(kGenerator, 1010), StartsWith("Generator or not: too close to call"));
  CHECK_THAT(verdict_of(kGenerator, 3400, 10), StartsWith("Bring the generator. Without it"));
  CHECK_THAT(verdict_of(kGenerator, 9000, 3000),
             StartsWith("Bring the generator; it helps, but does not keep every stay from going "
                        "flat.") &&
                 Contains("To get within what you accept, allow it more hours"));
}

TEST_CASE("nights are named as a camper would") {
  const PreparedPlan prepared = prepare(plan_with(""));
  CHECK(night_name(prepared, 1, 3) == "in the small hours of Sat 22 May, after the first night");
  CHECK(night_name(prepared, 2, 7) == "in the morning of Sun 23 May, after the second night");
  CHECK(night_name(prepared, 0, 16) == "in the afternoon of Fri 21 May");
  CHECK(night_name(prepared, 0, 22) == "late in the evening of Fri 21 May, in the first night");
}

}  // namespace dullspell::verdict_test
