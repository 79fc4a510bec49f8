#pragma once

#include <cstddef>
#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "reports/json_parts.hpp"
#include "reports/number_text.hpp"
#include "reports/run_report.hpp"
#include "reports/table.hpp"
#include "reports/text_writer.hpp"

namespace dullspell {

/// Everything that a report of a hindcast is made from.
struct HindcastReport {
  const Plan& plan;
  const PreparedPlan& prepared;
  const PastReport& past;
  const StudyResult& predicted;
  Units units = Units::metric;  ///< of its texts
};

/// Past years beside the model, in sentences that a camper would say.
std::string hindcast_verdict(const HindcastReport& report);
/// Where the past years stand to what the plan accepts; plain for a typical year.
Tone hindcast_tone(const HindcastReport& report);
/// Whether the interval of the past years and that of the model, climate included, overlap.
bool agree(const HindcastReport& report);

/// Risk by date, generator left at home.
Table past_days_table(const HindcastReport& report);

/// The years with flat periods, most of them first, then by the energy that is missing.
std::vector<PastYear> worst_years(const HindcastResult& past, std::size_t most);
Table years_table(const HindcastReport& report, const std::vector<PastYear>& years);
std::string years_never_flat(const HindcastResult& past);

/// Whether past years and the model both tell of a generator, and what they tell.
bool tells_generator(const HindcastReport& report);
Table past_generator_table(const HindcastReport& report);

std::vector<std::string> hindcast_notes(const HindcastReport& report);
std::string hindcast_footer(const HindcastReport& report);

/// The report of `dullspell hindcast` for people.
void write_hindcast_text(std::ostream& out, const HindcastReport& report, TextStyle style = {});

/// The same for programs, format "dullspell.hindcast/1".
Json hindcast_json(const HindcastReport& report, std::string_view program);
void write_hindcast_json(std::ostream& out, const HindcastReport& report, std::string_view program);

/// "In the record: 3 days with ..., first in line 12."
std::string finding_text(const RecordFinding& finding);

/// What past years would have done, in one sentence, for the report of a run.
std::string past_years_sentence(const PastReport& past);

/// The same for its JSON.
Json past_years_json(const PastReport& past, const PreparedPlan& prepared);

}  // namespace dullspell
