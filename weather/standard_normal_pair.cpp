#include "weather/standard_normal_pair.hpp"

#include <bit>
#include <cmath>
#include <numbers>

#include "weather/normal_polynomials.hpp"

namespace dullspell {
namespace {

constexpr double kTwoPow53 = 9007199254740992.0;

// ln x for a normal x in (0, 1]: x = m 2^e with m in [sqrt(1/2), sqrt(2)), ln m = 2 artanh t with
// t = (m - 1) / (m + 1), |t| < 0.1716.
double natural_log(double x) {
  const auto bits = std::bit_cast<std::uint64_t>(x);
  constexpr std::uint64_t kSqrtHalf = 0x3fe6a09e667f3bcd;
  const std::uint64_t shifted = bits - kSqrtHalf;
  const auto exponent = static_cast<std::int32_t>(static_cast<std::int64_t>(shifted) >> 52);
  const double m = std::bit_cast<double>(bits - (static_cast<std::uint64_t>(exponent) << 52));
  const double t = (m - 1.0) / (m + 1.0);
  const double log_m = log_of_ratio(t);
  return log_m + static_cast<double>(exponent) * std::numbers::ln2;
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
