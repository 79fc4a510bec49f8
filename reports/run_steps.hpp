#pragma once

#include <vector>

#include "reports/document.hpp"
#include "reports/run_report.hpp"

namespace dullspell {

/// What to do after a run.
std::vector<Step> run_steps(const RunReport& report);

}  // namespace dullspell
