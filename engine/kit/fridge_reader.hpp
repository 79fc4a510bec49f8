#pragma once

#include "engine/kit/fridge.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

/// The table [fridge].
Fridge read_fridge(TomlSection& section);

}  // namespace dullspell
