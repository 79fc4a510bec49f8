#pragma once

#include "engine/budget.hpp"
#include "engine/plan.hpp"
#include "engine/prepared_plan.hpp"
#include "engine/study.hpp"

namespace dullspell {

/// Everything that a report of a run is made from.
struct RunReport {
  const Plan& plan;
  const PreparedPlan& prepared;
  const StudyResult& result;
  const Budget& budget;
};

}  // namespace dullspell
