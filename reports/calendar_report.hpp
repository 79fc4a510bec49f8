#pragma once

#include <vector>

#include "engine/decisions/calendar_survey.hpp"
#include "reports/number_text.hpp"

namespace dullspell {

/// Everything that a report of `dullspell calendar` is made from.
struct CalendarReport {
  const Plan& plan;
  const std::vector<CalendarWeek>& weeks;
  const OutcomeOptions& options;
  Units units = Units::metric;  ///< of its texts
};

}  // namespace dullspell
