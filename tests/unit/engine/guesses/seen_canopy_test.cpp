#include <cmath>
#include <random>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "engine/guesses/posterior.hpp"
#include "engine/guesses/reading_model.hpp"
#include "engine/guesses/seen_canopy.hpp"
#include "engine/plan/plan_edit.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;

namespace {

// One panel flat on the roof of a van.
Plan roof_panel(const std::string& more = "", const std::vector<std::string>& settings = {}) {
  return plan_of(R"(
arrive = 2027-10-08T16:00:00
[[camp]]
place = "crescent-city-ca"
nights = 4
canopy = 0.4
[battery]
capacity_wh = 1280
[[panels]]
rated_w = 100
[[load]]
name = "fridge and standby"
watts = 22
)" + more,
                 settings);
}

Reading glance(double watts, SkyWord sky = SkyWord::clear, int minute_of_day = 13 * 60) {
  return panel_glance(0, {make_date(2027, 10, 10), minute_of_day}, sky, watts);
}

double shown_below(const Plan& plan, double canopy, const Reading& reading) {
  return ReadingModel(plan, reading).shown(with_canopy(plan, 0, canopy));
}

}  // namespace

TEST_CASE("the canopy that made the watts is found, whatever the plan's own") {
  for (const double stated : {0.0, 0.4}) {
    const Plan plan = with_canopy(roof_panel(), 0, stated);
    for (const double canopy : {0.05, 0.3, 0.62, 0.9}) {
      for (const int minute : {12 * 60 + 30, 13 * 60, 15 * 60 + 10}) {
        CAPTURE(stated, canopy, minute);
        const double watts = shown_below(plan, canopy, glance(0.0, SkyWord::clear, minute));
        const SeenCanopy found = seen_canopy(plan, glance(watts, SkyWord::clear, minute));
        CHECK(found.fit == SeenFit::fits);
        CHECK(found.canopy == Approx(canopy).margin(1e-4));
        CHECK(found.here_w ==
              Approx(shown_below(plan, stated, glance(0.0, SkyWord::clear, minute))));
        CHECK(found.open_w >= found.here_w);
        CHECK(found.least < found.canopy);
        CHECK(found.most > found.canopy);
      }
    }
  }
}

TEST_CASE("watts that no canopy gives are told from those that one does") {
  const Plan plan = roof_panel();
  const double open_w = seen_canopy(plan, glance(20.0)).open_w;
  const SeenCanopy above = seen_canopy(plan, glance(open_w + 1.0));
  CHECK(above.fit == SeenFit::above_open);
  CHECK(above.canopy == 0.0);
  CHECK(above.least == 0.0);
  CHECK(above.most > 0.0);  // such a day may be that much clearer
  CHECK(seen_canopy(plan, glance(2.0 * open_w)).most == 0.0);
  const SeenCanopy below = seen_canopy(plan, glance(0.0));
  CHECK(below.fit == SeenFit::below_thickest);
  CHECK(below.canopy == kMostCanopy);
}

TEST_CASE("at a controller's limit any thinner canopy would show the same") {
  const Plan plan = roof_panel("", {"panels[1].controller_limit_w=40"});
  const SeenCanopy at_limit = seen_canopy(plan, glance(40.0));
  CHECK(at_limit.open_w == 40.0);
  CHECK(at_limit.canopy > 0.15);
  CHECK(at_limit.least == 0.0);
}

TEST_CASE("what doubt a glance leaves is that of the display, the sky and the panels") {
  const Plan surely = roof_panel("[guesses]\nharvest = 0\n"), plan = roof_panel();
  const Reading reading = glance(shown_below(plan, 0.4, glance(0.0)));
  const double without = panel_doubt_w(surely, reading);
  const ReadingModel model(plan, reading);
  const std::vector<double> clearer{1.0};
  const double by_sky = model.shown(plan, clearer) - model.shown(plan);
  // Not quite a straight line of the sky's deviate.
  CHECK(without == Approx(std::hypot(model.error(), by_sky)).epsilon(0.02));
  // A tenth more panels show a tenth more.
  CHECK(panel_doubt_w(plan, reading) ==
        Approx(std::hypot(without, 0.1 * reading.shown)).epsilon(0.005));
}

TEST_CASE("a reading in the open makes the canopy surer") {
  const double open_w = seen_canopy(roof_panel(), glance(20.0)).open_w;
  const Plan read =
      roof_panel(fmt::format("[[reading]]\npanels_w = {:.0f}\nat = 2027-10-10T12:30:00\n"
                             "camp = \"open\"\nsky = \"clear\"\n",
                             open_w));
  const SeenCanopy before = seen_canopy(roof_panel(), glance(20.0)),
                   after = seen_canopy(read, glance(20.0));
  CHECK(after.doubt_w < 0.93 * before.doubt_w);
  CHECK(after.most - after.least < 0.95 * (before.most - before.least));
}

TEST_CASE("the range of canopies holds the true one two times in three", "[long]") {
  const Plan plan = roof_panel();
  std::mt19937_64 random(20271010);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> canopies(0.2, 0.7);
  constexpr int kGlances = 300;
  const ReadingModel model(plan, glance(0.0));
  int inside = 0;
  for (int i = 0; i < kGlances; ++i) {
    const double canopy = canopies(random);
    Plan truth = with_canopy(plan, 0, canopy);
    const double sigma = lognormal_sigma(plan.guesses.harvest);
    truth = with_panels_w(truth, 100.0 * std::exp(sigma * normal(random) - 0.5 * sigma * sigma));
    const double watts = model.shown(truth, std::vector<double>{normal(random)});
    const double seen = watts + ReadingModel(truth, glance(watts)).error() * normal(random);
    const SeenCanopy found = seen_canopy(plan, glance(seen));
    inside += canopy >= found.least && canopy <= found.most;
  }
  // Normal errors lie within one standard deviation in 0.683 of cases; a standard error of 0.027.
  CHECK(static_cast<double>(inside) / kGlances == Approx(0.683).margin(0.08));
}

TEST_CASE("with the canopy that was found an audit expects what was seen") {
  const Reading reading = glance(21.0);
  const double canopy = seen_canopy(roof_panel(), reading).canopy;
  const Plan written =
      roof_panel("[[reading]]\npanels_w = 21\nat = 2027-10-10T13:00:00\nsky = \"clear\"\n",
                 {fmt::format("camp[1].canopy={}", canopy)});
  CHECK(posterior_of(listed_plan(written)).readings.front().listed == Approx(21.0).margin(0.01));
}
