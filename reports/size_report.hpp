#pragma once

#include <iosfwd>
#include <string>
#include <string_view>

#include "engine/decisions/size_study.hpp"
#include "reports/text_writer.hpp"

namespace dullspell {

/// The answer in a sentence or two, as a camper would say it.
std::string size_verdict(const Plan& plan, const SizeStudy& study);

/// The report of `dullspell size` for people. `plan` is as it was
/// read.
void write_size_text(std::ostream& out, const Plan& plan, const SizeStudy& study,
                     TextStyle style = {});

/// The same for programs, format "dullspell.size/1": all sizes that were tried with their risks.
void write_size_json(std::ostream& out, const Plan& plan, const SizeStudy& study,
                     std::string_view program);

/// A row for each size that was tried, each battery of the frontier and each option.
void write_size_csv(std::ostream& out, const SizeStudy& study);

}  // namespace dullspell
