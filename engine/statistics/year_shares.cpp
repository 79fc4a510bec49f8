#include "engine/statistics/year_shares.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include <boost/math/distributions/students_t.hpp>

namespace dullspell {
namespace {

// Independent trials whose share would scatter as the years' does. Linearised variance of a ratio:
// n / (n - 1) sum (count_y - p periods_y)^2 / periods^2.
double effective_trials(const std::vector<YearCount>& years, double p, double periods) {
  double squares = 0.0;
  for (const YearCount& year : years) {
    const double apart = static_cast<double>(year.count) - p * static_cast<double>(year.periods);
    squares += apart * apart;
  }
  const double n = static_cast<double>(years.size());
  const double variance = n / (n - 1.0) * squares / (periods * periods);
  const double t =
      boost::math::quantile(boost::math::complement(boost::math::students_t(n - 1.0), 0.025));
  const double correction = ConfidenceLevel{}.deviate() / t;
  return p * (1.0 - p) / variance * correction * correction;
}

}  // namespace

YearsShare share_over_years(std::span<const YearCount> all, double most_independent) {
  std::vector<YearCount> years;
  std::copy_if(all.begin(), all.end(), std::back_inserter(years),
               [](const YearCount& year) { return year.periods > 0; });
  YearsShare out;
  for (const YearCount& year : years) {
    out.count += year.count;
    out.periods += year.periods;
  }
  out.years = static_cast<int>(years.size());
  const double periods = static_cast<double>(out.periods);
  out.p = static_cast<double>(out.count) / periods;
  double trials = out.years;
  if (out.years > 1 && out.count > 0 && out.count < out.periods) {
    trials = std::min(effective_trials(years, out.p, periods), out.years * most_independent);
  }
  out.interval = clopper_pearson_interval(out.p * trials, trials);
  return out;
}

}  // namespace dullspell
