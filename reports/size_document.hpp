#pragma once

#include <string_view>

#include "engine/decisions/size_study.hpp"
#include "reports/document.hpp"
#include "reports/number_text.hpp"

namespace dullspell {

/// The report of `dullspell size`. `plan` is as it was read; `program` is the program's name and
/// version. Numbers for programs are metric, texts in `units`.
Document size_document(const Plan& plan, const SizeStudy& study, std::string_view program,
                       Units units = Units::metric);

}  // namespace dullspell
