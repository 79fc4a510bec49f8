#pragma once

#include "engine/plan/plan.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

/// The tables [[reading]] of a plan whose camps and kit are read.
std::vector<Reading> read_readings(TomlSection& root, const Plan& plan);

}  // namespace dullspell
