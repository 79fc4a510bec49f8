#pragma once

#include <string>
#include <vector>

#include "engine/decisions/plan_comparison.hpp"
#include "reports/number_text.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// The tables of `dullspell compare`, as its text and its page show them; a row a plan.

/// Generators left at home, or each plan as it is written.
enum class View { home, planned };

/// "A" for the first, up to 26 plans.
std::string plan_letter(std::size_t plan);
bool any_generator(const std::vector<ComparedPlan>& plans);
const TrackRisk& risk_of(const ComparedPlan& plan, View view);
/// Second minus first.
PairedDifference difference_of(const ComparedPlan& first, const ComparedPlan& second, View view);

/// The first of those with the fewest flat stays.
std::size_t safest_plan(const std::vector<ComparedPlan>& plans, View view);

/// The risk of each plan and what it differs from the first one's.
Table risks_table(const std::vector<ComparedPlan>& plans, View view);

/// Differences to the first plan alone, in every view that the plans have.
Table differences_table(const std::vector<ComparedPlan>& plans);

Table generators_table(const std::vector<ComparedPlan>& plans, Units units);
Table balances_table(const std::vector<ComparedPlan>& plans);

}  // namespace dullspell
