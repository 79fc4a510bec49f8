#include "weather/standard_normal_pair.hpp"

#include <bit>
#include <cmath>
#include <numbers>

namespace dullspell {
namespace {

constexpr double kTwoPow53 = 9007199254740992.0;

// ln x for a normal x in (0, 1]: x = m 2^e with m in [sqrt(1/2), sqrt(2)), ln m = 2 artanh t with
// t = (m - 1) / (m + 1). |t| < 0.1716, so the series to t^21 leaves less than 2e-17 relative.
double natural_log(double x) {
  const auto bits = std::bit_cast<std::uint64_t>(x);
  constexpr std::uint64_t kSqrtHalf = 0x3fe6a09e667f3bcd;
  const std::uint64_t shifted = bits - kSqrtHalf;
  const auto exponent = static_cast<std::int32_t>(static_cast<std::int64_t>(shifted) >> 52);
  const double m = std::bit_cast<double>(bits - (static_cast<std::uint64_t>(exponent) << 52));
  const double t = (m - 1.0) / (m + 1.0);
  const double s = t * t;
  double sum = 1.0 / 21.0;
  sum = sum * s + 1.0 / 19.0;
  sum = sum * s + 1.0 / 17.0;
  sum = sum * s + 1.0 / 15.0;
  sum = sum * s + 1.0 / 13.0;
  sum = sum * s + 1.0 / 11.0;
  sum = sum * s + 1.0 / 9.0;
  sum = sum * s + 1.0 / 7.0;
  sum = sum * s + 1.0 / 5.0;
  sum = sum * s + 1.0 / 3.0;
  const double log_m = 2.0 * t + 2.0 * t * s * sum;
  return log_m + static_cast<double>(exponent) * std::numbers::ln2;
}

// Taylor series on [-pi/4, pi/4]: the first term left out is below 5e-17.
double sine(double x) {
  const double s = x * x;
  double sum = -1.0 / 1307674368000.0;
  sum = sum * s + 1.0 / 6227020800.0;
  sum = sum * s - 1.0 / 39916800.0;
  sum = sum * s + 1.0 / 362880.0;
  sum = sum * s - 1.0 / 5040.0;
  sum = sum * s + 1.0 / 120.0;
  sum = sum * s - 1.0 / 6.0;
  return x + x * s * sum;
}

double cosine(double x) {
  const double s = x * x;
  double sum = 1.0 / 20922789888000.0;
  sum = sum * s - 1.0 / 87178291200.0;
  sum = sum * s + 1.0 / 479001600.0;
  sum = sum * s - 1.0 / 3628800.0;
  sum = sum * s + 1.0 / 40320.0;
  sum = sum * s - 1.0 / 720.0;
  sum = sum * s + 1.0 / 24.0;
  return 1.0 - 0.5 * s + s * s * sum;
}

}  // namespace

NormalPair normal_pair_from_bits(std::uint64_t a, std::uint64_t b) {
  const double u = (static_cast<double>(a) + 1.0) / kTwoPow53;
  const double radius = std::sqrt(-2.0 * natural_log(u));

  // The nearest quarter turn comes off exactly, since b / 2^51 is a dyadic fraction.
  const double quarters = static_cast<double>(b) * (4.0 / kTwoPow53);
  const auto turn = static_cast<std::int32_t>(quarters + 0.5);
  const double angle = (quarters - static_cast<double>(turn)) * (std::numbers::pi / 2.0);
  const double s = sine(angle);
  const double c = cosine(angle);
  const bool swap = (turn & 1) != 0;
  const double along = swap ? s : c;
  const double across = swap ? c : s;
  const double first = ((turn + 1) & 2) != 0 ? -along : along;
  const double second = (turn & 2) != 0 ? -across : across;
  return {radius * first, radius * second};
}

}  // namespace dullspell
