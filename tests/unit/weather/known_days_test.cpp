#include <stdexcept>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "tests/support/batch_mean.hpp"
#include "tests/support/day_links.hpp"
#include "weather/known_days.hpp"

namespace dullspell::known_days_test {
namespace {

constexpr std::uint64_t kSeed = 20270522;
constexpr int kDays = 12;

// Entries of the map lie on a grid of 2^-16: sums of up to 15 of them, with normals of a few units.
constexpr double kGrid = 1e-3;

const DayLink kBefore = link_of(0.30, 0.10);

std::vector<DayDeviates> drawn(const std::vector<KnownChi>& known, std::uint32_t stay) {
  const auto links = differing_links(kDays);
  std::vector<DayDeviates> out(kDays);
  DaySequence(links, KnownDays(kBefore, links, known)).draw(kSeed, stay, out);
  return out;
}

std::vector<DayDeviates> drawn_unknown(std::uint32_t stay) {
  std::vector<DayDeviates> out(kDays);
  DaySequence(differing_links(kDays)).draw(kSeed, stay, out);
  return out;
}

TEST_CASE("With nothing known the draws are those of the chain, to the bit") {
  CHECK(KnownDays().days() == 0);
  for (std::uint32_t stay = 0; stay < 50; ++stay) {
    const auto none = drawn({}, stay), chain = drawn_unknown(stay);
    for (std::size_t d = 0; d < kDays; ++d) {
      CHECK(none[d].chi == chain[d].chi);
      CHECK(none[d].temp_innovation == chain[d].temp_innovation);
    }
  }
}

TEST_CASE("A forecast that says what the climate says leaves every draw alone") {
  for (const auto& known : std::vector<std::vector<KnownChi>>{
           {{0, 0.0, 1.0}},
           {{3, 0.0, 1.0}},
           {{-1, 0.0, 1.0}},
           {{-1, 0.0, 1.0}, {0, 0.0, 1.0}, {1, 0.0, 1.0}, {4, 0.0, 1.0}}}) {
    for (std::uint32_t stay = 0; stay < 50; ++stay) {
      const auto vague = drawn(known, stay), chain = drawn_unknown(stay);
      for (std::size_t d = 0; d < kDays; ++d) {
        CAPTURE(known.size(), stay, d);
        CHECK(vague[d].chi == Approx(chain[d].chi).margin(kGrid));
      }
    }
  }
}

TEST_CASE("A day that is known for certain is drawn so in every stay") {
  const std::vector<KnownChi> known{{0, -1.5, 0.0}, {1, 0.4, 0.0}, {4, 2.0, 0.0}};
  for (std::uint32_t stay = 0; stay < 200; ++stay) {
    const auto days = drawn(known, stay);
    for (const KnownChi& k : known) {
      CHECK(days[static_cast<std::size_t>(k.day)].chi == Approx(k.mean).margin(kGrid));
    }
  }
}

TEST_CASE("The days' temperatures keep their own draws") {
  for (std::uint32_t stay = 0; stay < 20; ++stay) {
    const auto known = drawn({{0, -2.0, 0.2}, {5, 1.0, 0.5}}, stay), chain = drawn_unknown(stay);
    for (std::size_t d = 0; d < kDays; ++d)
      CHECK(known[d].temp_innovation == chain[d].temp_innovation);
  }
}

TEST_CASE("A sky that is known pulls the days after it, less from day to day") {
  const auto gap = [](const std::vector<KnownChi>& known) {
    std::vector<double> sum(kDays, 0.0);
    for (std::uint32_t stay = 0; stay < 2000; ++stay) {
      const auto days = drawn(known, stay), chain = drawn_unknown(stay);
      for (std::size_t d = 0; d < kDays; ++d) sum[d] += (days[d].chi - chain[d].chi) / 2000.0;
    }
    return sum;
  };
  const auto by_forecast = gap({{1, -1.5, 0.3}});
  // By yesterday alone: chi of day 0 by the correlation of two neighbours.
  const auto by_yesterday = gap({{-1, -1.5, 0.0}});
  const auto links = differing_links(kDays);
  const double r =
      kBefore.of_year * links[0].of_year + kBefore.of_day * links[0].of_day * links[0].sky_kept;
  CHECK(by_yesterday[0] == Approx(-1.5 * r).margin(0.05));
  for (std::size_t d = 1; d < 5; ++d) {
    CHECK(by_forecast[d + 1] > by_forecast[d]);
    CHECK(by_yesterday[d] > by_yesterday[d - 1]);
  }
  CHECK(by_forecast[0] < -0.3);  // and the day before it
  CHECK(by_forecast[11] < 0.0);  // what is left is the year's
  CHECK(by_yesterday[11] < 0.0);
}

TEST_CASE("Days that the chain does not have, or have twice, are no known days") {
  const auto links = differing_links(3);
  const auto make = [&](std::vector<KnownChi> known) { return KnownDays(kBefore, links, known); };
  CHECK_THROWS_AS(make({{3, 0.0, 1.0}}), std::invalid_argument);
  CHECK_THROWS_AS(make({{-2, 0.0, 1.0}}), std::invalid_argument);
  CHECK_THROWS_AS(make({{1, 0.0, 1.0}, {1, 0.5, 1.0}}), std::invalid_argument);
  CHECK_THROWS_AS(make({{1, 0.0, -0.1}}), std::invalid_argument);
  CHECK_THROWS_AS(KnownDays(kBefore, differing_links(20), std::vector<KnownChi>{{14, 0.0, 1.0}}),
                  std::invalid_argument);
  CHECK(KnownDays(kBefore, differing_links(20), std::vector<KnownChi>{{13, 0.0, 1.0}}).days() ==
        14);
}

}  // namespace
}  // namespace dullspell::known_days_test
