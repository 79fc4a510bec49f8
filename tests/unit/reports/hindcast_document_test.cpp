#include "reports/hindcast_document.hpp"

#include <sstream>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "engine/plan/plan_file.hpp"
#include "engine/study/prepare.hpp"
#include "reports/hindcast_tables.hpp"
#include "reports/hindcast_verdict.hpp"
#include "reports/json_renderer.hpp"
#include "reports/number_text.hpp"
#include "reports/text_renderer.hpp"
#include "tests/support/any_width.hpp"

using namespace dullspell;
using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::VectorContains;

namespace {

// A lamp on a battery of two days, panels by the way: flat where the sun stays away for long.
Plan lamp_plan(const std::string& more = "") {
  return parse_plan({"plan.toml", R"(
arrive = 2027-06-10T12:00:00
[[camp]]
nights = 4
[camp.place]
name = "Test Camp"
latitude = 45
longitude = -110
utc_offset_h = -7
k_mean = 0.55
[battery]
capacity_wh = 500
[[panels]]
rated_w = 120
[[load]]
name = "lamp"
watts = 10
)" + more});
}

// Ten years of the same clear sky, but for June of the last three.
WeatherRecord record_with_dull_years(const Coordinates& where) {
  WeatherRecord record;
  record.name = "Test Field";
  record.where = Coordinates{where.latitude_deg + 0.5, where.longitude_deg};
  record.findings.push_back({"days with a clearness above 1: left out", 2, 17});
  for (Date date = make_date(2001, 1, 1); date < make_date(2011, 1, 1);
       date += std::chrono::days{1}) {
    const bool dull = date >= make_date(2008, 1, 1) && month_index(date) == 5;
    RecordedDay day{};
    day.date = date;
    day.ghi_kwh_m2 =
        (dull ? 0.03 : 0.70) * extraterrestrial_of_date_wh_m2(date, *record.where) / 1000.0;
    day.temp_max_c = 22.0;
    day.temp_min_c = 10.0;
    record.days.push_back(day);
  }
  return record;
}

struct Reported {
  Plan plan;
  PreparedPlan prepared;
  WeatherRecord record;
  HindcastResult past;
  StudyResult predicted;

  explicit Reported(const std::string& more = "")
      : plan(lamp_plan(more)),
        prepared(prepare(plan)),
        record(record_with_dull_years(plan.camps[0].where)),
        past(run_hindcast(prepared, PastWeather(record, *record.where), {2, 1, 1, {}})),
        predicted(run_study(prepared, StudyOptions{500, 1, 1, {}})) {}

  std::string text() const {
    std::ostringstream out;
    const PastReport report{record, past};
    write_text(out, hindcast_document({plan, prepared, report, predicted}, "program"));
    return out.str();
  }

  // Line ends and indents as single blanks, for sentences that are broken over lines.
  std::string prose() const {
    std::istringstream words(text());
    std::string out;
    for (std::string word; words >> word;) out += (out.empty() ? "" : " ") + word;
    return out;
  }
};

}  // namespace

TEST_CASE("a hindcast says what happened, the worst years and what the model says") {
  const Reported r;
  REQUIRE(r.past.flat.periods == 50);
  REQUIRE(r.past.flat.count == 15);
  const std::string prose = r.prose(), text = r.text();
  CHECK_THAT(prose, Contains("In past years this stay would have run flat in 30 % of cases ("));
  CHECK_THAT(
      prose,
      Contains("In the record (Test Field, 2001–2010) the battery ran flat in 15 of 50 periods"));
  CHECK_THAT(prose, Contains("begun up to 2 days before or after the plan's date"));
  CHECK_THAT(prose, Contains("; the model says"));
  CHECK_THAT(text, Contains("  2008             5     of 5  100 %  "));
  CHECK_THAT(text, Contains("In 7 of 10 years the battery never ran flat."));
  CHECK_THAT(prose, Contains("measured 56 km from the first camp"));
  CHECK_THAT(prose, Contains("2 days with a clearness above 1: left out (first in line 17)"));
  CHECK_THAT(prose, Contains("Cautions - Lithium cells"));
  CHECK_THAT(text, !Contains("Generator along"));
}

TEST_CASE("a hindcast fits any window") {
  const Reported r(
      "[generator]\nrated_w = 500\ncharger_w = 300\nallowed = [[\"08:00\", \"20:00\"]]\n");
  const PastReport past{r.record, r.past};
  check_any_width(
      [&](std::ostream& out, TextStyle style) {
        write_text(out, hindcast_document({r.plan, r.prepared, past, r.predicted}, "program"),
                   style);
      },
      {"30 %  " + percent_interval(r.past.flat.interval), "\n  2008  ", "flat even so"});
}

TEST_CASE("a hindcast's distances are in the reader's units") {
  const Reported r;
  const PastReport past{r.record, r.past};
  const auto notes = [&](Units units) {
    return hindcast_notes({r.plan, r.prepared, past, r.predicted, units});
  };
  CHECK_THAT(notes(Units::metric),
             VectorContains(std::string("The record was measured 56 km from the first camp.")));
  CHECK_THAT(notes(Units::us),
             VectorContains(std::string("The record was measured 35 mi from the first camp.")));
}

TEST_CASE("a hindcast's verdict is coloured by past years, a typical year's not at all") {
  Reported r;
  const PastReport past{r.record, r.past};
  const auto tone = [&] { return hindcast_tone({r.plan, r.prepared, past, r.predicted}); };
  r.past.flat.interval = {0.2, 0.5};
  CHECK(tone() == Tone::fails);
  r.past.flat.interval = {0.05, 0.5};
  CHECK(tone() == Tone::close);
  r.past.flat.interval = {0.0, 0.05};
  CHECK(tone() == Tone::holds);
  r.record.typical_year = true;
  CHECK(tone() == Tone::plain);
}

TEST_CASE("the worst years are those with most flat periods") {
  HindcastResult past;
  past.years = {{2001, 10, 2, 0, 5.0, 1},
                {2002, 10, 0, 0, 0.0, {}},
                {2003, 5, 2, 0, 1.0, 2},
                {2004, 10, 2, 0, 9.0, 1}};
  const auto worst = worst_years(past, 2);
  REQUIRE(worst.size() == 2);
  CHECK(worst[0].year == 2003);
  CHECK(worst[1].year == 2004);
  CHECK(worst_years(past, 9).size() == 3);
}

TEST_CASE("a hindcast with a generator tells of its hours in past years and by the model") {
  const Reported r(
      "[generator]\nrated_w = 500\ncharger_w = 300\nallowed = [[\"08:00\", "
      "\"20:00\"]]\n");
  const std::string text = r.prose();
  CHECK_THAT(text,
             Contains("In past years this stay without the generator would have run flat in 30 %"));
  CHECK_THAT(text, Contains("Generator along"));
  CHECK_THAT(text, Contains("hours it runs, 1 in 10"));
}

TEST_CASE("the JSON of a hindcast has its parts, with intervals") {
  const Reported r;
  std::ostringstream out;
  const PastReport past{r.record, r.past};
  write_json(out, hindcast_document({r.plan, r.prepared, past, r.predicted}, "dullspell test"));
  const auto json = nlohmann::json::parse(out.str());
  CHECK(json["format"] == "dullspell.hindcast/1");
  CHECK(json["past_years"]["flat"]["p"] == 0.3);
  CHECK(json["past_years"]["flat"]["low"] < 0.3);
  CHECK(json["past_years"]["flat"]["high"] > 0.3);
  CHECK(json["past_years"]["years"].size() == 10);
  CHECK(json["past_years"]["years"][9]["flat"] == 5);
  CHECK(json["past_years"]["years"][0]["first_flat_day"].is_null());
  CHECK(json["past_years"]["flat_along"].is_null());
  CHECK(json["past_years"]["days"].size() == 5);
  CHECK(json["model"]["flat"]["climate_low"].is_number());
  CHECK(json["model"]["flat_along"].is_null());
}

TEST_CASE("a record and a model that cannot both be right are told apart") {
  Reported r;
  r.predicted.home.flat_climate = Interval{0.80, 0.95};
  CHECK_THAT(r.prose(), Contains("past years were kinder than the model says"));
  r.predicted.home.flat_climate = Interval{0.0, 0.01};
  CHECK_THAT(r.prose(), Contains("past years were harsher than the model says"));
  r.predicted.home.flat_climate = Interval{0.1, 0.5};
  CHECK_THAT(r.prose(), Contains("The two agree within what either can tell."));
}

TEST_CASE("a typical year is no past year, and says so") {
  Reported r;
  r.record.typical_year = true;
  CHECK_THAT(r.prose(), Contains("The record is a typical year"));
}
