#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

#include "engine/decisions/guess_doubt.hpp"
#include "engine/statistics/latin_hypercube.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/stay_outcomes.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/random_plan.hpp"

using namespace dullspell;

namespace {

const std::string kPlan = R"(
arrive = 2027-10-02T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 5
canopy = 0.3
[battery]
capacity_wh = 1500
[inverter]
rated_w = 1000
standby_w = 10
[[panels]]
rated_w = 300
[[load]]
name = "standby"
watts = 12
[[load]]
name = "lights"
watts = 20
between = ["19:00", "23:00"]
[fridge]
running_w = 45
)";

std::vector<std::vector<double>> deviates(std::size_t inputs, std::size_t runs) {
  std::vector<std::vector<double>> out;
  for (std::uint32_t i = 0; i < inputs; ++i) {
    out.push_back(shuffled_normals(runs, {7, i, 0, DrawPurpose::guess}));
  }
  return out;
}

std::vector<double> values(const std::vector<std::vector<double>>& z, auto of) {
  std::vector<double> out;
  for (std::size_t run = 0; run < z[0].size(); ++run)
    out.push_back(of(z[0][run], z[1][run], z[2][run]));
  return out;
}

const Guess& named(const std::vector<Guess>& guesses, const std::string& name) {
  return *std::find_if(guesses.begin(), guesses.end(),
                       [&](const auto& g) { return g.name == name; });
}

}  // namespace

TEST_CASE("first-order shares of functions whose shares are known") {
  const auto z = deviates(3, 256);
  // Additive: shares are those of the squared weights.
  auto shares = first_order_shares(
      z, values(z, [](double a, double b, double c) { return 5.0 + 3.0 * a - 2.0 * b + c; }));
  CHECK(shares[0] == Approx(9.0 / 14.0).margin(0.04));
  CHECK(shares[1] == Approx(4.0 / 14.0).margin(0.04));
  CHECK(shares[2] == Approx(1.0 / 14.0).margin(0.04));
  // A square has no linear part: variance 2 of a^2 against 1 of b.
  shares = first_order_shares(z, values(z, [](double a, double b, double) { return a * a + b; }));
  CHECK(shares[0] == Approx(2.0 / 3.0).margin(0.06));
  CHECK(shares[1] == Approx(1.0 / 3.0).margin(0.06));
  CHECK(shares[2] < 0.02);
  // A product is brought about only together.
  shares = first_order_shares(z, values(z, [](double a, double b, double) { return a * b; }));
  for (const double share : shares) CHECK(share < 0.06);
  // A step, the worst of what saturates: polynomials up to the third order see 2/pi (1 + 1/6).
  shares = first_order_shares(z, values(z, [](double a, double, double) { return a > 0.0; }));
  CHECK(shares[0] == Approx(2.0 / 3.14159265 * 7.0 / 6.0).margin(0.05));
  shares = first_order_shares(z, values(z, [](double, double, double) { return 4.0; }));
  for (const double share : shares) CHECK(share == 0.0);
}

TEST_CASE("what a plan guesses, and how each guess changes it") {
  const Plan plan = plan_of(kPlan);
  const auto guesses = guesses_of(plan);
  std::vector<std::string> names;
  for (const Guess& guess : guesses) names.push_back(guess.name);
  CHECK(names == std::vector<std::string>{"standby", "lights", "inverter standby", "fridge",
                                          "harvest of the panels", "canopy",
                                          "health of the battery"});
  CHECK(named(guesses, "standby").spread == 0.30);
  CHECK(named(guesses, "lights").spread == 0.20);
  Plan changed = plan;
  named(guesses, "lights").off_by(changed, 1.0);
  const double sigma = std::sqrt(std::log(1.04));
  CHECK(changed.loads[1].watts == Approx(20.0 * std::exp(sigma - 0.5 * sigma * sigma)));
  CHECK(changed.loads[0].watts == 12.0);
  named(guesses, "canopy").off_by(changed, -10.0);
  CHECK(changed.camps[0].canopy == 0.0);
  named(guesses, "health of the battery").off_by(changed, -2.0);
  CHECK(changed.battery.health == Approx(0.90));
  CHECK(changed.battery.charge_limit_w == Approx(0.9 * plan.battery.charge_limit_w));
}

TEST_CASE("what is measured is no guess") {
  const Plan plan = plan_of(kPlan, {"guesses.standby=0", "guesses.fridge=0", "guesses.canopy=0.3"});
  const auto guesses = guesses_of(plan);
  CHECK(std::none_of(guesses.begin(), guesses.end(), [](const Guess& g) {
    return g.name == "standby" || g.name == "inverter standby" || g.name == "fridge";
  }));
  CHECK(named(guesses, "canopy").spread == 0.3);
  const Plan sure = plan_of(
      kPlan, {"guesses={standby=0, loads=0, fridge=0, furnace=0, harvest=0, canopy=0, health=0}"});
  CHECK_FALSE(guess_doubt(sure, {}));
}

TEST_CASE("the doubt of a plan is that of its guess when it has only one") {
  const Plan plan =
      plan_of(kPlan, {"guesses={standby=0.4, loads=0, fridge=0, furnace=0, harvest=0, canopy=0, "
                      "health=0}"});
  const auto doubt = guess_doubt(plan, {8'000, 1, 2});
  REQUIRE(doubt);
  // Its standby loads and the inverter's.
  REQUIRE(doubt->parts.size() == 2);
  CHECK(doubt->parts[0].share + doubt->parts[1].share + doubt->rest == Approx(1.0).margin(0.02));
  CHECK(doubt->parts[0].share + doubt->parts[1].share > 0.8);
  const double stated =
      static_cast<double>(run_outcomes(prepare(plan), {1'000, 1, 1}).count_home()) / 1'000.0;
  CHECK(doubt->flat.low < stated);
  CHECK(doubt->flat.high > stated);
  CHECK(doubt->stays_each == 1'000);
  for (const int threads : {1, 3}) {
    const auto again = guess_doubt(plan, {8'000, 1, threads});
    CHECK(again->flat.low == doubt->flat.low);
    CHECK(again->flat.high == doubt->flat.high);
    CHECK(again->parts[0].share == doubt->parts[0].share);
  }
}

TEST_CASE("guesses that are far off leave plans of all kinds runnable") {
  for (unsigned number = 1; number <= 30; ++number) {
    INFO("plan " << number);
    const Plan plan = plan_of(RandomPlan(number).toml());
    for (const double deviate : {-4.0, 4.0}) {
      Plan changed = plan;
      for (const Guess& guess : guesses_of(plan)) guess.off_by(changed, deviate);
      CHECK(run_outcomes(prepare(changed), {64, 1, 1}).stays == 64);
    }
  }
}
