#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "engine/plan/plan.hpp"
#include "weather/input/source_text.hpp"
#include "weather/place_catalogue.hpp"

namespace dullspell {

constexpr std::size_t kLargestPlan_bytes = 1024 * 1024;

/// Reads and checks a plan. Throws InputError that points at the key.
/// Place files named in the plan are looked for beside it.
/// `settings` change values of the plan before it is checked, see apply_setting().
Plan parse_plan(SourceText source, const PlaceCatalogue& places = PlaceCatalogue::built_in(),
                const std::vector<std::string>& settings = {});

/// The same from a file, "-" being standard input.
Plan read_plan(const std::string& path, const PlaceCatalogue& places = PlaceCatalogue::built_in(),
               const std::vector<std::string>& settings = {});

}  // namespace dullspell
