#include "engine/guesses/corrected_text.hpp"

#include <catch2/catch.hpp>

#include "tests/support/engine_plan.hpp"
#include "tests/support/input_text.hpp"
#include "weather/input/input_error.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::Contains;

const std::string kVan = R"(# Ours
arrive = 2027-06-11T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 4
canopy = 0.5    # a guess
[battery]
capacity_wh = 1200
nominal_v = 12.8
[[panels]]
rated_w = 200
[[panels]]
rated_w = 100
[[load]]
name = "router"
amps = 1
[[load]]
name = "lights"
watts = 20
between = ["19:00", "23:00"]
)";

const std::string kReadings = R"(
[[reading]]
draw_w = 21
at = 2027-06-01T23:30:00
on = []
[[reading]]
panels_w = 200
at = 2027-06-02T13:00:00
camp = "open"
sky = "clear"
[[reading]]
panels_w = 70
at = 2027-06-02T13:10:00
sky = "clear"
[[reading]]
delivered_wh = 900
at_w = 60
)";

std::string written(const std::string& text) {
  const Plan plan = plan_of(text);
  return corrected_text({"out.toml", text}, listed_plan(plan), plan.correction->posterior,
                        PlaceCatalogue::built_in());
}

TEST_CASE("A written plan has the corrected figures, and what is left of their doubt") {
  const std::string text = written(kVan + kReadings);
  CAPTURE(text);
  const Plan plan = plan_of(kVan + kReadings), again = plan_of(text);
  CHECK(again.readings.empty());
  CHECK(!again.correction);
  CHECK(again.loads[0].watts == Approx(plan.loads[0].watts).epsilon(0.005));
  CHECK(again.loads[1].watts == 20.0);
  CHECK(again.camps[0].canopy == Approx(plan.camps[0].canopy).epsilon(0.005));
  CHECK(again.battery.health == Approx(plan.battery.health).epsilon(0.005));
  for (std::size_t i = 0; i < plan.panels.size(); ++i) {
    CHECK(again.panels[i].rated_w == Approx(plan.panels[i].rated_w).epsilon(0.005));
  }
  CHECK(again.guesses.standby < 0.05);
  CHECK(again.guesses.loads == 0.2);
  CHECK(again.guesses.canopy < 0.05);
  CHECK(again.guesses.harvest < 0.1);
  CHECK_THAT(text, Contains("# Ours") && Contains("# a guess (was 0.5)") &&
                       Contains("# was amps = 1") && Contains("# draw_w = 21"));
}

TEST_CASE(
    "A written plan keeps the units of keys that are not corrected, and states others in its own") {
  const std::string text = written(R"(
arrive = 2027-01-11T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 2
canopy = "50 %"
[battery]
capacity_wh = 3000
[furnace]
output_btu_h = 20_000
blower_w = 40
heat_loss_btu_h_per_f = 190
[[furnace.hold_f]]
from = "06:00"
to = "22:00"
f = 66
[[reading]]
used_wh = 400
from = 2027-01-12T21:00:00
to = 2027-01-13T06:00:00
)");
  CAPTURE(text);
  CHECK_THAT(text, Contains("output_btu_h = 20_000\n") && Contains("canopy = \"50 %\"\n") &&
                       Contains("heat_loss_w_per_k = ") &&
                       Contains("# was heat_loss_btu_h_per_f = 190"));
}

TEST_CASE("A text that cannot be edited says what to change by hand") {
  std::string text = kVan + kReadings;
  const std::string battery = "[battery]\ncapacity_wh = 1200\nnominal_v = 12.8\n";
  text.erase(text.find(battery), battery.size());
  text = "battery = { capacity_wh = 1200, nominal_v = 12.8 }\n" + text;
  CHECK_THAT(message_of([&] { written(text); }), Contains("out.toml") && Contains("by hand") &&
                                                     Contains("load[1].watts") &&
                                                     Contains("battery.health"));
}

}  // namespace
}  // namespace dullspell
