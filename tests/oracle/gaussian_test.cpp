#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include <catch2/catch.hpp>

#include "engine/study/study.hpp"
#include "tests/support/engine_oracle.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/reference_table.hpp"
#include "weather/standard_normal_pair.hpp"

namespace dullspell::gaussian_test {

// First passage of a store S = min(cap, S + X) below zero, X normal, without and with persistence.
// Panels and load share one hour, so that the hour nets to X.

namespace {

constexpr double kUnit_wh = 1000.0;
constexpr int kDays = 14;
constexpr std::uint64_t kStays = 200'000;

// Clearness 0..1 stands for 6 standard deviations to both sides: a day is clipped with a
// probability of 2e-9, a stay with 3e-8.
constexpr double kReach_sd = 6.0;

struct Case {
  double mean, sd, capacity, persistence;
  auto operator<=>(const Case&) const = default;
};

Tally run(const Case& c) {
  PreparedPlan plan = bare_plan(kDays, {12}, c.capacity * kUnit_wh);
  set_panels(plan, 12, 2.0 * kReach_sd * c.sd * kUnit_wh);
  set_load(plan, 12, (kReach_sd * c.sd - c.mean) * kUnit_wh);
  constexpr std::uint64_t kSeed = 12;
  const ScriptedSky sky([&](std::uint32_t stay, std::span<SegmentSky> out) {
    double z = 0.0;
    for (std::size_t d = 0; d < out.size(); ++d) {
      RandomStream stream({kSeed, stay, static_cast<std::uint32_t>(d), DrawPurpose::test});
      const double fresh = StandardNormalPair()(stream).first;
      const double rest = std::sqrt(1.0 - c.persistence * c.persistence);
      z = d == 0 ? fresh : c.persistence * z + rest * fresh;
      out[d] = mild_day(std::clamp(0.5 + z / (2.0 * kReach_sd), 0.0, 1.0));
    }
  });
  return run_stays(plan, sky, kSeed, 0, kStays, 1);
}

CountedShare flat_by(const Tally& tally, int day) {
  double count = 0.0;
  for (int d = 0; d < day; ++d) count += tally.home.fails_on_day[static_cast<std::size_t>(d)];
  return {count, kStays};
}

}  // namespace

TEST_CASE("first passage of a Gaussian store agrees with quadrature, with and without memory") {
  // 56 comparisons: fewer than 4 seeds in 1,000 would fail a right engine.
  std::map<Case, Tally> tallies;
  const int rows = for_each_row(
      "storage_gaussian.csv", {"mu", "sd", "cap", "phi", "day", "P_flat_by", "std_err"},
      [&](double mean, double sd, double capacity, double phi, double day, double p, double error) {
        const Case c{mean, sd, capacity, phi};
        if (!tallies.contains(c)) tallies.emplace(c, run(c));
        CHECK(flat_by(tallies.at(c), static_cast<int>(day)).errors_from(p, error) <= kMostErrors);
      });
  CHECK(rows == 56);
  CHECK(tallies.size() == 8);
}

TEST_CASE("days without memory would not pass for days with it") {
  // tables/storage_gaussian.csv: mean 0.5, sd 1.5, capacity 5, persistence 0.3, day 14.
  CHECK(flat_by(run({0.5, 1.5, 5.0, 0.0}), 14).errors_from(0.25772) > 10.0 * kMostErrors);
}

}  // namespace dullspell::gaussian_test
