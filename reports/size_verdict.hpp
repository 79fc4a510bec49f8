#pragma once

#include <string>
#include <vector>

#include "engine/decisions/size_study.hpp"
#include "reports/number_text.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// The answer in a sentence or two, as a camper would say it.
std::string size_verdict(const Plan& plan, const SizeStudy& study);

/// How the plan's own size stands to what is accepted.
Tone size_tone(const SizeStudy& study);

/// What would help besides the size.
std::vector<std::string> size_helps(const Plan& plan, const SizeStudy& study);

/// What the sizes mean and rest on.
std::vector<std::string> size_notes(const SizeStudy& study, Units units);

/// Why no size lasts.
std::string reason_text(const SizeStudy& study, NoSizeReason reason);

/// Whether the plan's own size is among those that last.
bool stated_meets(const SizeStudy& study);

}  // namespace dullspell
