#pragma once

#include "engine/kit/battery.hpp"
#include "engine/kit/inverter.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

constexpr Range kCapacityRange_wh{kLeastBattery_wh, kMostBattery_wh, "Wh"};
constexpr Range kCapacityRange_ah{2.0, 10000.0, "Ah"};
constexpr Range kNominalRange_v{3.0, 1000.0, "V"};

/// Where a plan says that the stay is under way.
enum class NowStated { no, in_file, on_command_line };

/// The table [battery]; a stay under way must state how full the battery is. What one full
/// discharge delivered counts through the inverter, if there is one.
Battery read_battery(TomlSection& section, NowStated now, const std::optional<Inverter>& inverter);

}  // namespace dullspell
