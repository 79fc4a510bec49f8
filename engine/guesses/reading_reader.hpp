#pragma once

#include "engine/plan/plan.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

/// The tables [[reading]] of a plan whose camps and kit are read.
std::vector<Reading> read_readings(TomlSection& root, const Plan& plan);

/// The key under which a plan states what was read; of a charge the later one.
const char* key_of(ReadingKind kind);

}  // namespace dullspell
