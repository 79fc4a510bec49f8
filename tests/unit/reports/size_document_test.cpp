#include "reports/size_document.hpp"

#include <sstream>

#include <catch2/catch.hpp>

#include "reports/size_tables.hpp"
#include "reports/text_renderer.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/text_width.hpp"

namespace dullspell::size_document_test {

using Catch::Matchers::Contains;
using dullspell::test::one_line;
using dullspell::test::widest_line;

namespace {

struct Found {
  Plan plan = plan_of(R"(arrive = 2027-11-10T15:00:00
accept_risk = 0.2
currency = "EUR"
[[camp]]
place = "crescent-city-ca"
nights = 3
[battery]
capacity_wh = 1200
[[panels]]
rated_w = 300
[[load]]
name = "everything"
watts = 30
[[option]]
name = "two boxes of the usual size on the rear seat"
battery_wh = 6000
weight_kg = 40
price = 2300
[[option]]
name = "one"
battery_wh = 600
)");
  SizeStudy study = study_size(plan, {SizeOf::battery, plan.accept_risk, false}, {400, 1, 1}, true);

  std::string text(TextStyle style, Units units = Units::metric) const {
    std::ostringstream out;
    write_text(out, size_document(plan, study, "program", units), style);
    return out.str();
  }
};

}  // namespace

TEST_CASE("the report of sizes fits every window, with the sizes and their risk in it") {
  const Found found;
  REQUIRE(found.study.answer.least);
  const Proportion& flat = found.study.options[1].flat;
  for (std::size_t width = TextStyle::kLeastWidth; width <= 110; ++width) {
    INFO(width);
    const std::string text = found.text({width, false});
    CHECK(widest_line(text) <= width);
    CHECK_THAT(one_line(text), Contains(least_text(found.study.answer)) &&
                                   Contains(percent(flat) + " " + percent_interval(flat)) &&
                                   Contains("two boxes of the usual size on the rear seat"));
  }
  CHECK_THAT(found.text({80, false}),
             Contains("the plan's") && Contains("the least") && Contains("█"));
}

TEST_CASE("weights are those of the units that people use") {
  const Found found;
  CHECK_THAT(found.text({}), Contains("40 kg") && Contains("EUR"));
  const std::string us = found.text({}, Units::us);
  CHECK_THAT(us, Contains("88.2 lb") && !Contains(" kg"));
  const Data data = size_document(found.plan, found.study, "test", Units::us).results;
  CHECK(data.at("options").at(0).at("weight_kg") == 40.0);
}

TEST_CASE("a range of sizes has one unit, and an open end where so few stays give none") {
  CHECK(size_range(SizeOf::battery, 3321.0, {3297.0, 3351.0}) == "3295–3355 Wh");
  CHECK(size_range(SizeOf::battery, 8757.0, {4263.0, 15'866.0}) == "4–16 kWh");
  CHECK(size_range(SizeOf::panels, 1398.0, {1378.0, 1421.0}) == "1378–1422 W");
  CHECK(size_range(SizeOf::panels, 150.0, {140.0, INFINITY}) == "140 W or more");
}

}  // namespace dullspell::size_document_test
