#pragma once

#include <cstdint>
#include <iosfwd>
#include <string>
#include <vector>

#include "reports/run_report.hpp"
#include "reports/text_writer.hpp"

namespace dullspell {

/// The report of `dullspell run` for people.
void write_text_report(std::ostream& out, const RunReport& report, TextStyle style = {});

/// The report of `dullspell budget`: the energy of an average day.
void write_budget_text(std::ostream& out, const Plan& plan, const PreparedPlan& prepared,
                       Units units = Units::metric, TextStyle style = {});

/// When the generator runs, by its rule and windows.
std::string generator_rule(const Generator& generator);

/// Dates, each camp, kit, and what is known of the stay so far: a line each.
std::vector<std::string> plan_summary(const Plan& plan, const PreparedPlan& prepared, Units units);

/// Title, dates, camps and kit in a few lines.
void write_plan_summary(TextWriter& writer, const Plan& plan, const PreparedPlan& prepared,
                        Units units);

/// The last line of a report: how it was made.
std::string study_footer(std::uint64_t stays, std::uint64_t seed, InstructionSet instructions);

}  // namespace dullspell
