#pragma once

#include <string_view>

namespace dullspell {

/// Whether a load's name says that it guards people or that someone's health hangs on it: alarms
/// and detectors, medical devices. No advice may be to go without such a load. English words only,
/// as far as a name tells (common practice, no source).
bool guards_people(std::string_view load_name);

}  // namespace dullspell
