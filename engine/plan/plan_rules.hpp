#pragma once

#include "engine/plan/plan.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

/// Checks that span several keys. Throws InputError at the key to change; adds to plan.notes what
/// is allowed but worth knowing.
void check_plan(Plan& plan, const TomlSection& root);

}  // namespace dullspell
