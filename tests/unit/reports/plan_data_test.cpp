#include "reports/plan_data.hpp"

#include <catch2/catch.hpp>

#include "tests/support/engine_plan.hpp"

using namespace dullspell;

TEST_CASE("the plan's echo holds how far off its guesses may be, stated or not") {
  const Plan plan = plan_of(
      "arrive = 2027-05-21T15:00:00\n[[camp]]\nplace = \"reno-nv\"\nnights = 3\n[battery]\n"
      "capacity_wh = 1000\n[[load]]\nname = \"lamp\"\nwatts = 5\n[guesses]\nloads = 0.35\n"
      "health = 0\n");
  const Data guesses = plan_data(plan).at("guesses");
  CHECK(guesses == Data({{"standby", 0.30},
                         {"loads", 0.35},
                         {"fridge", 0.25},
                         {"furnace", 0.25},
                         {"harvest", 0.10},
                         {"canopy", 0.10},
                         {"health", 0.0}}));
}
