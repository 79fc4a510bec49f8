#pragma once

#include <iosfwd>
#include <string_view>

#include "engine/decisions/size_study.hpp"
#include "reports/data.hpp"

namespace dullspell {

/// The result of `dullspell size` for programs, format "dullspell.size/1", before the verdict and
/// after it: all sizes that were tried with their risks. `plan` is as it was read.
Data size_head(const Plan& plan, const SizeStudy& study, std::string_view program);
Data size_results(const SizeStudy& study);

/// A row for each size that was tried, each battery of the frontier and each option.
void write_size_csv(std::ostream& out, const SizeStudy& study);

}  // namespace dullspell
