#include "engine/year_shares.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include <boost/random/uniform_int_distribution.hpp>

#include "weather/random_stream.hpp"

namespace dullspell {
namespace {

constexpr std::uint32_t kResamples = 4000;

std::vector<double> resampled_shares(std::span<const YearCount> years) {
  const boost::random::uniform_int_distribution<std::size_t> any_year(0, years.size() - 1);
  std::vector<double> shares;
  shares.reserve(kResamples);
  for (std::uint32_t i = 0; i < kResamples; ++i) {
    RandomStream stream({0, i, 0, DrawPurpose::resample});
    std::uint64_t count = 0, periods = 0;
    for (std::size_t y = 0; y < years.size(); ++y) {
      const YearCount& year = years[any_year(stream)];
      count += year.count;
      periods += year.periods;
    }
    shares.push_back(static_cast<double>(count) / static_cast<double>(periods));
  }
  std::sort(shares.begin(), shares.end());
  return shares;
}

}  // namespace

YearsShare share_over_years(std::span<const YearCount> all) {
  std::vector<YearCount> years;
  std::copy_if(all.begin(), all.end(), std::back_inserter(years),
               [](const YearCount& year) { return year.periods > 0; });
  YearsShare out;
  for (const YearCount& year : years) {
    out.count += year.count;
    out.periods += year.periods;
  }
  out.years = static_cast<int>(years.size());
  out.p = static_cast<double>(out.count) / static_cast<double>(out.periods);
  if (out.count == 0 || out.count == out.periods || out.years < 2) {
    const double share = out.p * out.years;
    const auto years_count = static_cast<std::uint64_t>(std::lround(share));
    out.interval = clopper_pearson_interval(years_count, static_cast<std::uint64_t>(out.years));
    return out;
  }
  const auto shares = resampled_shares(years);
  const double wider = std::sqrt(out.years / (out.years - 1.0));
  const auto at = [&](double q) {
    const double share = shares[static_cast<std::size_t>(q * (kResamples - 1))];
    return std::clamp(out.p + wider * (share - out.p), 0.0, 1.0);
  };
  out.interval = {at(0.025), at(0.975)};
  return out;
}

}  // namespace dullspell
