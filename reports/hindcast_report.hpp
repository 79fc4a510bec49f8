#pragma once

#include "reports/run_report.hpp"

namespace dullspell {

/// Everything that a report of a hindcast is made from.
struct HindcastReport {
  const Plan& plan;
  const PreparedPlan& prepared;
  const PastReport& past;
  const StudyResult& predicted;
  Units units = Units::metric;  ///< of its texts
};

}  // namespace dullspell
