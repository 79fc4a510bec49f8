#include "engine/kit/wiring.hpp"

#include <catch2/catch.hpp>

#include "engine/kit/panels.hpp"
#include "engine/stay/expected_stay.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/input_text.hpp"

namespace dullspell::wiring_test {
namespace {

using Catch::Matchers::Contains;

std::string van(const std::string& panels, const std::string& battery = "nominal_v = 12.8") {
  return "arrive = 2027-06-15T00:00:00\n[[camp]]\nplace = \"bishop-ca\"\nnights = 1\n"
         "[battery]\ncapacity_wh = 5000\nstart_charge = 0.2\n" +
         battery + "\n[[load]]\nname = \"lamp\"\nwatts = 5\n[[panels]]\nrated_w = 200\n" + panels;
}

// Of an average day.
double panels_wh(const std::string& panels) {
  const PreparedPlan prepared = prepared_of(van(panels));
  const ExpectedStay expected(prepared);
  double sum = 0.0;
  for (std::size_t h = 0; h < prepared.hours.size(); ++h) {
    const auto& segment = prepared.segments[prepared.hours[h].segment];
    sum += expected.at(h, segment.k_mean).panels_w;
  }
  return sum;
}

std::string refusal(const std::string& panels, const std::string& battery = "nominal_v = 12.8") {
  return message_of([&] { plan_of(van(panels, battery)); });
}

TEST_CASE("Copper resists, and takes the square of the current") {
  // 10 m of 4 mm2, 10 A: 0.0875 ohm and 8.75 W, worked by hand from 0.0175 ohm mm2/m.
  const Wiring wiring{18.0, copper_ohm(10.0, 4.0), {}};
  CHECK(wiring.cable_ohm == Approx(0.0875));
  CHECK(180.0 * cable_share(wiring, 180.0) == Approx(8.75));
  CHECK(cable_share(wiring, 90.0) == Approx(0.5 * cable_share(wiring, 180.0)));
}

TEST_CASE("American gauges have the cross-sections of their table") {
  // ASTM B258, nominal areas of solid round wire, mm2; from memory.
  const std::pair<int, double> table[] = {{0, 53.5},   {4, 21.15},  {8, 8.367},
                                          {10, 5.261}, {12, 3.309}, {16, 1.309}};
  for (const auto& [gauge, area_mm2] : table) {
    CAPTURE(gauge);
    CHECK(awg_mm2(gauge) == Approx(area_mm2).epsilon(0.0005));
  }
}

TEST_CASE("A controller that switches gives the battery's voltage times the panels' current") {
  // 13 V over 18 V of 100 W, at 1000 W/m2 and cells of 25 C: 72 %. A module's own line there is 1.
  const Wiring wiring{18.0, 0.0, 13.0};
  const double rise_k = cell_temperature_c(1000.0, 0.0);
  const ModuleLine module = module_line(DullLight::usual, 1000.0);
  const ModuleLine line = through_wiring(wiring, 100.0, 1000.0, module);
  CHECK(line.at_25 - rise_k * line.per_k == Approx(13.0 / 18.0).epsilon(1e-9));
  // Heat costs such a battery next to nothing, as long as the modules' voltage suffices.
  CHECK(std::abs(line.per_k) < 0.15 * std::abs(module.per_k));
  // A module of 13.5 V grows too weak for it in the heat.
  const ModuleLine weak = through_wiring({13.5, 0.0, 13.0}, 100.0, 1000.0, module);
  CHECK(weak.at_25 == module.at_25);
}

TEST_CASE("What a cable takes depends on length, cross-section, voltage and sun") {
  const double plain = panels_wh("");
  CHECK(panels_wh("vmp_v = 20\n") == plain);
  const double thin = panels_wh("vmp_v = 20\ncable_m = 10\ncable_mm2 = 2.5\n");
  const double thick = panels_wh("vmp_v = 20\ncable_m = 10\ncable_mm2 = 10\n");
  const double series = panels_wh("vmp_v = 40\ncable_m = 10\ncable_mm2 = 2.5\n");
  CHECK(thin < thick);
  CHECK(thick < plain);
  // Twice the voltage is a quarter of the loss, and so is four times the copper.
  CHECK(plain - series == Approx(0.25 * (plain - thin)).epsilon(0.01));
  CHECK(plain - thick == Approx(0.25 * (plain - thin)).epsilon(0.01));
  // At full power it would be 200 W 0.14 ohm / (20 V)^2, 7 %; on the average hour less.
  CHECK((plain - thin) / plain < 0.07);
  CHECK((plain - thin) / plain > 0.02);
  // 32.8084 ft of AWG 10 are 10 m of 5.26 mm2.
  CHECK(panels_wh("vmp_v = 20\ncable_ft = 32.808398950131233\ncable_awg = 10\n") ==
        Approx(panels_wh("vmp_v = 20\ncable_m = 10\ncable_mm2 = 5.2612\n")).epsilon(1e-6));
}

TEST_CASE("PWM costs what the voltages are apart") {
  const double plain = panels_wh("");
  const double made_for_it = panels_wh("vmp_v = 18\ntracking = \"pwm\"\n");
  const double of_a_house = panels_wh("vmp_v = 32\ntracking = \"pwm\"\n");
  // 12.8 / 18 and 12.8 / 32 of the current's power; warm cells make the first a little better.
  CHECK(made_for_it / plain == Approx(12.8 / 18.0).margin(0.08));
  CHECK(of_a_house / made_for_it == Approx(18.0 / 32.0).epsilon(0.005));
}

TEST_CASE("Plans say when a cable takes much") {
  CHECK(plan_of(van("vmp_v = 40\ncable_m = 5\ncable_mm2 = 4\n")).notes.empty());
  const Plan plan = plan_of(van("vmp_v = 20\ncable_m = 10\ncable_mm2 = 2.5\n"));
  REQUIRE(plan.notes.size() == 1);
  const auto& note = std::get<plan_note::CableTakesMuch>(plan.notes.front());
  CHECK(note.share == Approx(200.0 * 0.14 / 400.0));
  CHECK(note.current_a == Approx(10.0));
}

TEST_CASE("Wiring that cannot be is refused with its key") {
  CHECK_THAT(refusal("cable_m = 10\n"), Contains("vmp_v besides"));
  CHECK_THAT(refusal("vmp_v = 20\ncable_m = 10\n"), Contains("cable_mm2 or cable_awg"));
  CHECK_THAT(refusal("vmp_v = 20\ncable_awg = 10\n"), Contains("without the cable's length"));
  CHECK_THAT(refusal("vmp_v = 20\ncable_m = 10\ncable_mm2 = 4\ncable_awg = 10\n"),
             Contains("one of the two"));
  CHECK_THAT(refusal("vmp_v = 20\ncable_m = 50\ncable_mm2 = 1.5\n"), Contains("up to 25 %"));
  CHECK_THAT(refusal("tracking = \"pwm\"\n"), Contains("vmp_v besides"));
  CHECK_THAT(refusal("vmp_v = 18\ntracking = \"pwm\"\n", ""), Contains("battery.nominal_v"));
  CHECK_THAT(refusal("vmp_v = 12\ntracking = \"pwm\"\n"), Contains("more than the battery's"));
  CHECK_THAT(refusal("vmp_v = 18\ntracking = \"pmw\"\n"), Contains("Did you mean"));
}

}  // namespace
}  // namespace dullspell::wiring_test
