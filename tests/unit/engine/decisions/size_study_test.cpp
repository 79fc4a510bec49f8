#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

#include "engine/decisions/size_study.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/study/prepare.hpp"
#include "tests/support/engine_plan.hpp"

namespace dullspell::size_study_test {

namespace {

const std::string kPlan = R"(arrive = 2027-11-10T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 5
[battery]
capacity_wh = 2560
[[panels]]
rated_w = 300
[[load]]
name = "everything"
watts = 30
)";

const SizeOptions kFew{500, 1, 1};
constexpr SizeQuestion kBattery{SizeOf::battery, 0.1, false};

bool has(const SizeStudy& study, NoSizeReason reason) {
  REQUIRE(study.no_size);
  const auto& reasons = study.no_size->reasons;
  return std::find(reasons.begin(), reasons.end(), reason) != reasons.end();
}

}  // namespace

TEST_CASE("an option is the plan with the option's sizes in it") {
  const Plan plan = plan_of(kPlan +
                            "[[option]]\nname = \"a\"\nbattery_wh = 1500\n"
                            "[[option]]\nname = \"b\"\nbattery_wh = 4000\npanels_w = 150\n");
  const auto judged = judge_options(plan, kBattery, kFew);
  REQUIRE(judged.size() == 2);
  const auto flat_with = [&](const std::vector<std::string>& settings) {
    return run_outcomes(prepare(plan_of(kPlan, settings)), kFew).count_home();
  };
  CHECK(judged[0].flat.count == flat_with({"battery.capacity_wh=1500"}));
  CHECK(judged[1].flat.count == flat_with({"battery.capacity_wh=4000", "panels[1].rated_w=150"}));
  for (const OptionRisk& option : judged) {
    CHECK(option.meets == (option.flat.count <= 50));
    CHECK(option.climate.low <= option.flat.p);
    CHECK(option.climate.high >= option.flat.p);
  }
}

TEST_CASE("an option without a figure, or that does not last, wins no ranking") {
  const auto option = [](std::optional<double> price, bool meets) {
    OptionRisk out;
    out.option.price = price;
    out.meets = meets;
    return out;
  };
  CHECK_FALSE(least_of({}, &KitOption::price));
  CHECK_FALSE(least_of({option(1.0, false), option(std::nullopt, true)}, &KitOption::price));
  CHECK(least_of({option(1.0, false), option({}, true), option(9.0, true), option(8.0, true)},
                 &KitOption::price) == 3);
}

TEST_CASE("the next common size lasts, and is a round number of ampere-hours") {
  const SizeStudy study = study_size(plan_of(kPlan), kBattery, kFew);
  REQUIRE(study.answer.least);
  REQUIRE(study.next_common);
  CHECK(study.next_common->size >= study.answer.least->size);
  const double ah = study.next_common->size / kUsualNominal_v;
  CHECK(std::fmod(ah + 1e-6, common_step(study.answer.least->size / kUsualNominal_v)) < 1e-3);
  CHECK(study.next_common->flat.count <= study.allowed);
  CHECK(common_step(85.0) == 10.0);
  CHECK(common_step(100.0) == 100.0);
  CHECK(common_step(2'500.0) == 500.0);
}

TEST_CASE("a frontier point is the least battery of the plan with those panels") {
  const Plan plan = plan_of(kPlan);
  const SizeStudy study = study_size(plan, kBattery, kFew, true);
  REQUIRE(study.frontier.size() == 7);
  for (const FrontierPoint& point : study.frontier) {
    const LeastSize alone = least_size(with_panels_w(plan, point.panels_w), kBattery, kFew);
    REQUIRE(point.battery.least.has_value() == alone.least.has_value());
    // The searches of both begin at the plan's battery and see the same stays.
    if (alone.least) CHECK(point.battery.least->size == alone.least->size);
  }
}

TEST_CASE("what stands in the way of any size is named") {
  const auto study = [](SizeQuestion question, const std::vector<std::string>& settings) {
    return study_size(plan_of(kPlan, settings), question, kFew);
  };
  const SizeQuestion panels{SizeOf::panels, 0.1, false};
  const SizeStudy greedy = study(kBattery, {"load[1].watts=5000"});
  REQUIRE(greedy.no_size);
  CHECK(has(greedy, NoSizeReason::balance));
  CHECK(greedy.budget.draw_wh_per_day > greedy.budget.panels_wh_per_day);
  CHECK(has(study(kBattery, {"battery.start_charge=0"}), NoSizeReason::empty_at_first));
  CHECK(has(study(panels, {"battery.capacity_wh=150"}), NoSizeReason::night));
  CHECK(has(study(panels, {"panels[1].controller_limit_w=20"}), NoSizeReason::controllers));
  CHECK(has(study(panels, {"battery.charge_limit_w=10", "battery.capacity_wh=1000"}),
            NoSizeReason::charge_limit));
  CHECK(
      has(study(panels, {"battery.where=outside", "battery.charge_min_c=10",
                         "camp[1].temp_mean_c=[-15,-15,-15,-15,-15,-15,-15,-15,-15,-15,-15,-15]"}),
          NoSizeReason::cold_charge));
}

}  // namespace dullspell::size_study_test
