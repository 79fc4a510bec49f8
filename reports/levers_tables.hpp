#pragma once

#include <cstddef>
#include <vector>

#include "reports/levers_report.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// The tables of `dullspell levers`, as its text and its page show them.

/// What a lever does to the risk, by the interval of its difference.
enum class Help { helps, unclear, hurts };
Help help_of(const LeverEffect& effect);

/// What helps, what makes no clear difference, what hurts; by points within each.
std::vector<const LeverEffect*> grouped_effects(const LeversReport& report);

/// At most `top` changes, below the plan as it is.
Table levers_table(const LeversReport& report, std::size_t top);

/// The risk with each change beside what is accepted; all changes, in the same order.
Table risks_after_table(const LeversReport& report);

}  // namespace dullspell
