#pragma once

#include "engine/plan/plan.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

/// A table [[option]] of a plan whose battery, panels and earlier options are read.
KitOption read_option(TomlSection& section, const Plan& plan);

}  // namespace dullspell
