#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/decisions/risk_summary.hpp"
#include "engine/plan/plan.hpp"
#include "reports/csv_writer.hpp"
#include "reports/data.hpp"
#include "reports/run_tables.hpp"
#include "reports/verdict.hpp"

namespace dullspell {

/// "yes", "no", or "close" where the interval holds the accepted risk.
std::string holds_word(RiskStanding standing);

/// Members `flat`, `holds`, `generator` (null without one).
Data risk_summary_data(const RiskSummary& risk, double accepted);

/// Whether a share is so near to none or all that only hours flat tell two rows apart.
bool tells_nothing(const Proportion& flat);

/// "within ± 0.7 points": of the widest sampling interval among shares with the generator along.
std::string widest_along_text(double half_width);

/// Names of the cells that add_risk_summary_cells() makes, each after a comma.
std::string risk_summary_columns();
/// Shares 0..1 with their intervals, hours; cells without a value are empty.
void add_risk_summary_cells(CsvWriter& csv, const RiskSummary& risk, double accepted);

/// Whether snow may lie on panels somewhere in a survey.
enum class Snow { never, possible };

/// The kit's own notes of a survey: intervals, snow on panels.
std::vector<std::string> survey_notes(Snow snow);

/// What a survey's data begin with.
Data survey_head(std::string_view format, std::string_view program, const OutcomeOptions& options,
                 const Plan& plan);

/// Stays, seed, instruction set.
std::string survey_footer(const OutcomeOptions& options);

}  // namespace dullspell
