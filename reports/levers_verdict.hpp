#pragma once

#include <string>
#include <vector>

#include "reports/levers_report.hpp"

namespace dullspell {

/// The change that helps most, by how much, and whether it is enough.
std::string levers_verdict(const LeversReport& report);

std::vector<std::string> levers_notes(const LeversReport& report);
std::vector<std::string> levers_cautions(const LeversReport& report);

}  // namespace dullspell
