#pragma once

#include <optional>
#include <string>
#include <vector>

#include "reports/document.hpp"
#include "reports/run_report.hpp"

namespace dullspell {

/// "Bring fuel for 4.8 L: one stay in 100 burns more."; nothing where hardly any is burnt. Of a
/// plan with a generator.
std::optional<std::string> fuel_text(const RunReport& report);

/// What to do after a run.
std::vector<Step> run_steps(const RunReport& report);

}  // namespace dullspell
