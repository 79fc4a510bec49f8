#include "engine/plan/plan_clock.hpp"

#include <string>

#include <catch2/catch.hpp>

#include "engine/plan/plan_edit.hpp"
#include "engine/plan/plan_file.hpp"

using namespace dullspell;

namespace {

Plan plan_at(const std::string& place, const std::string& arrive, const std::string& top = "",
             const std::string& camp = "") {
  return parse_plan({"plan.toml", top + "arrive = " + arrive + "T15:00:00\n[[camp]]\nplace = " +
                                      place + "\nnights = 5\n" + camp +
                                      "[battery]\ncapacity_wh = 1000\n"
                                      "[[load]]\nname = \"lamp\"\nwatts = 10\n"},
                    PlaceCatalogue::built_in(), {});
}

void check_clock(const Plan& plan, double offset_h, bool summer_time) {
  CHECK(plan.clock_offset_h == offset_h);
  CHECK(plan.summer_time == summer_time);
}

constexpr const char* kQuartzsite = "{ latitude = 33.6, longitude = -114.3 }";
constexpr const char* kNavajo = "{ latitude = 35.68, longitude = -109.05 }";
constexpr const char* kTyped =
    "{ latitude = -41.3, longitude = 174.8, utc_offset_h = 12, k_mean = [0.5, 0.5, 0.5, 0.5, 0.5, "
    "0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5] }";

}  // namespace

// Clocks: IANA tz database; see tests/unit/weather/time_zone_test.cpp.

TEST_CASE("a camp by its coordinates has its own zone's clock, not that of the nearest place") {
  const Plan winter = plan_at(kQuartzsite, "2027-01-10");
  check_clock(winter, -7.0, false);
  check_clock(plan_at(kQuartzsite, "2027-07-10"), -7.0, false);
  check_clock(plan_at(kNavajo, "2027-01-10"), -7.0, false);
  check_clock(plan_at(kNavajo, "2027-07-10"), -6.0, true);
}

TEST_CASE("a plan that states no summer time goes by the clock of its date of arrival") {
  check_clock(plan_at("\"moab-ut\"", "2027-03-13"), -7.0, false);
  check_clock(plan_at("\"moab-ut\"", "2027-03-14"), -6.0, true);
  check_clock(plan_at("\"moab-ut\"", "2027-11-06"), -6.0, true);
  check_clock(plan_at("\"moab-ut\"", "2027-11-07"), -7.0, false);
  check_clock(plan_at("\"phoenix-az\"", "2027-07-10"), -7.0, false);
  check_clock(plan_at("\"mobridge-sd\"", "2027-07-10"), -5.0, true);  // rounded over the border
  check_clock(plan_at(kTyped, "2027-01-10"), 13.0, true);
  check_clock(plan_at(kTyped, "2027-07-10"), 12.0, false);
  check_clock(plan_at("{ latitude = -31.55, longitude = 159.08 }", "2027-01-10"),
              11.0, true);
}

TEST_CASE("what a plan states of its clock goes before its zone") {
  check_clock(plan_at("\"moab-ut\"", "2027-07-10", "summer_time = false\n"), -7.0, false);
  check_clock(plan_at("\"phoenix-az\"", "2027-07-10", "summer_time = true\n"), -6.0, true);
  check_clock(plan_at(kQuartzsite, "2027-07-10", "", "utc_offset_h = -8\n"), -8.0, false);
  check_clock(plan_at(kNavajo, "2027-07-10", "", "utc_offset_h = -7\n"), -7.0, false);
  check_clock(plan_at(kNavajo, "2027-07-10", "summer_time = true\n", "utc_offset_h = -8\n"), -7.0,
              true);
}

TEST_CASE("another date or place has the clock that a changed file would have") {
  const Plan july = plan_at("\"moab-ut\"", "2027-07-10");
  check_clock(arriving_on(july, make_date(2027, 1, 10)), -7.0, false);
  check_clock(at_place(july, *PlaceCatalogue::built_in().place("phoenix-az")), -7.0, false);
  check_clock(at_place(july, *PlaceCatalogue::built_in().place("bishop-ca")), -7.0, true);
  const Plan stated = plan_at("\"moab-ut\"", "2027-07-10", "summer_time = true\n");
  check_clock(arriving_on(stated, make_date(2027, 1, 10)), -6.0, true);
  check_clock(at_place(stated, *PlaceCatalogue::built_in().place("phoenix-az")), -6.0, true);
  const Plan offset = plan_at(kQuartzsite, "2027-07-10", "", "utc_offset_h = -8\n");
  check_clock(at_place(offset, *PlaceCatalogue::built_in().place("moab-ut")), -6.0, true);
}

TEST_CASE("local clocks follow each camp's zone by date") {
  const Plan plan = plan_at("\"moab-ut\"", "2027-03-10");
  const Camp& moab = plan.camps.front();
  CHECK(local_clock_h(plan, moab, make_date(2027, 3, 13)) == -7.0);
  CHECK(local_clock_h(plan, moab, make_date(2027, 3, 14)) == -6.0);
  const Plan other =
      plan_at("\"moab-ut\"", "2027-07-10", "summer_time = true\n", "utc_offset_h = -3\n");
  CHECK(zone_of(other.camps.front()) == nullptr);
  CHECK(local_clock_h(other, other.camps.front(), other.arrive) == -2.0);
}
