#include <catch2/catch.hpp>

#include <algorithm>

#include <fmt/format.h>

#include "engine/decisions/place_survey.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/study/budget.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/study.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;
using Catch::Matchers::Contains;

namespace {

const std::string kKit =
    "[battery]\ncapacity_wh = 500\n[[panels]]\nrated_w = 150\nmount = { tilt_deg = 40, azimuth_deg "
    "= 170 }\n[[load]]\nname = \"lamp\"\nwatts = 26\nhours_per_day = 20\nvaries = 0.2\n";

const std::string kGenerator =
    "[generator]\nrated_w = 900\ncharger_w = 300\nallowed = [[\"08:00\", \"10:00\"]]\n";

std::string plan_text(const std::string& first, const std::string& second) {
  return fmt::format(
      "arrive = 2027-04-10T15:00:00\n[[camp]]\nplace = \"{}\"\nnights = 2\ncanopy = 0.2\n[[camp]]\n"
      "place = \"{}\"\nnights = 2\ndrive_in_h = 1.0\n[vehicle]\ncharge_w = 100\n",
      first, second);
}

std::vector<const PlaceSummary*> built_in(const std::vector<std::string>& ids) {
  std::vector<const PlaceSummary*> out;
  for (const auto& id : ids) {
    out.push_back(PlaceCatalogue::built_in().find(id));
    REQUIRE(out.back());
  }
  return out;
}

PlaceSurvey survey(const std::string& toml, const std::vector<std::string>& ids,
                   const OutcomeOptions& options, std::size_t detailed = 2) {
  return survey_places(plan_of(toml), sites_of(PlaceCatalogue::built_in()), built_in(ids), options, detailed);
}

const std::vector<std::string> kSome{"crescent-city-ca", "tucson-az", "moab-ut", "graz-at",
                                     "miami-fl"};

}  // namespace

