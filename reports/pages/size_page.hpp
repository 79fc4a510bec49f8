#pragma once

#include <iosfwd>
#include <string_view>

#include "engine/decisions/size_study.hpp"
#include "reports/number_text.hpp"

namespace dullspell {

/// The report of `dullspell size` as a page. `plan` is as it was read; `program` is the program's
/// name and version.
void write_size_page(std::ostream& out, const Plan& plan, const SizeStudy& study,
                     std::string_view program, Units units = Units::metric);

}  // namespace dullspell
