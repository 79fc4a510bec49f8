#include "reports/comparison_document.hpp"

#include <sstream>

#include <catch2/catch.hpp>

#include "reports/comparison_tables.hpp"
#include "reports/comparison_verdict.hpp"
#include "reports/text_renderer.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/text_width.hpp"

using namespace dullspell;
using Catch::Matchers::Contains;
using dullspell::test::one_line;
using dullspell::test::widest_line;

namespace {

Plan plan_with(const std::string& battery_wh, const std::string& more = "") {
  return plan_of(R"(arrive = 2027-11-10T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 3
[[panels]]
rated_w = 300
[[load]]
name = "everything"
watts = 30
[battery]
capacity_wh = )" +
                 battery_wh + "\n" + more);
}

const std::string kGenerator = R"gen([generator]
rated_w = 1000
charger_w = 500
fuel_l_per_h_idle = 0.1
fuel_l_per_kwh = 0.35
allowed = [["17:00", "20:00"]]
)gen";

std::vector<ComparedPlan> compared(std::vector<Plan> plans) {
  StudyOptions options;
  options.stays = 400;
  options.threads = 1;
  return compare_plans(std::move(plans), options);
}

std::string text_of(const std::vector<ComparedPlan>& plans, TextStyle style,
                    Units units = Units::metric) {
  std::ostringstream out;
  write_text(out, comparison_document(plans, "program", units), style);
  return out.str();
}

}  // namespace

TEST_CASE("the report of a comparison fits every window, with each plan's risk in it") {
  const auto plans = compared({plan_with("1200", kGenerator), plan_with("2000"), plan_with("600")});
  const Proportion& flat = plans[2].result.home.flat;
  for (std::size_t width = TextStyle::kLeastWidth; width <= 110; ++width) {
    INFO(width);
    const std::string text = text_of(plans, {width, false});
    CHECK(widest_line(text) <= width);
    CHECK_THAT(one_line(text), Contains("C " + percent(flat) + " " + percent_interval(flat)));
  }
}

TEST_CASE("differences have a row for each plan but the first, in each view that there is") {
  const auto plans = compared({plan_with("1200"), plan_with("2000"), plan_with("1200")});
  const Table home = differences_table(plans);
  CHECK(home.columns.size() == 5);
  REQUIRE(home.rows.size() == 2);
  CHECK(home.rows[0].cells.front() == "B");
  CHECK(home.rows[0].cells.back() == "safer");
  CHECK(home.rows[1].cells[1] == "0");
  CHECK(home.rows[1].cells.back() == "no clear difference");

  const auto along = compared({plan_with("600", kGenerator), plan_with("600")});
  const Table both = differences_table(along);
  REQUIRE(both.columns.size() == 9);
  CHECK(both.rows[0].cells[1] == "0");
  CHECK(both.rows[0].cells[4] == "no clear difference");
  CHECK(both.rows[0].cells[8] == "riskier");
}

TEST_CASE("fuel is measured in the units that people use") {
  const auto plans = compared({plan_with("600", kGenerator), plan_with("600")});
  CHECK_THAT(text_of(plans, {}), Contains("L typical"));
  CHECK_THAT(text_of(plans, {}, Units::us), Contains("gal typical") && !Contains("L typical"));
  const double litres = plans[0].result.generator->fuel_l.p50;
  CHECK(generators_table(plans, Units::us).rows[0].cells[3] ==
        fuel_number(litres, Fuel::gasoline, Units::us));
}
