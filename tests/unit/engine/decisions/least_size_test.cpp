#include <algorithm>
#include <cmath>
#include <vector>

#include <catch2/catch.hpp>

#include "engine/decisions/least_size.hpp"
#include "engine/decisions/size_search.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/stay/sky.hpp"
#include "engine/study/climate_interval.hpp"
#include "engine/study/prepare.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/random_plan.hpp"

using namespace dullspell;

namespace {

const SizeOptions kFew{400, 3, 1};

// A plan of the file with the other size in it, run on its own.
std::uint64_t flat_by_itself(const Plan& plan, const SizeQuestion& question, double size) {
  const Plan kit =
      question.of == SizeOf::battery ? with_battery_wh(plan, size) : with_panels_w(plan, size);
  const StayOutcomes outcomes = run_outcomes(prepare(kit), kFew);
  return question.with_generator ? outcomes.count_along() : outcomes.count_home();
}

void check_against_runs(const Plan& plan, const SizeQuestion& question) {
  const LeastSize found = least_size(plan, question, kFew);
  const std::uint64_t allowed = flat_target(question.accept_risk, kFew.stays).allowed;
  REQUIRE(found.curve.size() >= 2);
  for (const SizeRisk& tried : found.curve) {
    CAPTURE(tried.size);
    CHECK(tried.flat.count == flat_by_itself(plan, question, tried.size));
  }
  if (!found.least) {
    CHECK(found.largest.flat.count > allowed);
    return;
  }
  CHECK(found.least->flat.count <= allowed);
  CHECK(found.sampling.low <= found.least->size);
  CHECK(found.sampling.high >= found.least->size);
  if (found.climate) {
    CHECK(found.climate->low <= found.sampling.low * (1.0 + 1e-9));
    CHECK(found.climate->high >= found.sampling.high * (1.0 - 1e-9));
  }
  // The next smaller size was tried and is too small.
  for (std::size_t i = 1; i < found.curve.size(); ++i) {
    if (found.curve[i].size != found.least->size) continue;
    const double smaller = found.curve[i - 1].size;
    CHECK(found.least->size - smaller <= std::max(1.0, 0.001 * smaller));
    CHECK(found.curve[i - 1].flat.count > allowed);
  }
}

}  // namespace

TEST_CASE("every battery that was tried ran as the plan with that battery in it runs", "[long]") {
  for (unsigned number = 1; number <= 14; ++number) {
    INFO("plan " << number);
    const Plan plan = plan_of(RandomPlan(number).toml());
    check_against_runs(plan, {SizeOf::battery, 0.1, false});
    if (plan.generator) check_against_runs(plan, {SizeOf::battery, 0.2, true});
  }
}

TEST_CASE("every panel size that was tried ran as the plan with those panels runs") {
  for (unsigned number = 1; number <= 10; ++number) {
    INFO("plan " << number);
    const Plan plan = plan_of(RandomPlan(number).toml());
    if (plan.panels.empty()) continue;
    check_against_runs(plan, {SizeOf::panels, 0.3, false});
  }
}

TEST_CASE("a battery that is swapped in prepared tables moves the generator's levels too") {
  int moved = 0;
  for (unsigned number = 1; number <= 30; ++number) {
    const Plan plan = plan_of(RandomPlan(number).toml());
    const PreparedPlan stated = prepare(plan);
    const Plan other = with_battery_wh(plan, 600.0);
    const PreparedPlan swapped = with_battery(stated, other.battery);
    const PreparedPlan whole = prepare(other);
    for (std::size_t h = 0; h < whole.hours.size(); ++h) {
      REQUIRE(swapped.hours[h].start_below_wh == whole.hours[h].start_below_wh);
      REQUIRE(swapped.hours[h].stop_at_wh == whole.hours[h].stop_at_wh);
      moved += swapped.hours[h].stop_at_wh != stated.hours[h].stop_at_wh;
    }
  }
  CHECK(moved > 0);
}

TEST_CASE("neither threads nor the instruction set change a least size") {
  const Plan plan = plan_of(RandomPlan(3).toml());
  const SizeQuestion question{SizeOf::battery, 0.1, false};
  const LeastSize one = least_size(plan, question, kFew);
  SizeOptions options = kFew;
  options.threads = 3;
  options.instruction_set = InstructionSet::baseline;
  const LeastSize other = least_size(plan, question, options);
  REQUIRE(one.least);
  CHECK(one.least->size == other.least->size);
  CHECK(one.curve.size() == other.curve.size());
  REQUIRE(one.climate);
  CHECK(one.climate->low == other.climate->low);
  CHECK(one.climate->high == other.climate->high);
}

TEST_CASE("more confidence never asks for less") {
  const Plan plan = plan_of(RandomPlan(5).toml());
  double before = 0.0;
  for (const double accept_risk : {0.5, 0.2, 0.1, 0.05, 0.01}) {
    const LeastSize found = least_size(plan, {SizeOf::battery, accept_risk, false}, kFew);
    const double size = found.least ? found.least->size : INFINITY;
    CHECK(size >= before);
    before = size;
  }
}

TEST_CASE("the climate interval holds the middle of what batteries other climates would need") {
  const Plan plan = with_stated_places(
      plan_of("arrive = 2027-11-10T15:00:00\n[[camp]]\nplace = \"crescent-city-ca\"\nnights = 5\n"
              "[battery]\ncapacity_wh = 2560\n[[panels]]\nrated_w = 300\n"
              "[[load]]\nname = \"everything\"\nwatts = 30\n"));
  constexpr SizeQuestion kQuestion{SizeOf::battery, 0.2, false};
  SizeOptions options{8'000, 3, 1};
  const LeastSize found = least_size(plan, kQuestion, options);
  REQUIRE(found.least);
  REQUIRE(found.climate);

  // The same stays under each climate, with batteries 1 % apart.
  const PreparedPlan prepared = prepare(plan);
  options.stays = climate_stays(options.stays);
  std::vector<StayClimate> climates{prepared.climate.stated()};
  for (const auto& errors : alternative_climates(prepared.climate.places(), options.seed)) {
    climates.push_back(prepared.climate.off_by(errors));
  }
  std::vector<double> sizes;
  for (double size = 500.0; size < 20'000.0; size *= 1.01) sizes.push_back(size);
  std::vector<double> needed;
  for (const StayClimate& climate : climates) {
    const DrawnSky sky(prepared, climate, options.seed);
    const auto least = std::partition_point(sizes.begin(), sizes.end(), [&](double size) {
      const PreparedPlan sized = prepare(with_battery_wh(plan, size));
      return run_outcomes(sized, sky, options).count_home() > options.stays / 5;
    });
    REQUIRE(least != sizes.end());
    needed.push_back(std::log(*least));
  }
  const double moved = std::log(found.least->size) - needed.front();
  std::vector<double> others(needed.begin() + 1, needed.end());
  std::sort(others.begin(), others.end());
  // Of 32 values the second and the last but one lie at 4.7 and 95.3 %, the ends at 1.6 and 98.4.
  constexpr double kStep = 0.02;
  CHECK(std::log(found.climate->low) < others[1] + moved + kStep);
  CHECK(std::log(found.climate->high) > others[30] + moved - kStep);
  const double sampling_low = std::log(found.least->size / found.sampling.low);
  const double sampling_high = std::log(found.sampling.high / found.least->size);
  CHECK(std::log(found.climate->low) > others[0] + moved - sampling_low - kStep);
  CHECK(std::log(found.climate->high) < others[31] + moved + sampling_high + kStep);
  CHECK(found.climate->high / found.climate->low > 1.2 * found.sampling.high / found.sampling.low);
}
