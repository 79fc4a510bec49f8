#include "reports/cautions.hpp"

#include <algorithm>
#include <optional>

#include <catch2/catch.hpp>

#include "engine/plan/plan_file.hpp"
#include "engine/study/prepare.hpp"
#include "reports/number_text.hpp"

using namespace dullspell;
using Catch::Matchers::Contains;

namespace {

constexpr const char* kSmooth = "Within a day the sun follows a smooth curve.";
constexpr const char* kShade = "Shade dims panels";

// 40 W day and night from flat panels of 600 W.
Plan plan_of_kit(const std::vector<std::string>& settings) {
  return parse_plan({"plan.toml", R"(
arrive = 2027-06-10T15:00:00
[[camp]]
place = "bishop-ca"
nights = 6
[battery]
capacity_wh = 1000
[[panels]]
rated_w = 600
mount = "flat"
[[load]]
name = "lamp"
watts = 40
)"},
                    PlaceCatalogue::built_in(), settings);
}

std::vector<std::string> notes_of(const Plan& plan, std::uint64_t flat_of_10000) {
  const PreparedPlan prepared = prepare(plan);
  StudyResult result;
  result.home.flat = Proportion(flat_of_10000, 10000);
  const Budget budget = expected_budget(prepared);
  return report_notes({plan, prepared, result, budget});
}

std::optional<std::string> note_with(const char* text, const std::vector<std::string>& settings,
                                     std::uint64_t flat_of_10000 = 1000) {
  const auto notes = notes_of(plan_of_kit(settings), flat_of_10000);
  const auto found = std::find_if(notes.begin(), notes.end(), [=](const std::string& note) {
    return note.find(text) != std::string::npos;
  });
  return found == notes.end() ? std::nullopt : std::optional(*found);
}

double panels_wh(const std::vector<std::string>& settings) {
  return expected_budget(prepare(plan_of_kit(settings))).panels_wh_per_day;
}

}  // namespace

TEST_CASE("the smooth day is no matter without a limit and with a day's battery") {
  CHECK_FALSE(note_with(kSmooth, {}));
  CHECK(note_with(kShade, {}));
}

TEST_CASE("nothing is said of sun and shade without panels") {
  const auto settings = std::vector<std::string>{"battery.capacity_wh=300"};
  Plan plan = plan_of_kit(settings);
  REQUIRE(note_with(kSmooth, settings));
  plan.panels.clear();
  for (const std::string& note : notes_of(plan, 1000)) {
    CHECK_THAT(note, !Contains(kSmooth) && !Contains(kShade));
  }
}

TEST_CASE("a limit that cuts the summer harvest makes it too high, by more the more it cuts") {
  const std::vector<std::string> half{"panels[1].controller_limit_w=370"};
  const std::vector<std::string> third{"panels[1].controller_limit_w=200"};
  const double whole_wh = panels_wh({});
  for (const auto& [settings, percent, points] :
       {std::tuple{half, 1, 3}, std::tuple{third, 2, 5}}) {
    const double cut = 1.0 - panels_wh(settings) / whole_wh;
    INFO(settings.front() << " cuts " << cut);
    REQUIRE(((percent == 1 && cut > 0.05 && cut < 0.15) || (percent == 2 && cut > 0.15)));
    const auto note = note_with(kSmooth, settings);
    REQUIRE(note);
    CHECK_THAT(*note, Contains("limits cut " + whole_percent(cut) + " of it"));
    CHECK_THAT(*note, Contains("some " + std::to_string(percent) + " % too high"));
    CHECK_THAT(*note, Contains("some " + std::to_string(points) + " points too low"));
  }
}

TEST_CASE("the same limit is no matter where the sun seldom reaches it") {
  const std::string limit = "panels[1].controller_limit_w=370";
  REQUIRE(note_with(kSmooth, {limit}));
  CHECK_FALSE(note_with(kSmooth, {limit, "arrive=2027-12-10T15:00:00"}));
  CHECK_FALSE(note_with(kSmooth, {limit, "camp[1].canopy=0.6"}));
}

TEST_CASE("a limit does not move a share that is none, all, or a large battery's") {
  const std::string limit = "panels[1].controller_limit_w=200";
  for (const std::uint64_t flat : {0u, 10000u}) {
    const auto note = note_with(kSmooth, {limit}, flat);
    REQUIRE(note);
    CHECK_THAT(*note, Contains("too high") && !Contains("points"));
  }
  const auto note = note_with(kSmooth, {limit, "battery.capacity_wh=4000"});
  REQUIRE(note);
  CHECK_THAT(*note, Contains("too high") && !Contains("points"));
}

TEST_CASE("a battery that holds less than 0.7 days meets dull mornings and evenings") {
  // Of 40 W over 24 h: 0.80, 0.61 and 0.51 days at 0.98 out of the battery.
  CHECK_FALSE(note_with(kSmooth, {"battery.capacity_wh=780"}));
  const auto small = note_with(kSmooth, {"battery.capacity_wh=600"});
  REQUIRE(small);
  CHECK_THAT(*small, Contains("A battery of 0.6 days") && Contains("some 5 points too low"));
  const auto very_small = note_with(kSmooth, {"battery.capacity_wh=500"});
  REQUIRE(very_small);
  CHECK_THAT(*very_small, Contains("A battery of 0.5 days") && Contains("some 20 points too low"));
  CHECK_FALSE(note_with(kSmooth, {"battery.capacity_wh=600"}, 9990));
}

TEST_CASE("a tight limit and a small battery add up") {
  const std::string limit = "panels[1].controller_limit_w=200";
  const auto small = note_with(kSmooth, {limit, "battery.capacity_wh=600"});
  REQUIRE(small);
  CHECK_THAT(*small, Contains("limits cut") && Contains("some 10 points too low"));
  const auto very_small = note_with(kSmooth, {limit, "battery.capacity_wh=500"});
  REQUIRE(very_small);
  CHECK_THAT(*very_small, Contains("some 25 points too low"));
}
