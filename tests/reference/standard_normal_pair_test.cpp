#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

#include <boost/math/special_functions/cos_pi.hpp>
#include <boost/math/special_functions/sin_pi.hpp>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <catch2/catch.hpp>

#include "weather/clearness_table.hpp"
#include "weather/random_stream.hpp"
#include "weather/standard_normal_pair.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

constexpr std::uint64_t kTwoPow53 = std::uint64_t{1} << 53;
constexpr int kPairs = 200'000;

// Box & Muller 1958 in long double; sin_pi and cos_pi take whole turns off without rounding.
void check_against_long_double(std::uint64_t a, std::uint64_t b) {
  const long double u = (static_cast<long double>(a) + 1.0L) / 0x1p53L;
  const long double radius = std::sqrt(-2.0L * std::log(u));
  const long double half_turns = static_cast<long double>(b) / 0x1p52L;
  const auto first = static_cast<double>(radius * boost::math::cos_pi(half_turns));
  const auto second = static_cast<double>(radius * boost::math::sin_pi(half_turns));
  const NormalPair pair = normal_pair_from_bits(a, b);
  INFO("a = " << a << ", b = " << b);
  // Logarithm (4e-16, halved by the root), sine and cosine (4e-16) and four roundings of 1.1e-16.
  CHECK_THAT(pair.first, WithinRel(first, 1e-15));
  CHECK_THAT(pair.second, WithinRel(second, 1e-15));
}

TEST_CASE("A normal pair agrees with the Box-Muller transform in long double") {
  std::vector<std::uint64_t> radii{0,
                                   1,
                                   2,
                                   3,
                                   kTwoPow53 / 2 - 2,
                                   kTwoPow53 / 2 - 1,
                                   kTwoPow53 / 2,
                                   kTwoPow53 - 1000,
                                   kTwoPow53 - 3,
                                   kTwoPow53 - 2,
                                   kTwoPow53 - 1};
  std::vector<std::uint64_t> angles;
  for (std::uint64_t eighth = 0; eighth <= 8; ++eighth) {
    const std::uint64_t border = eighth * (kTwoPow53 / 8);
    for (const std::uint64_t b : {border - 2, border - 1, border, border + 1, border + 2}) {
      if (b < kTwoPow53) angles.push_back(b);
    }
  }
  const std::size_t borders = angles.size();
  REQUIRE(borders == 40);
  boost::random::mt19937_64 engine(20270521);
  for (int i = 0; i < 300; ++i) {
    radii.push_back(engine() >> 11);
    // Fewer bits reach the smallest uniforms, which random bits never would.
    radii.push_back((engine() >> 11) >> (i % 53));
    angles.push_back(engine() >> 11);
  }
  for (const std::uint64_t a : radii) {
    check_against_long_double(a, angles[a % angles.size()]);
    for (std::size_t i = 0; i < borders; ++i) check_against_long_double(a, angles[i]);
  }
  for (const std::uint64_t b : angles) check_against_long_double(0, b);
}

TEST_CASE("The farthest normal deviate is 8.57 and the nearest is zero") {
  const NormalPair farthest = normal_pair_from_bits(0, 0);
  CHECK_THAT(farthest.first, WithinRel(std::sqrt(2.0 * 53.0 * std::log(2.0)), 1e-14));
  CHECK(farthest.second == 0.0);
  const NormalPair nearest = normal_pair_from_bits(kTwoPow53 - 1, 12345);
  CHECK(nearest.first == 0.0);
  CHECK(nearest.second == 0.0);
}

template <class Engine>
std::vector<NormalPair> drawn(Engine engine, int pairs) {
  const StandardNormalPair normal_pair;
  std::vector<NormalPair> out;
  for (int i = 0; i < pairs; ++i) out.push_back(normal_pair(engine));
  return out;
}

std::vector<double> both(const std::vector<NormalPair>& pairs) {
  std::vector<double> out;
  for (const NormalPair& pair : pairs) {
    out.push_back(pair.first);
    out.push_back(pair.second);
  }
  return out;
}

RandomStream test_stream() {
  return RandomStream({2027, 0, 0, DrawPurpose::test});
}

// Kolmogorov's statistic sqrt(n) D. P(sqrt(n) D > x) is 2 exp(-2 x^2) for many draws: 1e-6 at 2.69.
constexpr double kKolmogorovLimit = 2.69;

