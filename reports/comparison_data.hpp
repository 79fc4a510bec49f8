#pragma once

#include <iosfwd>
#include <string_view>
#include <vector>

#include "engine/decisions/plan_comparison.hpp"
#include "reports/data.hpp"

namespace dullspell {

/// The result of `dullspell compare` for programs, format "dullspell.compare/1": what stands before
/// the verdict, which is all.
Data comparison_data(const std::vector<ComparedPlan>& plans, std::string_view program);

/// One line a plan, the differences being those to the first.
void write_comparison_csv(std::ostream& out, const std::vector<ComparedPlan>& plans);

}  // namespace dullspell
