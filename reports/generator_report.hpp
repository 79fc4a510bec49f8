#pragma once

#include "engine/decisions/generator_schedule.hpp"
#include "reports/run_report.hpp"

namespace dullspell {

/// Everything that a report of a generator's hours is made from.
struct GeneratorReport {
  const Plan& plan;
  const PreparedPlan& prepared;
  const GeneratorSchedule& schedule;
  const Budget& budget;
  GeneratorRule stated = GeneratorRule::night;  ///< of the plan, which another one replaces here
  Units units = Units::metric;

  RunReport run() const {
    return {plan, prepared, schedule.result, budget, nullptr, nullptr, units};
  }
};

}  // namespace dullspell
