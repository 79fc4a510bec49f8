#pragma once

#include <vector>

#include "engine/kit/panels.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

constexpr Range kPanelsRange_w{kLeastPanels_w, kMostPanels_w, "W"};

struct ReadPanels {
  std::vector<Controller> controllers;
  std::vector<PanelGroup> panels;
};

/// The tables [[controller]] and [[panels]] of a plan.
ReadPanels read_panels(TomlSection& root);

}  // namespace dullspell
