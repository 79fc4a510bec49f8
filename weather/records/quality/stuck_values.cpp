#include "weather/records/quality/stuck_values.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace dullspell {
namespace {

std::vector<Run> runs_of(const std::vector<RecordedDay>& days,
                         const std::vector<std::optional<double>>& values) {
  constexpr double kRounding = 1e-9;
  std::vector<Run> runs;
  for (std::size_t i = 0; i < days.size(); ++i) {
    if (!values[i]) continue;
    const bool goes_on = !runs.empty() && runs.back().last == i &&
                         days[i].date == days[i - 1].date + std::chrono::days{1} &&
                         std::abs(*values[i] - *values[i - 1]) < kRounding;
    if (goes_on) {
      ++runs.back().last;
    } else {
      runs.push_back({i, i + 1});
    }
  }
  return runs;
}

// How likely a day repeats the value of the day before, by season, from the runs below `cap` days
// alone, so that stuck sensors have no say: if runs of k days are as p^k, all such runs but the
// shortest over all but the longest are p.
class Repeats {
 public:
  explicit Repeats(std::size_t cap) : cap_(cap) {}

  void add(const Run& run, int month) {
    const auto m = static_cast<std::size_t>(month);
    all_runs_ += 1.0;
    if (run.length() < cap_ && run.length() > 1) but_shortest_[m] += 1.0;
    if (run.length() + 1 < cap_) but_longest_[m] += 1.0;
  }

  /// Length that a run of this season reaches by chance in one of 1000 files: coarsely rounded
  /// values of steady weather repeat often. At least the cap.
  std::size_t least_stuck_length(int month) const {
    constexpr double kChance = 1e-3;
    double top = 0.0, bottom = 0.0;
    for (const int m : {month + 11, month, month + 1}) {
      top += but_shortest_[static_cast<std::size_t>(m % 12)];
      bottom += but_longest_[static_cast<std::size_t>(m % 12)];
    }
    if (top == 0.0) return cap_;
    if (top >= bottom) return std::numeric_limits<std::size_t>::max();
    const double longest = 1.0 + std::log(kChance / all_runs_) / std::log(top / bottom);
    return std::max(cap_, static_cast<std::size_t>(std::ceil(longest)));
  }

 private:
  std::size_t cap_;
  double all_runs_ = 0.0;
  std::array<double, 12> but_shortest_{}, but_longest_{};
};

}  // namespace

std::vector<Run> stuck_runs(const std::vector<RecordedDay>& days,
                            const std::vector<std::optional<double>>& values, std::size_t least) {
  const std::vector<Run> runs = runs_of(days, values);
  const auto month = [&](const Run& run) { return month_index(days[run.first].date); };
  Repeats repeats(least);
  for (const Run& run : runs) repeats.add(run, month(run));
  std::vector<Run> stuck;
  for (const Run& run : runs) {
    if (run.length() < least) continue;
    if (run.length() >= repeats.least_stuck_length(month(run))) stuck.push_back(run);
  }
  return stuck;
}

}  // namespace dullspell
