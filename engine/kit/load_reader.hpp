#pragma once

#include <optional>
#include <vector>

#include "engine/kit/load.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

/// The key `side` of a load or a fridge.
LoadSide read_side(TomlSection& section, LoadSide otherwise);

/// A table [[load]], named unlike the `others`; amperes are of a battery of `nominal_v`.
Load read_load(TomlSection& section, const std::vector<Load>& others,
               std::optional<double> nominal_v);

}  // namespace dullspell
