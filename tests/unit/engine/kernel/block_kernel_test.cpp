#include <cmath>
#include <vector>

#include <catch2/catch.hpp>

#include "engine/kernel/block_runner.hpp"
#include "engine/stay/stay.hpp"
#include "engine/study/study.hpp"
#include "engine/study/tally.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/random_plan.hpp"
#include "weather/random_stream.hpp"
#include "weather/standard_normal_pair.hpp"

using namespace dullspell;

namespace {

std::vector<InstructionSet> sets_here() {
  std::vector<InstructionSet> sets;
  for (const auto set : {InstructionSet::baseline, InstructionSet::v3, InstructionSet::v4}) {
    if (can_run(set)) sets.push_back(set);
  }
  return sets;
}

// The readable simulation, stay by stay.
Tally tally_of_stays(const PreparedPlan& plan, const Sky& sky, std::uint32_t first, int count) {
  Tally tally(plan);
  StayRunner runner(plan, sky, 1);
  for (int i = 0; i < count; ++i) {
    tally.add(plan, runner.run(first + static_cast<std::uint32_t>(i)));
  }
  return tally;
}

void check_same(const PreparedPlan& plan, const TrackTally& a, const TrackTally& b) {
  CHECK(a.flat_stays == b.flat_stays);
  CHECK(a.flat_hours == b.flat_hours);
  CHECK(a.flat_on_day == b.flat_on_day);
  CHECK(a.fails_on_day == b.fails_on_day);
  CHECK(a.fails_at_hour == b.fails_at_hour);
  CHECK(a.flat_hour_of_day == b.flat_hour_of_day);
  CHECK(a.flat_h.counts() == b.flat_h.counts());
  CHECK(a.flat_nights.counts() == b.flat_nights.counts());
  CHECK(a.flat_nights_sum == b.flat_nights_sum);
  CHECK(a.missing_wh.counts() == b.missing_wh.counts());
  CHECK(a.generator_h.counts() == b.generator_h.counts());
  CHECK(a.fuel_l.counts() == b.fuel_l.counts());
  CHECK(a.starts.counts() == b.starts.counts());
  CHECK(a.demand_wh.value() == b.demand_wh.value());
  CHECK(a.shortfall_wh.value() == b.shortfall_wh.value());
  CHECK(a.given_up_wh.value() == b.given_up_wh.value());
  CHECK(a.spilled_wh.value() == b.spilled_wh.value());
  CHECK(a.generator_h_sum.value() == b.generator_h_sum.value());
  CHECK(a.fuel_l_sum.value() == b.fuel_l_sum.value());
  bool charges = true, lows = true;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    for (const double q : {0.01, 0.3, 0.5, 0.9}) {
      charges = charges && a.charge[h].quantile(q) == b.charge[h].quantile(q);
    }
  }
  for (std::size_t d = 0; d < plan.dates.size(); ++d) {
    lows = lows && a.morning_low[d].count() == b.morning_low[d].count() &&
           a.morning_low[d].quantile(0.5) == b.morning_low[d].quantile(0.5);
  }
  CHECK(charges);
  CHECK(lows);
}

void check_same(const PreparedPlan& plan, const Tally& a, const Tally& b) {
  CHECK(a.stays == b.stays);
  CHECK(a.panels_wh.value() == b.panels_wh.value());
  CHECK(a.least_not_enough == b.least_not_enough);
  CHECK(a.least_generator_h.counts() == b.least_generator_h.counts());
  check_same(plan, a.home, b.home);
  if (plan.generator) check_same(plan, a.along, b.along);
}

}  // namespace

TEST_CASE("Blocks of stays do what single stays do, bit for bit, on plans of all kinds") {
  int flat = 0, ran = 0, gave_up = 0;
  for (unsigned number = 1; number <= 60; ++number) {
    const std::string toml = RandomPlan(number).toml();
    INFO("plan " << number << "\n" << toml);
    PreparedPlan plan = prepared_of(toml);
    plan.accept_flat_h = static_cast<int>(number % 3);
    const DrawnSky sky(plan, 1);
    const Tally expected = tally_of_stays(plan, sky, 0, 150);
    for (const InstructionSet set : sets_here()) {
      INFO(to_string(set));
      check_same(plan, run_stays(plan, sky, 1, 0, 150, 1, {}, set), expected);
    }
    flat += expected.home.flat_stays > 0;
    ran += expected.along.generator_h_sum.value() > 0.0;
    gave_up += expected.home.given_up_wh.value() > 0.0;
  }
  // The plans are such as can show a difference.
  CHECK(flat > 20);
  CHECK(ran > 8);
  CHECK(gave_up > 8);
}

