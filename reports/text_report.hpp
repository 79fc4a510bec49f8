#pragma once

#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "reports/run_report.hpp"

namespace dullspell {

/// The report of `dullspell run` for people, UTF-8, up to 92 columns wide.
void write_text_report(std::ostream& out, const RunReport& report);

/// The energy of an average day, for `dullspell budget` and as a part of the report of a run; the stay
/// has so many nights.
void write_budget(std::ostream& out, const Budget& budget, int nights);

/// A heading and its items, each after a dash.
void write_list(std::ostream& out, std::string_view title, const std::vector<std::string>& items);

/// When the generator runs, by its rule and windows.
std::string generator_rule(const Generator& generator);

/// Dates, each camp, kit, and what is known of the stay so far: a line each.
std::vector<std::string> plan_summary(const Plan& plan, const PreparedPlan& prepared);

/// Title, dates, camps and kit in a few lines.
void write_plan_summary(std::ostream& out, const Plan& plan, const PreparedPlan& prepared);

}  // namespace dullspell
