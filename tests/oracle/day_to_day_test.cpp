#include <cmath>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "tests/support/batch_mean.hpp"
#include "tests/support/engine_oracle.hpp"
#include "tests/support/engine_plan.hpp"
#include "weather/clearness_table.hpp"

using namespace dullspell;

// Variance of the mean clearness of a stay. In Gaussian space days that are n apart correlate as
// s + (1 - s) phi^n; between clearness indices by quadrature over the place's distribution.

namespace {

constexpr double kPhi = 0.35, kYearShare = 0.12;
constexpr int kDays = 8;

// Mid-month, where the months do not blend: every date has the same distribution.
const std::string kPlan = R"(
arrive = 2027-03-10T00:00:00
leave = "12:00"
[[camp]]
nights = 7
[camp.place]
latitude = 44
longitude = -112
utc_offset_h = -7
k_mean = [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]
k_sd = [0.18, 0.18, 0.18, 0.18, 0.18, 0.18, 0.18, 0.18, 0.18, 0.18, 0.18, 0.18]
k_persistence = [0.35, 0.35, 0.35, 0.35, 0.35, 0.35, 0.35, 0.35, 0.35, 0.35, 0.35, 0.35]
k_year_share = [0.12, 0.12, 0.12, 0.12, 0.12, 0.12, 0.12, 0.12, 0.12, 0.12, 0.12, 0.12]
[battery]
capacity_wh = 1000
[[load]]
name = "lamp"
watts = 5
)";

double variance_of_mean(const ClearnessTable& table, double phi, double year_share) {
  double sum = kDays;
  for (int apart = 1; apart < kDays; ++apart) {
    const double chi = year_share + (1.0 - year_share) * std::pow(phi, apart);
    sum += 2.0 * (kDays - apart) * clearness_correlation(table, table, chi);
  }
  return table.sd() * table.sd() * sum / (kDays * kDays);
}

}  // namespace

TEST_CASE("the mean clearness of a stay spreads as persistence and year share say") {
  const PreparedPlan plan = prepared_of(kPlan);
  REQUIRE(plan.segments.size() == kDays);
  const ClearnessTable& table = plan.segments[0].k_of_chi;
  const DrawnSky sky(plan, 3);
  std::vector<SegmentSky> days(plan.segments.size());
  BatchMean mean, squares;
  for (std::uint32_t stay = 0; stay < 200'000; ++stay) {
    sky.fill(stay, days);
    double sum = 0.0;
    for (const SegmentSky& day : days) sum += day.k;
    mean(sum / kDays);
    squares(std::pow(sum / kDays - table.mean(), 2));
  }
  CHECK_THAT(mean, WithinErrors(table.mean(), kMostErrors));
  CHECK_THAT(squares, WithinErrors(variance_of_mean(table, kPhi, kYearShare), kMostErrors));

  // Neither part of the memory could be left out.
  CHECK(squares.errors_from(variance_of_mean(table, kPhi, 0.0)) > 5.0 * kMostErrors);
  CHECK(squares.errors_from(variance_of_mean(table, 0.0, kYearShare)) > 5.0 * kMostErrors);
}
