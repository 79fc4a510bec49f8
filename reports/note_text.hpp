#pragma once

#include <string>
#include <vector>

#include "engine/plan/plan.hpp"

namespace dullspell {

/// A plan's note as a sentence for the reader.
std::string note_text(const PlanNote& note, const Plan& plan);

/// All notes of a plan, in its order.
std::vector<std::string> plan_note_texts(const Plan& plan);

}  // namespace dullspell
