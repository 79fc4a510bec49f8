#include <atomic>
#include <mutex>
#include <set>
#include <stdexcept>
#include <utility>
#include <vector>

#include <catch2/catch.hpp>

#include "engine/study/parallel.hpp"

using namespace dullspell;

namespace {

std::set<std::pair<std::size_t, std::size_t>> ranges(std::size_t count, std::size_t grain,
                                                     int threads) {
  std::mutex adding;
  std::set<std::pair<std::size_t, std::size_t>> out;
  for_each_range(count, grain, threads, [&](std::size_t begin, std::size_t end) {
    const std::lock_guard lock(adding);
    out.emplace(begin, end);
  });
  return out;
}

}  // namespace

TEST_CASE("a range is cut into the same pieces for any number of threads") {
  const std::set<std::pair<std::size_t, std::size_t>> expected{{0, 256}, {256, 512}, {512, 600}};
  for (const int threads : {0, 1, 2, 8}) CHECK(ranges(600, 256, threads) == expected);
  CHECK(ranges(0, 256, 2).empty());
  CHECK(ranges(1, 256, 2).size() == 1);
}

TEST_CASE("every index is visited once") {
  std::vector<std::atomic<int>> visits(10'007);
  for_each_range(visits.size(), 16, 8, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) ++visits[i];
  });
  for (const auto& n : visits) REQUIRE(n == 1);
}

TEST_CASE("an exception in the loop reaches the caller") {
  CHECK_THROWS_AS(for_each_range(1000, 1, 4,
                                 [](std::size_t begin, std::size_t) {
                                   if (begin == 77) throw std::runtime_error("from a body");
                                 }),
                  std::runtime_error);
}
