#pragma once

#include <string>

#include "reports/shade_report.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// The tables of `dullspell shade`, three for each camp and date.

/// Whether anything stands around or above the camp.
bool is_shaded(const Camp& camp);

/// "under a canopy of 0.5 and behind its skyline"; "in the open".
std::string under_what(const Camp& camp);

/// "Sun 10 Oct"; where a plan has several camps "camp 2, South Lake Tahoe, CA, Sun 10 Oct".
std::string when_and_where(const Plan& plan, const ShadeTable& shade);

/// A canopy as a plan would state it: "0.62".
std::string canopy_text(double canopy);

/// "13:00–14:00".
std::string hour_text(int hour);

/// Watts by the hour, at the camp and in the open; an hour each in which the sun is up.
Table hours_table(const ShadeReport& report, const ShadeTable& shade);

/// What a day under each sky brings, and what shade takes of it.
Table days_energy_table(const ShadeReport& report, const ShadeTable& shade);

/// What each canopy leaves in the best hour.
Table canopies_table(const ShadeReport& report, const ShadeTable& shade);

}  // namespace dullspell
