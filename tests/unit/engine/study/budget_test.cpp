#include <algorithm>
#include <string>

#include <catch2/catch.hpp>

#include "engine/study/budget.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/study.hpp"
#include "tests/support/batch_mean.hpp"
#include "tests/support/engine_plan.hpp"

namespace dullspell::budget_test {

namespace {

// A place whose days differ in clearness alone: no spread of temperature, one range.
const std::string kPlace = R"(
latitude = 44
longitude = -112
utc_offset_h = -7
k_mean = [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]
temp_mean_c = [4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4]
temp_sd_c = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]
)";

std::string plan_text(const std::string& tables) {
  return "arrive = 2027-10-10T12:00:00\nleave = \"12:00\"\n[[camp]]\nnights = 3\n[camp.place]" +
         kPlace + tables;
}

const std::string kEverything = R"(
[battery]
capacity_wh = 2000
[inverter]
rated_w = 1000
standby_w = 10
on = [["06:30", "22:00"]]
[converter]
efficiency = 0.8
standby_w = 4
[[panels]]
rated_w = 200
controller_limit_w = 120
[[load]]
name = "always"
watts = 15
[[load]]
name = "desk"
side = "ac"
watts = 60
hours_per_day = 3
between = ["08:00", "20:00"]
dull_day_factor = 1.6
[[load]]
name = "trailer"
side = "dc-via-ac"
watts = 16
between = ["07:00", "21:00"]
[fridge]
running_w = 45
side = "ac"
[furnace]
blower_w = 30
output_w = 4000
heat_loss_w_per_k = 80
hold_c = [{ from = "21:00", to = "08:00", c = 15 }]
)";

double line(const Budget& budget, const std::string& name) {
  for (const BudgetLine& l : budget.lines) {
    if (l.name == name) return l.wh_per_day;
  }
  return 0.0;
}

}  // namespace

TEST_CASE("a budget's lines add up, the largest first") {
  const Budget budget = expected_budget(prepared_of(plan_text(kEverything)));
  double sum = 0.0, last = 1e9;
  for (const BudgetLine& l : budget.lines) {
    CHECK(l.wh_per_day > 0.0);
    CHECK(l.wh_per_day <= last);
    last = l.wh_per_day;
    sum += l.wh_per_day;
  }
  CHECK(sum == Approx(budget.draw_wh_per_day));
}

