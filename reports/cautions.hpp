#pragma once

#include <string>
#include <vector>

#include "reports/run_report.hpp"

namespace dullspell {

/// What the figures leave out or rest on, in words for the reader: notes of the plan, defaults of
/// the places, the kind of record.
std::vector<std::string> report_notes(const RunReport& report);

/// What a plan's places are made from and leave to defaults.
std::vector<std::string> place_notes(const Plan& plan, Units units);

/// Warnings about harm that fit the plan's kit.
std::vector<std::string> report_cautions(const Plan& plan);

}  // namespace dullspell
