#pragma once

#include "engine/kit/generator.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

/// The table [generator].
Generator read_generator(TomlSection& section);

}  // namespace dullspell
