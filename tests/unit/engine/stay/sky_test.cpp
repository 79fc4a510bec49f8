#include <algorithm>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "tests/support/batch_mean.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;

namespace {

const std::string kMonths = R"(
latitude = 44
longitude = -112
utc_offset_h = -7
k_mean = [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]
temp_mean_c = [4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4]
temp_sd_c = [5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5]
temp_k_correlation = [-0.4, -0.4, -0.4, -0.4, -0.4, -0.4, -0.4, -0.4, -0.4, -0.4, -0.4, -0.4]
temp_range_c = [10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10]
range_k_slope = [30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30]
)";

PreparedPlan plan() {
  return prepared_of("arrive = 2027-03-12T12:00:00\n[[camp]]\nnights = 3\n[camp.place]" + kMonths +
                     "[battery]\ncapacity_wh = 1000\n[[load]]\nname = \"lamp\"\nwatts = 5\n");
}

}  // namespace

TEST_CASE("drawn days have the place's temperature, its spread and its bond with clearness") {
  const PreparedPlan prepared = plan();
  const DrawnSky sky(prepared, 6);
  std::vector<SegmentSky> out(prepared.segments.size());
  std::vector<DayDeviates> days(prepared.sequence.days());
  BatchMean temperature, squares, with_chi;
  for (std::uint32_t stay = 0; stay < 20'000; ++stay) {
    sky.fill(stay, out);
    prepared.sequence.draw(6, stay, days);
    const double apart_c = out[2].temp_mean_c - 4.0;
    temperature(apart_c);
    squares(apart_c * apart_c);
    with_chi(apart_c * days[2].chi);
  }
  CHECK_THAT(temperature, WithinErrors(0.0, 4.0));
  CHECK_THAT(squares, WithinErrors(25.0, 4.0));
  CHECK_THAT(with_chi, WithinErrors(-0.4 * 5.0, 4.0));
}

TEST_CASE("a clear day's temperature swings more, a dull one's less, by a kelvin at least") {
  const PreparedPlan prepared = plan();
  const Segment& segment = prepared.segments[1];
  const DrawnSky sky(prepared, 6);
  std::vector<SegmentSky> out(prepared.segments.size());
  int least = 0;
  for (std::uint32_t stay = 0; stay < 500; ++stay) {
    sky.fill(stay, out);
    const double range_c = 10.0 + 30.0 * (out[1].k - segment.k_mean);
    CHECK(out[1].temp_range_c == Approx(std::max(1.0, range_c)).margin(1e-3));
    least += range_c < 1.0;
  }
  CHECK(least > 5);
}

TEST_CASE("a stay's weather depends on seed and stay alone") {
  const PreparedPlan prepared = plan();
  std::vector<SegmentSky> a(prepared.segments.size()), b(prepared.segments.size());
  const DrawnSky sky(prepared, 6);
  sky.fill(9, a);
  sky.fill(3, b);
  CHECK(a[1].k != b[1].k);
  sky.fill(9, b);
  CHECK(a[1].k == b[1].k);
  DrawnSky(prepared, 7).fill(9, b);
  CHECK(a[1].k != b[1].k);
}
