#pragma once

#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "engine/decisions/size_study.hpp"
#include "reports/json_parts.hpp"
#include "reports/number_text.hpp"
#include "reports/text_writer.hpp"

namespace dullspell {

/// The answer in a sentence or two, as a camper would say it.
std::string size_verdict(const Plan& plan, const SizeStudy& study);

/// How the plan's own size stands to what is accepted.
Tone size_tone(const SizeStudy& study);

/// What would help besides the size.
std::vector<std::string> size_helps(const Plan& plan, const SizeStudy& study);

/// What the sizes mean and rest on.
std::vector<std::string> size_notes(const SizeStudy& study, Units units);

/// The report of `dullspell size` for people. `plan` is as it was read.
void write_size_text(std::ostream& out, const Plan& plan, const SizeStudy& study,
                     TextStyle style = {}, Units units = Units::metric);

/// The same for programs, format "dullspell.size/1": all sizes that were tried with their risks.
/// Numbers are metric, notes in `units`.
Json size_json(const Plan& plan, const SizeStudy& study, std::string_view program,
               Units units = Units::metric);
void write_size_json(std::ostream& out, const Plan& plan, const SizeStudy& study,
                     std::string_view program, Units units = Units::metric);

/// A row for each size that was tried, each battery of the frontier and each option.
void write_size_csv(std::ostream& out, const SizeStudy& study);

}  // namespace dullspell
