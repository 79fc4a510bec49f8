#pragma once

#include <vector>

#include "engine/kit/inverter.hpp"
#include "engine/plan/plan_note.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

struct ReadInverter {
  Inverter inverter;
  std::vector<plan_note::InverterMisfit> misfits;  ///< points that its loss cannot follow
};

/// The tables [inverter] and [converter].
ReadInverter read_inverter(TomlSection& section);
Converter read_converter(TomlSection& section);

}  // namespace dullspell
