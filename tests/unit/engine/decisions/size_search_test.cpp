#include <algorithm>
#include <cmath>
#include <set>

#include <boost/random/mersenne_twister.hpp>
#include <boost/random/uniform_int_distribution.hpp>
#include <catch2/catch.hpp>

#include "engine/decisions/size_search.hpp"

using namespace dullspell;

namespace {

constexpr std::uint64_t kStays = 1'000;

std::size_t brute_force(const std::vector<std::uint64_t>& flat, std::uint64_t allowed) {
  return static_cast<std::size_t>(
      std::find_if(flat.begin(), flat.end(), [&](auto count) { return count <= allowed; }) -
      flat.begin());
}

std::vector<double> whole_sizes(std::size_t count) {
  std::vector<double> sizes;
  for (std::size_t i = 0; i < count; ++i) sizes.push_back(static_cast<double>(i + 1));
  return sizes;
}

}  // namespace

TEST_CASE("sizes to try are whole, in order, and 0.1 % or one unit apart") {
  const auto sizes = sizes_to_try(50.0, 200'000.0);
  CHECK(sizes.front() == 50.0);
  CHECK(sizes.back() == 200'000.0);
  for (std::size_t i = 1; i < sizes.size(); ++i) {
    const double apart = sizes[i] - sizes[i - 1];
    REQUIRE(sizes[i] == std::round(sizes[i]));
    REQUIRE(apart >= 1.0);
    REQUIRE(apart <= std::max(1.0, sizes[i - 1] / 1000.0));
  }
}

TEST_CASE("the interval of a median of twenty is from the sixth to the fifteenth") {
  // Tables of the binomial distribution, n = 20, p = 0.5: P(X <= 5) = 0.0207, P(X <= 6) = 0.0577
  // (any handbook of statistics). The sixth least value has 14 above it, the fifteenth 5.
  const FlatTarget target = flat_target(0.5, 20);
  CHECK(target.allowed == 10);
  CHECK(target.most == 14);
  CHECK(target.fewest == 5);
}

TEST_CASE("a share that is hardly off a whole number of stays allows that number") {
  CHECK(flat_target(1.0 - 0.9, 20'000).allowed == 2'000);
  CHECK(flat_target(1.0 - 0.95, 20'000).allowed == 1'000);
  CHECK(flat_target(0.1, 15).allowed == 1);
}

TEST_CASE("few stays give no upper end") {
  // 0.9^20 = 0.12 and 0.9^36 = 0.023 are the chances of no flat stay at the true answer.
  CHECK_FALSE(flat_target(0.1, 20).fewest);
  CHECK_FALSE(flat_target(0.1, 35).fewest);
  CHECK(flat_target(0.1, 36).fewest == 0);
  CHECK_FALSE(flat_target(0.0, 1'000'000).fewest);
  CHECK(flat_target(0.0, 1'000'000).most == 0);
  CHECK(flat_target(1.0, 100).allowed == 100);
}

TEST_CASE("a search finds the least size of any falling count, and asks for none twice") {
  boost::random::mt19937 random(7);
  boost::random::uniform_int_distribution<std::size_t> length(1, 700);
  boost::random::uniform_int_distribution<std::uint64_t> any(0, kStays);
  for (int round = 0; round < 300; ++round) {
    std::vector<std::uint64_t> flat(length(random));
    for (auto& count : flat) count = any(random);
    std::sort(flat.rbegin(), flat.rend());
    std::set<double> asked;
    SizeSearch search(whole_sizes(flat.size()), [&](double size) {
      CHECK(asked.insert(size).second);
      return flat[static_cast<std::size_t>(size) - 1];
    });
    for (int question = 0; question < 4; ++question) {
      const std::uint64_t allowed = any(random);
      const std::size_t expected = brute_force(flat, allowed);
      const auto found = search.least(allowed, flat.size() / 2, 1 + length(random) % 40);
      CAPTURE(round, question, allowed);
      if (expected == flat.size()) {
        CHECK_FALSE(found);
      } else {
        REQUIRE(found);
        CHECK(*found == expected);
      }
    }
    CHECK(asked.size() < 4 * 2 * 11 + 40);  // not all of them
  }
}

TEST_CASE(
    "of a count that rises and falls a search still finds a size whose own count is allowed") {
  boost::random::mt19937 random(11);
  boost::random::uniform_int_distribution<std::uint64_t> any(0, kStays);
  for (int round = 0; round < 300; ++round) {
    std::vector<std::uint64_t> flat(500);
    for (auto& count : flat) count = any(random);
    flat.back() = 0;
    SizeSearch search(whole_sizes(flat.size()),
                      [&](double size) { return flat[static_cast<std::size_t>(size) - 1]; });
    const std::uint64_t allowed = any(random);
    const auto found = search.least(allowed, 100, 16);
    REQUIRE(found);
    CHECK(flat[*found] <= allowed);
    if (*found > 0) CHECK(flat[*found - 1] > allowed);
  }
}

TEST_CASE("a size belongs to the largest one to try that is not above it") {
  const SizeSearch search(sizes_to_try(50.0, 5'000.0), [](double) { return 0; });
  CHECK(search.size(search.index_of(10.0)) == 50.0);
  CHECK(search.size(search.index_of(977.6)) == 977.0);
  CHECK(search.size(search.index_of(1e9)) == 5'000.0);
}
