#pragma once

#include <iosfwd>
#include <string_view>
#include <vector>

#include "engine/decisions/plan_comparison.hpp"
#include "reports/number_text.hpp"

namespace dullspell {

/// The report of `dullspell compare` as a page. At least two plans, up to 26. `program` is the
/// program's name and version.
void write_compare_page(std::ostream& out, const std::vector<ComparedPlan>& plans,
                        std::string_view program, Units units = Units::metric);

}  // namespace dullspell
