#pragma once

#include <vector>

#include "engine/decisions/least_size.hpp"
#include "engine/study/budget.hpp"

namespace dullspell {

/// Why no size of battery or panels is enough.
enum class NoSizeReason {
  balance,         ///< each average day takes more than comes in
  empty_at_first,  ///< it begins with hardly anything in it, and flat hours come before the sun
  cold_store,      ///< a usual night is so cold that the battery withholds much of what it holds
  cold_charge,     ///< in usual daylight the cells are too cold to be charged
  charge_limit,    ///< a limit in W keeps it from taking what comes in
  controllers,     ///< their limits hold back larger panels
  night,           ///< panels: the battery does not last a night, whatever the day brings
  dull_days        ///< nothing of all that: dull days in a row
};

struct NoSize {
  Budget budget;  ///< with the largest size
  std::vector<NoSizeReason> reasons;
};

/// Looks at the plan with the largest size that was tried; reasons in order of weight, at least
/// one.
NoSize why_no_size(const SizedPlans& plans, const LeastSize& answer);

}  // namespace dullspell
