#include <algorithm>
#include <cmath>
#include <map>
#include <random>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "engine/guesses/posterior.hpp"
#include "tests/support/engine_plan.hpp"
#include "weather/input/input_error.hpp"

namespace dullspell::posterior_test {

namespace {

// A small kit in a forest; `more` are its readings.
Plan van(const std::string& more = "", const std::vector<std::string>& settings = {}) {
  return plan_of(R"(
arrive = 2027-06-11T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 4
canopy = 0.5
[battery]
capacity_wh = 1200
[inverter]
rated_w = 600
standby_w = 10
[[panels]]
rated_w = 300
[[load]]
name = "router"
watts = 12
[[load]]
name = "lights"
watts = 20
between = ["19:00", "23:00"]
[fridge]
running_w = 45
)" + more,
                 settings);
}

// Seven glances at the display of a kit: night, standby, fridge, sun open and shaded, a day's
// energy, a full discharge.
const char* kGlances = R"(
[[reading]]
charge_from = 0.9
charge_to = 0.6
from = 2027-06-01T21:00:00
to = 2027-06-02T05:00:00
[[reading]]
draw_w = 15
at = 2027-06-01T22:00:00
on = []
counts = "battery"
[[reading]]
used_wh = 900
from = 2027-06-02T06:00:00
to = 2027-06-03T06:00:00
off = ["lights"]
[[reading]]
panels_w = 150
at = 2027-06-02T13:00:00
camp = "open"
sky = "clear"
[[reading]]
panels_w = 60
at = 2027-06-02T13:00:00
sky = "clear"
[[reading]]
from_panels_wh = 500
from = 2027-06-03T05:00:00
to = 2027-06-03T21:00:00
sky = "mixed"
[[reading]]
delivered_wh = 1100
at_w = 60
)";

double rounded(ReadingKind kind, double shown) {
  switch (kind) {
    case ReadingKind::charge:
      return std::round(100.0 * shown) / 100.0;
    case ReadingKind::panels_w:
    case ReadingKind::draw_w:
      return std::round(shown);
    default:
      return 10.0 * std::round(shown / 10.0);
  }
}

// What the display of the true kit shows, its errors and its skies drawn.
void read_display(Plan& plan, const Plan& truth, std::mt19937_64& random) {
  std::normal_distribution<double> normal;
  std::vector<std::pair<ReadingSky, double>> skies;
  for (Reading& reading : plan.readings) {
    const ReadingModel model(plan, reading);
    std::vector<double> deviates;
    for (const ReadingSky& sky : model.skies()) {
      const auto known =
          std::find_if(skies.begin(), skies.end(), [&](const auto& s) { return s.first == sky; });
      if (known == skies.end()) {
        skies.emplace_back(sky, normal(random));
        deviates.push_back(skies.back().second);
      } else {
        deviates.push_back(known->second);
      }
    }
    const double shown = model.shown(truth, deviates) + model.error() * normal(random);
    reading.shown = std::max(0.0, rounded(reading.kind, shown));
    if (reading.kind == ReadingKind::charge) reading.shown = std::min(1.0, reading.shown);
  }
}

double between(std::mt19937_64& random, double low, double high) {
  return std::uniform_real_distribution<double>(low, high)(random);
}

// Sizes, place, shade and doubts of one kit.
std::vector<std::string> kit_of_its_own(std::mt19937_64& random) {
  const auto set = [&](const char* key, double low, double high) {
    return fmt::format("{}={:.3f}", key, between(random, low, high));
  };
  const double capacity_wh = between(random, 400.0, 4000.0);
  // Half of all new batteries would be as new, and no normal interval says so: one that is not.
  return {fmt::format("battery.capacity_wh={:.0f}", capacity_wh),
          fmt::format("reading[7].delivered_wh={:.0f}", 0.8 * capacity_wh),
          set("battery.health", 0.78, 0.86),
          fmt::format("camp[1].place={{latitude = {:.2f}, longitude = {:.2f}}}",
                      between(random, 30.0, 48.0), between(random, -122.0, -80.0)),
          set("camp[1].canopy", 0.3, 0.65),
          set("panels[1].rated_w", 100.0, 800.0),
          set("load[1].watts", 4.0, 60.0),
          set("load[2].watts", 5.0, 60.0),
          set("fridge.running_w", 25.0, 120.0),
          set("inverter.standby_w", 4.0, 25.0),
          set("guesses.standby", 0.1, 0.4),
          set("guesses.loads", 0.1, 0.4),
          set("guesses.harvest", 0.05, 0.2)};
}

std::size_t guess_named(const Posterior& posterior, const std::string& name) {
  const auto found = std::find_if(posterior.guesses.begin(), posterior.guesses.end(),
                                  [&](const Guess& g) { return g.name == name; });
  REQUIRE(found != posterior.guesses.end());
  return static_cast<std::size_t>(found - posterior.guesses.begin());
}

}  // namespace

