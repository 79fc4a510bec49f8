#pragma once

#include <optional>
#include <string>
#include <vector>

#include "reports/document.hpp"
#include "reports/run_report.hpp"

namespace dullspell {

/// "Carry 3.2 L of gasoline to have enough in 90 of 100 stays, 4.8 L in 99. That is 0.8 and 1.3
/// tanks of 3.8 L."; nothing where hardly any is burnt. Of a plan with a generator.
std::optional<std::string> fuel_text(const RunReport& report);

/// What to do after a run.
std::vector<Step> run_steps(const RunReport& report);

}  // namespace dullspell
