#pragma once

#include <string>
#include <vector>

#include "reports/generator_report.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// When the generator may start at hours in a row of a window, and how long it runs then, in whole
/// percent of the battery's display: of levels that are about the same the higher ones stand.
struct ShownLevel {
  int first_hour, last_hour;  ///< clock hours at which to look at the display
  int start_below, run_until;
};

/// Dates in a row with about the same levels.
struct ShownLevels {
  int first_day, last_day;  ///< indices into PreparedPlan::dates
  std::vector<ShownLevel> hours;
};

/// Of one hour that allows the generator.
ShownLevel shown_level(const PreparedPlan& prepared, const HourSlot& slot);

/// Not where a battery so empty has cut off already.
bool is_worth_a_look(const ShownLevel& level);

std::vector<ShownLevels> shown_levels(const PreparedPlan& prepared);

/// The rule to tape to the fridge.
Table levels_table(const PreparedPlan& prepared);

/// What less and more careful rules come to, the plan's own and a plain one among them.
Table careful_table(const GeneratorReport& report);
std::string other_rules_text(const GeneratorReport& report);

}  // namespace dullspell