TEST_CASE("posterior intervals hold the truth of many kits as often as they say", "[long]") {
  std::mt19937_64 random(20270611);
  std::normal_distribution<double> normal;
  int inside = 0, all = 0;
  constexpr int kKits = 120;
  std::map<std::string, double> bias;
  for (int kit = 0; kit < kKits; ++kit) {
    Plan plan = listed_plan(van(kGlances, kit_of_its_own(random)));
    std::erase_if(plan.readings, [&](const Reading&) { return between(random, 0.0, 1.0) < 0.2; });
    const std::vector<Guess> guesses = guesses_of(plan);
    std::vector<double> truth;
    for (std::size_t i = 0; i < guesses.size(); ++i) truth.push_back(normal(random));
    Plan read = plan;
    read_display(read, off_by(plan, guesses, truth), random);
    const Posterior posterior = posterior_of(read);
    CHECK(posterior.converged);
    for (std::size_t i = 0; i < guesses.size(); ++i) {
      const double off = (posterior.mean[i] - truth[i]) / posterior.left(i);
      inside += std::abs(off) < 1.645;
      ++all;
      bias[guesses[i].name] += off / kKits;
    }
  }
  // 840 intervals, those of a kit not independent: a standard error of some 0.015.
  CHECK(static_cast<double>(inside) / all == Approx(0.90).margin(0.03));
  CHECK(bias.size() == 7);
  for (const auto& [guess, off] : bias) {
    CAPTURE(guess);
    CHECK(std::abs(off) < 0.2 * 2.0 * 1.645);  // a fifth of the interval
  }
}

TEST_CASE("two guesses come out as on a grid of all their values") {
  // Only standby and the inverter are guesses.
  const Plan plan = listed_plan(van(R"(
[guesses]
loads = 0
fridge = 0
harvest = 0
canopy = 0
health = 0
[[reading]]
draw_w = 31
at = 2027-06-01T22:00:00
on = []
counts = "battery"
[[reading]]
draw_w = 13
at = 2027-06-02T02:00:00
on = []
)"));
  const Posterior posterior = posterior_of(plan);
  REQUIRE(posterior.guesses.size() == 2);
  std::vector<ReadingModel> models;
  for (const Reading& reading : plan.readings) models.emplace_back(plan, reading);
  constexpr int kCells = 60;
  constexpr double kFar = 4.0;
  double sum = 0.0, mean[2] = {}, square[2] = {}, product = 0.0;
  for (int a = 0; a <= kCells; ++a) {
    for (int b = 0; b <= kCells; ++b) {
      const std::vector<double> z{kFar * (2.0 * a / kCells - 1.0), kFar * (2.0 * b / kCells - 1.0)};
      const Plan there = off_by(plan, posterior.guesses, z);
      double misfit = 0.5 * (z[0] * z[0] + z[1] * z[1]);
      for (std::size_t i = 0; i < models.size(); ++i) {
        const double off = (plan.readings[i].shown - models[i].shown(there)) / models[i].error();
        misfit += 0.5 * off * off;
      }
      const double weight = std::exp(-misfit);
      sum += weight;
      for (int i = 0; i < 2; ++i) {
        mean[i] += weight * z[static_cast<std::size_t>(i)];
        square[i] += weight * z[static_cast<std::size_t>(i)] * z[static_cast<std::size_t>(i)];
      }
      product += weight * z[0] * z[1];
    }
  }
  for (std::size_t i = 0; i < 2; ++i) {
    const double grid_mean = mean[i] / sum;
    const double grid_sd = std::sqrt(square[i] / sum - grid_mean * grid_mean);
    CHECK(posterior.mean[i] == Approx(grid_mean).margin(0.15 * grid_sd));
    CHECK(posterior.left(i) == Approx(grid_sd).epsilon(0.05));
  }
  CHECK(posterior.covariance[1] ==
        Approx(product / sum - mean[0] * mean[1] / (sum * sum)).margin(0.02));
}

TEST_CASE("readings that tell nothing leave the guesses as they were") {
  // What the list says already; a night says nothing of panels and trees.
  Plan plan = listed_plan(van(kGlances));
  const Plan stated = plan;
  for (Reading& reading : plan.readings) reading.shown = ReadingModel(plan, reading).shown(stated);
  const Posterior borne_out = posterior_of(plan);
  const Plan after = corrected(plan, borne_out);
  for (const Guess& guess : borne_out.guesses) {
    CAPTURE(guess.name);
    CHECK(guess.value(after) == Approx(guess.value(stated)).epsilon(0.02));
  }

  plan.readings.resize(1);
  plan.readings[0].shown -= 0.05;
  const Posterior night = posterior_of(plan);
  for (const char* name : {"harvest of the panels", "canopy of camp 1"}) {
    const std::size_t i = guess_named(night, name);
    CHECK(night.mean[i] == 0.0);
    CHECK(night.left(i) == 1.0);
  }
  CHECK(night.mean[guess_named(night, "fridge")] > 0.1);

  Plan measured = plan;
  measured.guesses = {0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0};
  const Posterior nothing_to_learn = posterior_of(measured);
  CHECK(nothing_to_learn.guesses.empty());
  CHECK(nothing_to_learn.converged);
  CHECK(nothing_to_learn.readings.size() == 1);

  plan.readings.clear();
  const Posterior none = posterior_of(plan);
  CHECK(none.converged);
  for (std::size_t i = 0; i < none.guesses.size(); ++i) {
    CHECK(none.mean[i] == 0.0);
    CHECK(none.left(i) == 1.0);
  }
}

TEST_CASE("watts in the open and under the trees give the canopy, whatever the sky was") {
  const char* two = R"(
[[reading]]
panels_w = {}
at = 2027-06-02T13:00:00
camp = "open"
k = 0.6
[[reading]]
panels_w = {}
at = 2027-06-02T13:00:00
k = 0.6
)";
  const Plan plan = listed_plan(van(fmt::format(fmt::runtime(two), 150, 60)));
  const std::size_t canopy = guess_named(posterior_of(plan), "canopy of camp 1");
  for (const double truth : {0.35, 0.50, 0.65}) {
    for (const double sky : {-1.0, 1.0}) {
      Plan read = plan, there = plan;
      there.camps[0].canopy = truth;
      for (Reading& reading : read.readings) {
        reading.shown = ReadingModel(plan, reading).shown(there, std::vector<double>{sky});
      }
      const Posterior posterior = posterior_of(read);
      const double found = corrected(read, posterior).camps[0].canopy;
      CAPTURE(truth, sky, found, posterior.left(canopy));
      CHECK(posterior.left(canopy) < 0.75);
      CHECK(std::abs(found - truth) < 2.0 * 0.10 * posterior.left(canopy));
    }
  }
}