double kolmogorov_of_normal(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const auto n = static_cast<double>(values.size());
  double distance = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double cdf = standard_normal_cdf(values[i]);
    const auto below = static_cast<double>(i);
    distance = std::max({distance, cdf - below / n, (below + 1.0) / n - cdf});
  }
  return std::sqrt(n) * distance;
}

// The same of two samples of equal size, scaled by sqrt(n / 2).
double kolmogorov_of_two(std::vector<double> a, std::vector<double> b) {
  std::sort(a.begin(), a.end());
  std::sort(b.begin(), b.end());
  std::size_t i = 0, j = 0;
  double most = 0.0;
  while (i < a.size() && j < b.size()) {
    a[i] < b[j] ? ++i : ++j;
    most = std::max(most, std::abs(static_cast<double>(i) - static_cast<double>(j)));
  }
  const auto n = static_cast<double>(a.size());
  return std::sqrt(0.5 * n) * most / n;
}

TEST_CASE("Deviates of any engine follow the normal distribution") {
  CHECK(kolmogorov_of_normal(both(drawn(test_stream(), kPairs))) < kKolmogorovLimit);
  CHECK(kolmogorov_of_normal(both(drawn(boost::random::mt19937(1), kPairs))) < kKolmogorovLimit);
  CHECK(kolmogorov_of_normal(both(drawn(boost::random::mt19937_64(1), kPairs))) < kKolmogorovLimit);
}

TEST_CASE("The test of distribution rejects deviates that are off by 0.02") {
  std::vector<double> shifted = both(drawn(test_stream(), kPairs));
  for (double& value : shifted) value += 0.02;
  CHECK(kolmogorov_of_normal(shifted) > kKolmogorovLimit);
}

TEST_CASE("Deviates are distributed like those of Boost's normal distribution") {
  boost::random::mt19937_64 engine(7);
  boost::random::normal_distribution<double> normal;
  std::vector<double> theirs;
  for (int i = 0; i < 2 * kPairs; ++i) theirs.push_back(normal(engine));
  const std::vector<double> ours = both(drawn(test_stream(), kPairs));
  CHECK(kolmogorov_of_two(ours, theirs) < kKolmogorovLimit);
  for (double& value : theirs) value *= 1.05;
  CHECK(kolmogorov_of_two(ours, theirs) > kKolmogorovLimit);
}

TEST_CASE("Moments of the deviates lie within four standard errors of the normal ones") {
  // Four standard errors: false alarm 6e-5 a check. Variances of x^k are 1, 2, 15 and 96.
  const auto pairs = drawn(test_stream(), kPairs);
  double sums[5]{}, product = 0.0, squares_product = 0.0;
  for (const auto& [first, second] : pairs) {
    for (int k = 1; k <= 4; ++k) sums[k] += std::pow(first, k) + std::pow(second, k);
    product += first * second;
    squares_product += (first * first - 1.0) * (second * second - 1.0);
  }
  const double n = kPairs;
  const auto limit = [](double variance, double count) {
    return 4.0 * std::sqrt(variance / count);
  };
  CHECK_THAT(sums[1] / (2.0 * n), WithinAbs(0.0, limit(1.0, 2.0 * n)));
  CHECK_THAT(sums[2] / (2.0 * n), WithinAbs(1.0, limit(2.0, 2.0 * n)));
  CHECK_THAT(sums[3] / (2.0 * n), WithinAbs(0.0, limit(15.0, 2.0 * n)));
  CHECK_THAT(sums[4] / (2.0 * n), WithinAbs(3.0, limit(96.0, 2.0 * n)));
  // The two of a pair are independent: neither they nor their squares are correlated.
  CHECK_THAT(product / n, WithinAbs(0.0, limit(1.0, n)));
  CHECK_THAT(squares_product / n, WithinAbs(0.0, limit(4.0, n)));
}

TEST_CASE("A normal pair takes exactly four words of a random stream") {
  RandomStream used = test_stream();
  StandardNormalPair{}(used);
  RandomStream counted = test_stream();
  for (int i = 0; i < 4; ++i) counted();
  CHECK(used() == counted());
}

TEST_CASE("A normal pair distribution has no state") {
  RandomStream one = test_stream(), other = test_stream();
  StandardNormalPair used;
  used(one);
  used.reset();
  StandardNormalPair{}(other);
  CHECK(used(one).second == StandardNormalPair(used.param())(other).second);
  CHECK(used == StandardNormalPair{});
}

}  // namespace
}  // namespace dullspell
