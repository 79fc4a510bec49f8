#include "engine/guesses/guess.hpp"

#include <algorithm>

#include <catch2/catch.hpp>

#include "tests/support/engine_plan.hpp"

namespace dullspell::guess_test {

namespace {

const char* kVan = R"(
arrive = 2027-09-24T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 3
canopy = 0.15
[battery]
capacity_ah = 80
nominal_v = 12.8
[[panels]]
rated_w = 200
[[load]]
name = "standby"
watts = 10
)";

const Guess& guess_called(const std::vector<Guess>& guesses, const std::string& name) {
  const auto found = std::find_if(guesses.begin(), guesses.end(),
                                  [&](const Guess& guess) { return guess.name == name; });
  REQUIRE(found != guesses.end());
  return *found;
}

}  // namespace

TEST_CASE("a share's likely range is that of a lognormal whose mean is what the plan states") {
  const Plan plan = plan_of(kVan);
  const std::vector<Guess> guesses = guesses_of(plan);
  const Guess& standby = guess_called(guesses, "standby");
  REQUIRE(standby.spread == 0.30);
  // scipy.stats.lognorm.ppf([0.025, 0.975], s, scale=exp(-s*s/2)), s = sqrt(log(1.09)); SciPy 1.10.
  const Interval before = likely_range(plan, standby, 0.0, 1.0);
  CHECK(before.low == Approx(10.0 * 0.53877533).epsilon(1e-7));
  CHECK(before.high == Approx(10.0 * 1.70280846).epsilon(1e-7));
  const Interval now = likely_range(plan, standby, 1.0, 0.25);
  CHECK(now.low > 10.0);
  CHECK(now.high - now.low < 0.5 * (before.high - before.low));
  const Interval known = likely_range(plan, standby, 0.0, 0.0);
  CHECK(known.low == known.high);
}

TEST_CASE("a likely range ends where a value can go no farther") {
  const Plan plan = plan_of(kVan);
  const std::vector<Guess> guesses = guesses_of(plan);
  const Interval canopy = likely_range(plan, guess_called(guesses, "canopy"), 0.0, 1.0);
  CHECK(canopy.low == 0.0);
  CHECK(canopy.high == Approx(0.15 + 1.959964 * 0.10).epsilon(1e-6));
  const Interval health =
      likely_range(plan, guess_called(guesses, "health of the battery"), 0.0, 1.0);
  CHECK(health.low == Approx(1.0 - 1.959964 * 0.05).epsilon(1e-6));
  CHECK(health.high == 1.0);
}

}  // namespace dullspell::guess_test