TEST_CASE("every place is the study of a plan whose camps all lie there") {
  const std::string tail = kKit + kGenerator;
  const PlaceSurvey found =
      survey(plan_text("reno-nv", "crescent-city-ca") + tail, kSome, {1'600, 5, 2}, 2);
  REQUIRE(found.ranked.size() == kSome.size());
  CHECK(found.left_out.empty());
  for (std::size_t i = 0; i < found.ranked.size(); ++i) {
    const SurveyedPlace& place = found.ranked[i];
    INFO(place.place->id);
    const PreparedPlan by_hand =
        prepare(plan_of(plan_text(place.place->id, place.place->id) + tail));
    StudyOptions alone;
    alone.stays = 1'600;
    alone.seed = 5;
    const StudyResult study = run_study(by_hand, alone);
    CHECK(place.risk.flat.count == study.home.flat.count);
    CHECK(place.risk.generator->flat.count == study.generator->risk.flat.count);
    CHECK(place.risk.generator->hours_mean == study.generator->hours.mean);
    const Budget budget = expected_budget(by_hand);
    CHECK(place.comes_in ==
          (budget.panels_wh_per_day + budget.vehicle_wh_per_day) / budget.draw_wh_per_day);
    REQUIRE(place.risk.flat_climate.has_value() == (i < 2));
    if (i < 2) CHECK(place.risk.flat_climate->high == study.home.flat_climate->high);
  }
}

TEST_CASE("places are ranked by risk and then by what comes in") {
  const PlaceSurvey found = survey(plan_text("reno-nv", "reno-nv") + kKit, kSome, {1'600, 1, 1});
  REQUIRE(found.ranked.size() == kSome.size());
  CHECK(found.ranked.front().risk.flat.count < found.ranked.back().risk.flat.count);
  for (std::size_t i = 1; i < found.ranked.size(); ++i) {
    const auto &a = found.ranked[i - 1], &b = found.ranked[i];
    CHECK(a.risk.flat.count <= b.risk.flat.count);
    if (a.risk.flat.count == b.risk.flat.count) CHECK(a.comes_in >= b.comes_in);
  }
  // A battery that never empties leaves only what comes in.
  const PlaceSurvey easy =
      survey(plan_text("reno-nv", "reno-nv") +
                 "[battery]\ncapacity_wh = 50000\n[[panels]]\nrated_w = 150\n[[load]]\nname = "
                 "\"lamp\"\nwatts = 26\n",
             kSome, {500, 1, 1});
  for (std::size_t i = 1; i < easy.ranked.size(); ++i) {
    CHECK(easy.ranked[i].risk.flat.count == 0);
    CHECK(easy.ranked[i - 1].comes_in >= easy.ranked[i].comes_in);
  }
}

TEST_CASE("a place without temperatures gets those known around it, which the kit may need") {
  const auto& all = PlaceCatalogue::built_in().places();
  const auto bare =
      std::find_if(all.begin(), all.end(), [](const auto& p) { return !p.has_temperatures; });
  REQUIRE(bare != all.end());
  const std::string plan = plan_text("reno-nv", "reno-nv") + kKit;
  const PlaceSurvey cold =
      survey(plan + "[fridge]\nrunning_w = 40\n", {"moab-ut", bare->id}, {200, 1, 1});
  CHECK(cold.ranked.size() == 2);
  CHECK(cold.left_out.empty());
}

TEST_CASE("a place whose months cannot be read does not end the survey") {
  std::string months =
      "id,month,k_mean,k_sd,temp_mean_c,k_persistence,k_year_share,temp_range_c,"
      "temp_sd_c,temp_persistence,temp_k_correlation,range_k_slope\n";
  for (int m = 1; m <= 12; ++m)
    months += fmt::format("good,{},0.5,0.2,10,0.3,0,11,3,0.6,0,12\n", m);
  months += "bad,1,0.5,0.2,10,0.3,0,11,3,0.6,0,12\n";
  const PlaceCatalogue catalogue({"sites.tsv",
                                  "id\tsource_id\tname\tstate\tlatitude\tlongitude\televation_"
                                  "m\tutc_offset_h\trecord\tsource\n"
                                  "bad\t1\tBad\t\t40\t-110\t100\t-7\tmeasured\tmade up\n"
                                  "good\t2\tGood\t\t41\t-110\t2500\t-7\tmeasured\tmade up\n"},
                                 {"months.csv", months});
  const PlaceSurvey found =
      survey_places(plan_of(plan_text("reno-nv", "reno-nv") + kKit), sites_of(catalogue),
                    {&catalogue.places()[0], &catalogue.places()[1]}, {200, 1, 2}, 5);
  REQUIRE(found.ranked.size() == 1);
  CHECK(found.ranked[0].place->id == "good");
  REQUIRE(found.left_out.size() == 1);
  CHECK_THAT(found.left_out[0].why, Contains("1 months of `bad`"));
}

TEST_CASE("a fault of ours is no reason to leave a place out") {
  Plan plan = plan_of(plan_text("reno-nv", "reno-nv") + kKit);
  const ForecastDay twice{1, SkyWord::clear};
  plan.forecast = {twice, twice};  // which the reader of plans refuses
  CHECK_THROWS_AS(survey_places(plan, sites_of(PlaceCatalogue::built_in()), built_in(kSome), {200, 1, 2}, 2),
                  std::invalid_argument);
}

TEST_CASE("beyond the equator panels face the other way") {
  const Plan plan = plan_of(plan_text("reno-nv", "reno-nv") + kKit);
  const auto azimuth = [](const Plan& of) {
    return std::get<PlaneDirection>(of.panels[0].mount).azimuth_deg;
  };
  CHECK(azimuth(mirrored_panels(plan)) == Approx(10.0));
  CHECK(azimuth(mirrored_panels(mirrored_panels(plan))) == Approx(170.0));

  const auto& all = PlaceCatalogue::built_in().places();
  const auto southern = std::find_if(all.begin(), all.end(), [](const auto& p) {
    return p.where.latitude_deg < -30.0 && p.has_temperatures;
  });
  REQUIRE(southern != all.end());
  const OutcomeOptions options{800, 1, 1};
  const PlaceSurvey found =
      survey(plan_text("reno-nv", "reno-nv") + kKit, {southern->id, "moab-ut"}, options);
  const auto there = std::find_if(found.ranked.begin(), found.ranked.end(),
                                  [&](const auto& p) { return p.place->id == southern->id; });
  std::string turned = kKit;
  turned.replace(turned.find("170"), 3, "10");
  const std::string moved = plan_text(southern->id, southern->id);
  CHECK(there->risk.flat.count ==
        run_outcomes(prepare(plan_of(moved + turned)), options).count_home());
  // Facing away from the sun they would give less.
  CHECK(there->comes_in > expected_budget(prepare(plan_of(moved + kKit))).panels_wh_per_day /
                              expected_budget(prepare(plan_of(moved + kKit))).draw_wh_per_day);
  // A plan from the south stays as it is there and turns in the north.
  const PlaceSurvey home = survey(moved + turned, {southern->id, "moab-ut"}, options);
  for (const SurveyedPlace& place : home.ranked) {
    const auto same = std::find_if(found.ranked.begin(), found.ranked.end(),
                                   [&](const auto& p) { return p.place == place.place; });
    CHECK(place.risk.flat.count == same->risk.flat.count);
  }
}

TEST_CASE("a survey of places is the same for any number of threads and instruction set") {
  const std::string toml = plan_text("reno-nv", "reno-nv") + kKit;
  const auto figures = [&](int threads, InstructionSet set) {
    std::vector<std::pair<std::string, double>> out;
    for (const auto& p : survey(toml, kSome, {700, 1, threads, set}, 3).ranked) {
      out.emplace_back(p.place->id,
                       p.risk.flat_climate ? p.risk.flat_climate->high : p.risk.flat.p);
    }
    return out;
  };
  const auto first = figures(1, best_instruction_set());
  CHECK(figures(3, best_instruction_set()) == first);
  CHECK(figures(2, InstructionSet::baseline) == first);
}
