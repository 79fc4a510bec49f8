#include <cmath>

#include <catch2/catch.hpp>

#include "engine/decisions/least_size.hpp"
#include "engine/decisions/size_search.hpp"
#include "engine/plan_edit.hpp"
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

TEST_CASE("every battery that was tried ran as the plan with that battery in it runs") {
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

TEST_CASE("a battery that is swapped in prepared tables moves the generator's targets too") {
  int moved = 0;
  for (unsigned number = 1; number <= 30; ++number) {
    const Plan plan = plan_of(RandomPlan(number).toml());
    const PreparedPlan stated = prepare(plan);
    const Plan other = with_battery_wh(plan, 600.0);
    const PreparedPlan swapped = with_battery(stated, other.battery);
    const PreparedPlan whole = prepare(other);
    for (std::size_t h = 0; h < whole.hours.size(); ++h) {
      REQUIRE(swapped.hours[h].generator_target_wh == whole.hours[h].generator_target_wh);
      moved += swapped.hours[h].generator_target_wh != stated.hours[h].generator_target_wh;
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
