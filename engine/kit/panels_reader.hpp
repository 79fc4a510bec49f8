#pragma once

#include <optional>
#include <vector>

#include "engine/kit/panels.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

constexpr Range kPanelsRange_w{kLeastPanels_w, kMostPanels_w, "W"};

struct ReadPanels {
  std::vector<Controller> controllers;
  std::vector<PanelGroup> panels;
};

/// Most that a cable may take of the rated power: beyond, its figures cannot be meant.
constexpr double kMostCableShare = 0.25;

/// The tables [[controller]] and [[panels]] of a plan whose battery has that voltage, if stated.
ReadPanels read_panels(TomlSection& root, const std::optional<double>& battery_v);

}  // namespace dullspell
