#pragma once

#include <optional>
#include <string>

#include "engine/plan/plan.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

/// What makes the plan need its places' temperatures: "furnace", "fridge" or "battery outside".
std::optional<std::string> temperatures_needed_by(const Plan& plan);

/// Checks that span several keys. Throws InputError at the key to change; adds to plan.notes what
/// is allowed but worth knowing.
void check_plan(Plan& plan, const TomlSection& root);

}  // namespace dullspell
