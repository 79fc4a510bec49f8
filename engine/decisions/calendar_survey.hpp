#pragma once

#include <cstddef>
#include <vector>

#include "engine/decisions/risk_summary.hpp"
#include "engine/plan/plan.hpp"
#include "engine/study/progress.hpp"

namespace dullspell {

constexpr int kWeeksOfYear = 52;

/// 52 dates in the year of `arrive`, seven days apart, in order; `arrive` is one of them.
std::vector<Date> weekly_arrivals(Date arrive);

/// A stay that begins on one of the year's dates.
struct CalendarWeek {
  Date arrive{};
  RiskSummary risk;
};

/// The same stay begun on each of the plan's weekly_arrivals, climate intervals included. The plan
/// must not be under way, nor know days. All weeks see the same draws; neither threads nor the
/// instruction set change the result.
std::vector<CalendarWeek> survey_calendar(const Plan& plan, const OutcomeOptions& options,
                                          const Progress& progress = {});

/// Entries of a ring, one after the other; `last` may lie before `first`, over the ring's end.
struct RingRun {
  std::size_t first = 0;
  std::size_t last = 0;
  std::size_t count = 0;

  bool operator==(const RingRun&) const = default;
};

/// The stretches of a ring in which `holds` is true, in order of their first entries. A whole ring
/// is one run from 0.
std::vector<RingRun> runs_of_ring(const std::vector<bool>& holds);

}  // namespace dullspell
