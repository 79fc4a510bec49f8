#include "engine/kernel/stay_counts.hpp"

#include <array>

#include <catch2/catch.hpp>

#include "tests/support/engine_oracle.hpp"

using namespace dullspell;

namespace {

std::uint64_t some_stays(std::uint32_t step) {
  std::uint64_t stays = 0;
  for (std::uint32_t i = 0; i < 64; ++i) {
    if (test_uniform(7, i, step) < static_cast<double>(i) / 64.0) stays |= std::uint64_t{1} << i;
  }
  return stays;
}

}  // namespace

TEST_CASE("events of stays side by side count as they do one by one") {
  StayCounts counts;
  std::array<unsigned, 64> expected{};
  for (std::uint32_t step = 0; step < 700; ++step) {
    const std::uint64_t stays = some_stays(step);
    counts.add(stays);
    for (std::size_t i = 0; i < 64; ++i) expected[i] += stays >> i & 1;
  }
  for (int i = 0; i < 64; ++i) CHECK(counts.of(i) == expected[static_cast<std::size_t>(i)]);
  CHECK(expected[0] == 0);
  CHECK(expected[63] > 600);
}

TEST_CASE("a stay is beyond what is accepted with one event more, once, and for good") {
  for (const int accepted : {0, 1, 2, 3, 7, 8, 100}) {
    CAPTURE(accepted);
    StaysBeyond beyond(accepted);
    std::array<int, 64> seen{};
    std::uint64_t expected = 0;
    for (std::uint32_t step = 0; step < 300; ++step) {
      const std::uint64_t stays = some_stays(step);
      std::uint64_t newly = 0;
      for (std::size_t i = 0; i < 64; ++i) {
        if ((stays >> i & 1) && ++seen[i] == accepted + 1) newly |= std::uint64_t{1} << i;
      }
      expected |= newly;
      REQUIRE(beyond.add(stays) == newly);
    }
    CHECK(beyond.beyond() == expected);
    CHECK(expected != 0);
    CHECK(expected != ~std::uint64_t{0});
  }
}
