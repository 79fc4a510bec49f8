#include "reports/clock_notes.hpp"

#include <string>

#include <catch2/catch.hpp>

#include "engine/plan/plan_file.hpp"

using namespace dullspell;
using Catch::Matchers::Contains;

namespace {

struct Leg {
  std::string place;
  int nights;
  std::string more = "";
};

std::string notes_of(const std::string& arrive, const std::vector<Leg>& legs,
                     const std::string& top = "") {
  std::string text = top + "arrive = " + arrive + "T15:00:00\n";
  for (const Leg& leg : legs) {
    text += "[[camp]]\nplace = " + leg.place + "\nnights = " + std::to_string(leg.nights) + "\n" +
            leg.more;
  }
  text += "[battery]\ncapacity_wh = 1000\n[[load]]\nname = \"lamp\"\nwatts = 10\n";
  const Plan plan = parse_plan({"plan.toml", text}, PlaceCatalogue::built_in(), {});
  std::string notes;
  for (const auto& note : clock_notes(plan, plan.arrive, plan.departure(), Units::metric)) {
    notes += note + "\n";
  }
  return notes;
}

const std::string kPhoenix = "\"phoenix-az\"", kMoab = "\"moab-ut\"", kBishop = "\"bishop-ca\"";

}  // namespace

TEST_CASE("a stay by one clock needs no note") {
  CHECK(notes_of("2027-07-10", {{kMoab, 5}}) == "");
  CHECK(notes_of("2027-01-10", {{kMoab, 5}}) == "");
  CHECK(notes_of("2027-07-10", {{kPhoenix, 5}}) == "");
  CHECK(notes_of("2027-01-10", {{kPhoenix, 5}, {kMoab, 5}}) == "");
  CHECK(notes_of("2027-07-10", {{kPhoenix, 3}, {kBishop, 3}}) == "");  // UTC-7 both
}

TEST_CASE("camps whose clocks differ on the date are told, though standard times agree") {
  CHECK(notes_of("2027-07-10", {{kPhoenix, 3}, {kMoab, 3}}) ==
        "All hours, also those stated for loads and generator, are by the first camp's clock. At "
        "Moab, UT local clocks show 1 h more.\n");
  CHECK_THAT(notes_of("2027-07-10", {{kMoab, 3}, {kPhoenix, 3}}),
             Contains("At Phoenix, AZ local clocks show 1 h less."));
  CHECK_THAT(notes_of("2027-12-01", {{kPhoenix, 3}, {kBishop, 3}}),
             Contains("At Bishop, CA local clocks show 1 h less."));
}

TEST_CASE("a change of clocks within the stay is told once, at the camp where it happens") {
  CHECK(notes_of("2027-03-10", {{kMoab, 7}}) ==
        "Clocks at Moab, UT change on Sun 14 Mar: the plan keeps its clock (UTC-7) to the end.\n");
  CHECK(notes_of("2027-11-05", {{kMoab, 7}}) ==
        "Clocks at Moab, UT change on Sun 7 Nov: the plan keeps its clock (UTC-6, summer time) to "
        "the end.\n");
  CHECK(notes_of("2027-03-10", {{kPhoenix, 7}}) == "");
  CHECK_THAT(notes_of("2027-03-10", {{kPhoenix, 2}, {kMoab, 5}}),
             Contains("Clocks at Moab, UT change on Sun 14 Mar"));
  // Arrival in Utah after the change: Arizona's clock shows an hour less than Utah's.
  CHECK_THAT(notes_of("2027-03-10", {{kPhoenix, 6}, {kMoab, 2}}),
             Contains("At Moab, UT local clocks show 1 h more.") && !Contains("change on"));
  CHECK(notes_of("2027-03-10", {{kMoab, 5}, {"\"bryce-canyon-ut\"", 3}}) ==
        "Clocks at Moab, UT change on Sun 14 Mar: the plan keeps its clock (UTC-7) to the end.\n");
}

TEST_CASE("a stated clock that is not the camp's is told with what to change") {
  CHECK(notes_of("2027-07-10", {{kMoab, 5}}, "summer_time = false\n") ==
        "All hours are by UTC-7. By the table of time zones, clocks at Moab, UT show 1 h more on "
        "Sat 10 Jul. Leave summer_time out to go by them.\n");
  CHECK_THAT(notes_of("2027-07-10", {{kPhoenix, 5}}, "summer_time = true\n"),
             Contains("All hours are by UTC-6, summer time.") && Contains("show 1 h less"));
  CHECK_THAT(notes_of("2027-07-10", {{kMoab, 5, "utc_offset_h = -7\n"}}),
             Contains("Leave utc_offset_h out to go by them."));
  // Another clock altogether is taken at its word.
  CHECK(notes_of("2027-07-10", {{kMoab, 5, "utc_offset_h = -3\n"}}) == "");
}

TEST_CASE("a camp by coordinates near a border of time zones is told of the clock beyond") {
  // On the Arizona bank of the Colorado opposite Blythe, and well inland.
  CHECK(
      notes_of("2027-01-10", {{"{ latitude = 33.61, longitude = -114.50 }", 3}}) ==
      "A border of time zones lies within 5 km of 33.61, -114.50; beyond it clocks show UTC-8. If "
      "the camp keeps that clock, state its utc_offset_h and summer_time.\n");
  CHECK(notes_of("2027-07-10", {{"{ latitude = 33.61, longitude = -114.50 }", 3}}) == "");
  CHECK(notes_of("2027-01-10", {{"{ latitude = 33.66, longitude = -114.23 }", 3}}) == "");
}
