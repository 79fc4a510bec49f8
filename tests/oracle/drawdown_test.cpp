#include <algorithm>
#include <optional>
#include <vector>

#include <catch2/catch.hpp>

#include "tests/support/drawdown.hpp"

using namespace dullspell;

// The identity that tests/support/drawdown.hpp states.

namespace {

std::optional<std::size_t> first_flat(const TrackTrace& track) {
  const auto it = std::find(track.flat.begin(), track.flat.end(), std::uint8_t{1});
  if (it == track.flat.end()) return std::nullopt;
  return static_cast<std::size_t>(it - track.flat.begin());
}

}  // namespace

TEST_CASE("a stay needs exactly the capacity of its greatest drawdown") {
  const PreparedPlan huge = prepared_of(kDrawdownPlan);
  const DrawnSky sky(huge, 5);
  constexpr std::uint64_t kSeed = 5;
  constexpr double kHair_wh = 0.001;  // far above rounding, far below any hour's energy
  PreparedPlan sized = huge;
  const auto first_flat_at = [&](double capacity_wh, std::uint32_t stay) {
    sized.battery.capacity_wh = capacity_wh;
    return first_flat(StayRunner(sized, sky, kSeed).run(stay).home);
  };

  double least = 1e9, most = 0.0;
  for (std::uint32_t stay = 0; stay < 200; ++stay) {
    CAPTURE(stay);
    const WatchedStay watched(huge, sky, stay, kSeed);
    for (const auto& hour : watched.hours.home()) REQUIRE(hour.needs.battery_c >= 25.0 - 1e-9);
    const Drawdown drawdown = drawdown_of(changes_wh(huge, watched.hours.home()));
    const double needed_wh = drawdown.greatest();
    least = std::min(least, needed_wh);
    most = std::max(most, needed_wh);

    CHECK_FALSE(first_flat_at(needed_wh + kHair_wh, stay));
    for (const double capacity_wh :
         {needed_wh - kHair_wh, 0.9 * needed_wh, 2500.0, 2000.0, 1500.0, 1000.0, 500.0}) {
      CAPTURE(capacity_wh, needed_wh);
      CHECK(first_flat_at(capacity_wh, stay) == drawdown.first_above(capacity_wh));
    }
  }
  // The stays differ enough for the comparison to mean something.
  CHECK(most > 1.5 * least);
}
