#include "engine/plan/guarding_load.hpp"

#include <catch2/catch.hpp>

using namespace dullspell;

TEST_CASE("loads that guard people are known by their names") {
  for (const char* name :
       {"CO/propane alarm, control boards", "Smoke detector", "CPAP", "cpap (humidifier off)",
        "standby: alarms, boards, radio memory", "oxygen concentrator", "medical fridge"}) {
    INFO(name);
    CHECK(guards_people(name));
  }
  for (const char* name :
       {"laptop", "lights and fan", "unalarming lamp", "smart TV", "", "fridge", "water pump"}) {
    INFO(name);
    CHECK_FALSE(guards_people(name));
  }
}
