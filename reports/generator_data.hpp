#pragma once

#include <string>
#include <string_view>

#include "reports/data.hpp"
#include "reports/generator_report.hpp"

namespace dullspell {

/// Tables of a plan that say the same rule: rule = "levels" and its [[generator.level]].
std::string levels_as_plan(const PreparedPlan& prepared);

/// Every level, a row an hour that allows the generator.
Data generator_schedule_data(const GeneratorReport& report, std::string_view program);

}  // namespace dullspell
