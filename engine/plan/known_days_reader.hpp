#pragma once

#include "engine/plan/plan.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

/// The tables [[forecast]] and the key `yesterday` of a plan whose dates are read.
void read_known_days(TomlSection& root, Plan& plan);

/// A sky in the keys `sky`, or `k` and `k_spread`, of a table; nothing if it states none.
std::optional<KnownSky> read_sky(TomlSection& section);

}  // namespace dullspell