TEST_CASE("Blocks run weather that they cannot draw by themselves") {
  const std::string toml = RandomPlan(7).toml();
  const PreparedPlan plan = prepared_of(toml);
  const ScriptedSky sky([](std::uint32_t stay, std::span<SegmentSky> out) {
    for (std::size_t i = 0; i < out.size(); ++i) {
      const auto mixed = static_cast<double>((stay * 37 + i * 101) % 700);
      out[i] = {0.05 + 0.001 * mixed, -5.0 + static_cast<double>(stay % 30), 9.0};
    }
  });
  REQUIRE(sky.block_draws() == nullptr);
  const Tally expected = tally_of_stays(plan, sky, 5, 70);
  for (const InstructionSet set : sets_here()) {
    check_same(plan, run_stays(plan, sky, 1, 5, 70, 1, {}, set), expected);
  }
}

TEST_CASE("Known days are drawn one stay at a time, and counted the same") {
  const PreparedPlan plan = prepared_of(
      "arrive = 2027-05-21T15:00:00\nyesterday = \"overcast\"\n"
      "[[forecast]]\nday = 2\nsky = \"clear\"\n"
      "[[camp]]\nplace = \"crescent-city-ca\"\nnights = 4\n"
      "[battery]\ncapacity_wh = 900\n[[panels]]\nrated_w = 200\n"
      "[[load]]\nname = \"all\"\nwatts = 28\n");
  const DrawnSky sky(plan, 1);
  CHECK(sky.block_draws() == nullptr);
  check_same(plan, run_stays(plan, sky, 1, 0, 200, 2), tally_of_stays(plan, sky, 0, 200));
}

TEST_CASE("A block's normals are the values of the stream's distribution") {
  constexpr std::uint64_t kSeed = 0x123456789abcdef0;
  const StandardNormalPair normal_pair;
  for (const InstructionSet set : sets_here()) {
    INFO(to_string(set));
    const Kernel kernel = kernel_for(set);
    alignas(64) double one[kBlockStays], other[kBlockStays];
    bool same = true;
    for (const std::uint32_t first : {0u, 64u, 4'194'240u, 0xffffffc0u, 0xfffffff0u}) {
      for (const std::uint32_t day : {0u, 1u, 13u, 365u}) {
        for (const std::uint32_t draw_block : {0u, 5u, 0xfffffff0u}) {
          kernel.normals(kSeed, first, day, static_cast<unsigned>(DrawPurpose::test), draw_block,
                         one, other);
          for (std::uint32_t i = 0; i < kBlockStays; ++i) {
            RandomStream stream({kSeed, first + i, day, DrawPurpose::test}, draw_block);
            const NormalPair pair = normal_pair(stream);
            same = same && pair.first == one[i] && pair.second == other[i];
          }
        }
      }
    }
    CHECK(same);
  }
}

TEST_CASE("A block's weather is that of the day sequence") {
  const PreparedPlan plan = prepared_of(RandomPlan(3).toml());
  const DrawnSky sky(plan, 99);
  REQUIRE(sky.block_draws() != nullptr);
  struct alignas(64) Row {
    double stay[kBlockStays];
  };
  std::vector<Row> k(plan.segments.size()), mean(k.size()), range(k.size());
  std::vector<SegmentSky> one(k.size());
  for (const InstructionSet set : sets_here()) {
    INFO(to_string(set));
    kernel_for(set).draw(*sky.block_draws(), 640, k[0].stay, mean[0].stay, range[0].stay);
    bool same = true;
    for (std::uint32_t i = 0; i < kBlockStays; ++i) {
      sky.fill(640 + i, one);
      for (std::size_t s = 0; s < k.size(); ++s) {
        same = same && one[s].k == k[s].stay[i] && one[s].temp_mean_c == mean[s].stay[i] &&
               one[s].temp_range_c == range[s].stay[i];
      }
    }
    CHECK(same);
  }
}

TEST_CASE("Instruction sets have names, and the best one here can run") {
  for (const auto set : {InstructionSet::baseline, InstructionSet::v3, InstructionSet::v4}) {
    CHECK(instruction_set(to_string(set)) == set);
  }
  CHECK_FALSE(instruction_set("sse2").has_value());
  CHECK(can_run(InstructionSet::baseline));
  CHECK(can_run(best_instruction_set()));
}