TEST_CASE("a simple budget by hand") {
  const Budget budget = expected_budget(prepared_of(plan_text(R"(
[battery]
capacity_wh = 1000
charge_efficiency = 0.95
discharge_efficiency = 0.9
[inverter]
rated_w = 500
standby_w = 8
efficiency_at = [[0.2, 0.80], [1.0, 0.78]]
[[load]]
name = "dc"
watts = 10
[[load]]
name = "ac"
side = "ac"
watts = 100
hours_per_day = 2
between = ["10:00", "12:00"]
)")));
  CHECK(line(budget, "dc") == Approx(240.0));
  CHECK(line(budget, "ac") == Approx(200.0));
  CHECK(line(budget, "inverter standby") == Approx(192.0));
  // 100 W at an efficiency of 0.8 lose 25 W, of which 8 are standby.
  CHECK(line(budget, "inverter conversion") == Approx(2.0 * 17.0));
  const double terminals = 240.0 + 200.0 + 192.0 + 34.0;
  CHECK(line(budget, "battery losses") == Approx(terminals * (1.0 / (0.95 * 0.9) - 1.0)));
  CHECK(budget.usable_wh == Approx(900.0));
  CHECK(budget.days_of_autonomy == Approx(900.0 / terminals));
  CHECK(budget.panels_wh_per_day == 0.0);
}

TEST_CASE("what the battery's side gives is all in the lines, converters' standby included") {
  const PreparedPlan plan = prepared_of(plan_text(kEverything));
  const Budget budget = expected_budget(plan);
  const std::size_t hours = plan.hours.size();
  const ExpectedStay stay(plan);
  double draw_wh = 0.0;
  constexpr int kSkies = 40;
  for (std::size_t h = 0; h < hours; ++h) {
    const auto& segment = plan.segments[plan.hours[h].segment];
    for (int i = 0; i < kSkies; ++i) {
      const double k = segment.k_of_chi(standard_normal_quantile((i + 0.5) / kSkies));
      draw_wh += stay.at(h, k).draw_w / kSkies;
    }
  }
  CHECK(budget.draw_wh_per_day - line(budget, "battery losses") ==
        Approx(24.0 * draw_wh / static_cast<double>(hours)).epsilon(1e-6));
}

TEST_CASE("a budget is the mean of many drawn stays where only the sky varies") {
  PreparedPlan plan = prepared_of(plan_text(kEverything));
  plan.battery.capacity_wh = 1e6;  // never flat, so that every load is served
  plan.battery.discharge_limit_w = 1e6;
  const Budget budget = expected_budget(plan);
  const DrawnSky sky(plan, 8);
  StayRunner runner(plan, sky, 8);
  HourRecorder recorder;
  BatchMean panels, served, dc, losses;
  const double days = static_cast<double>(plan.hours.size()) / 24.0;
  for (std::uint32_t stay = 0; stay < 2000; ++stay) {
    recorder.clear();
    const StayTrace& trace = runner.run(stay, &recorder);
    double inverted_wh = 0.0, dc_wh = 0.0, loss_wh = 0.0;
    for (const auto& hour : recorder.home()) {
      inverted_wh += hour.flow.served_inverted_wh;
      dc_wh += hour.flow.served_dc_wh;
      loss_wh += hour.flow.inverter_loss_wh;
    }
    panels(trace.panels_wh / days);
    served(inverted_wh / days);
    dc(dc_wh / days);
    losses(loss_wh / days);
  }
  // Forty equally likely skies stand for all; what they leave out is less than a standard error.
  CHECK_THAT(panels, WithinErrors(budget.panels_wh_per_day, 4.0));
  CHECK_THAT(
      losses,
      WithinErrors(line(budget, "inverter standby") + line(budget, "inverter conversion"), 4.0));
  CHECK_THAT(dc, WithinErrors(line(budget, "always") + line(budget, "furnace blower"), 4.0));
  const double standby_of_converter = 4.0 * 15.5;
  CHECK_THAT(served, WithinErrors(line(budget, "desk") + line(budget, "trailer") / 0.8 +
                                      line(budget, "fridge") + standby_of_converter,
                                  4.0));
}

TEST_CASE("a dull day brings less than the mean, a clear one more") {
  const Budget budget = expected_budget(prepared_of(plan_text(kEverything)));
  CHECK(budget.panels_dull_wh_per_day < 0.6 * budget.panels_wh_per_day);
  CHECK(budget.panels_clear_wh_per_day > 1.1 * budget.panels_wh_per_day);
}

TEST_CASE("a vehicle's charge while driving is part of the budget") {
  const Budget budget = expected_budget(prepared_of(R"(
arrive = 2027-10-10T12:00:00
leave = "12:00"
[[camp]]
place = "bishop-ca"
nights = 1
[[camp]]
place = "phoenix-az"
nights = 1
drive_in_h = 3
[vehicle]
charge_w = 200
[battery]
capacity_wh = 1000
[[load]]
name = "lamp"
watts = 5
)"));
  CHECK(budget.vehicle_wh_per_day == Approx(300.0));
}

TEST_CASE("what shade takes is the difference to the same camp in the open") {
  const auto budget_under = [](const std::string& canopy) {
    const Plan plan =
        plan_of("arrive = 2027-06-10T12:00:00\nleave = \"12:00\"\n[[camp]]\nnights = 3\n" + canopy +
                "[camp.place]" + kPlace +
                "[battery]\ncapacity_wh = 2000\n[[panels]]\nrated_w = 600\n[[load]]\nname = "
                "\"lamp\"\nwatts = 5\n");
    return budget_with_shade(plan, prepare(plan));
  };
  const Budget open = budget_under(""), trees = budget_under("canopy = 0.5\n");
  CHECK(open.shade_wh_per_day == 0.0);
  CHECK(trees.shade_wh_per_day > 0.3 * open.panels_wh_per_day);
  CHECK(trees.shade_wh_per_day + trees.panels_wh_per_day == Approx(open.panels_wh_per_day));
}

TEST_CASE("the camps' balances make up the stay's") {
  const Plan plan = plan_of(
      "arrive = 2027-10-10T15:00:00\nleave = \"11:00\"\n[[camp]]\nplace = \"crescent-city-ca\"\n"
      "nights = 2\ncanopy = 0.6\n[[camp]]\nplace = \"bishop-ca\"\nnights = 3\ndrive_in_h = 4\n"
      "[vehicle]\ncharge_w = 200\n" +
      kEverything);
  const Budget budget = expected_budget(prepare(plan));
  REQUIRE(budget.camps.size() == 2);
  double days = 0.0, draw = 0.0, panels = 0.0, vehicle = 0.0;
  for (const CampBalance& camp : budget.camps) {
    days += camp.days;
    draw += camp.days * camp.draw_wh_per_day;
    panels += camp.days * camp.panels_wh_per_day;
    vehicle += camp.days * camp.vehicle_wh_per_day;
  }
  CHECK(days == Approx(5.0 - 4.0 / 24.0));
  CHECK(draw / days == Approx(budget.draw_wh_per_day));
  CHECK(panels / days == Approx(budget.panels_wh_per_day));
  CHECK(vehicle / days == Approx(budget.vehicle_wh_per_day));
  CHECK(budget.camps[0].camp == 0);
  CHECK(budget.camps[0].vehicle_wh_per_day == 0.0);
  CHECK(budget.camps[1].panels_wh_per_day > 2.0 * budget.camps[0].panels_wh_per_day);
}

}  // namespace dullspell::budget_test
