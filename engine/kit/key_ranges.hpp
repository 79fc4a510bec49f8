#pragma once

#include "weather/input/toml_section.hpp"

namespace dullspell {

/// What keys of several pieces of kit may state.
constexpr Range kShareRange{0.0, 1.0};
constexpr Range kWattsRange{0.0, 20000.0, "W"};

}  // namespace dullspell
