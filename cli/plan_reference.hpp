#pragma once

#include <span>
#include <string_view>
#include <vector>

namespace dullspell {

/// A key of a plan: what it says, in which unit, and what holds where it is left out.
struct PlanKey {
  std::string_view name, says;
};

/// A table of a plan, or the keys that stand before all tables.
struct PlanTable {
  std::string_view name;   ///< as `dullspell keys` takes it: "battery", "generator.level"
  std::string_view title;  ///< as a plan writes it: "[battery]", "[[generator.level]]"
  std::string_view says;
  std::vector<PlanKey> keys;
};

/// Every key that a plan may hold, in the order in which a plan is usually written. The one source
/// of `dullspell keys` and of the manual page.
std::span<const PlanTable> plan_reference();

/// How values of a plan may be written, a paragraph: units, shares, hours and times.
std::string_view plan_value_forms();

}  // namespace dullspell
