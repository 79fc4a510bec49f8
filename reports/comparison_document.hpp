#pragma once

#include <string_view>
#include <vector>

#include "engine/decisions/plan_comparison.hpp"
#include "reports/document.hpp"
#include "reports/number_text.hpp"

namespace dullspell {

/// The report of `dullspell compare`. At least two plans, up to 26: each goes by a letter.
/// `program` is the program's name and version. Numbers for programs are metric, texts in `units`.
Document comparison_document(const std::vector<ComparedPlan>& plans, std::string_view program,
                             Units units = Units::metric);

}  // namespace dullspell
