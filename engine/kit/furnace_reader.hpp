#pragma once

#include "engine/kit/furnace.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

/// The table [furnace].
Furnace read_furnace(TomlSection& section);

}  // namespace dullspell
