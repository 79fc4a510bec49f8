#pragma once

#include <cstddef>
#include <limits>

#include "engine/decisions/levers.hpp"
#include "engine/study/budget.hpp"
#include "reports/number_text.hpp"

namespace dullspell {

/// Everything that a report of levers is made from.
struct LeversReport {
  const Plan& plan;
  const PreparedPlan& prepared;
  const LeverStudy& study;
  const Budget& budget;
  Units units = Units::metric;                                ///< of its texts
  std::size_t top = std::numeric_limits<std::size_t>::max();  ///< levers to show in a text
};

}  // namespace dullspell