TEST_CASE("all commands go by what readings correct, and say so; without any nothing changes") {
  const Plan plain = van();
  CHECK(!plain.correction);
  CHECK(plain.notes.empty());
  const Plan plan = van(R"(
[[reading]]
draw_w = 40
at = 2027-06-01T22:00:00
on = []
)");
  REQUIRE(plan.correction);
  CHECK(plan.correction->listed.loads[0].watts == 12.0);
  CHECK(plan.loads[0].watts > 30.0);
  REQUIRE(!plan.notes.empty());
  const auto* note = std::get_if<plan_note::CorrectedByReadings>(&plan.notes.front());
  REQUIRE(note);
  CHECK(note->readings == 1);
  CHECK(note->changes.front().name == "router");
}

TEST_CASE("a reading that a plan cannot have is refused with its key") {
  const auto message = [](const std::string& reading) -> std::string {
    try {
      van("[[reading]]\n" + reading);
    } catch (const InputError& error) {
      return error.what();
    }
    return "accepted";
  };
  using Catch::Matchers::Contains;
  CHECK_THAT(message("at = 2027-06-01T22:00:00"), Contains("says nothing that was read"));
  CHECK_THAT(message("draw_w = 20"), Contains("at") && Contains("is missing"));
  CHECK_THAT(message("draw_w = 20\npanels_w = 3\nat = 2027-06-01T22:00:00"),
             Contains("is given besides"));
  CHECK_THAT(message("draw_w = 20\nat = 2027-06-01T22:00:00\nsky = \"clear\""),
             Contains("does not go with draw_w"));
  CHECK_THAT(message("draw_w = 20\nat = 2027-06-01T22:00:00\non = [\"ligths\"]"),
             Contains("Did you mean") && Contains("lights"));
  CHECK_THAT(message("charge_from = 92\ncharge_to = 0.6\nfrom = 2027-06-01T22:00:00\nto = "
                     "2027-06-02T05:00:00"),
             Contains("charge_from") && Contains("0.85"));
  CHECK_THAT(message("used_wh = 90\nfrom = 2027-06-02T22:00:00\nto = 2027-06-01T05:00:00"),
             Contains("is not after `from`"));
  CHECK_THAT(message("panels_w = 90\nat = 2027-06-02T12:00:00\ncamp = 2"), Contains("camp"));
  CHECK_THAT(message("draw_w = 90\nat = 1927-06-02T12:00:00"), Contains("1950 to 2049"));
  CHECK_THAT(message("panels_w = nan\nat = 2027-06-02T12:00:00"), Contains("panels_w"));
}

}  // namespace dullspell::posterior_test
