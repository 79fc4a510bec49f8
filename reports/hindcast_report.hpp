#pragma once

#include <iosfwd>
#include <string>
#include <string_view>

#include "reports/json_parts.hpp"
#include "reports/number_text.hpp"
#include "reports/run_report.hpp"
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

/// The report of `dullspell hindcast` for people.
void write_hindcast_text(std::ostream& out, const HindcastReport& report, TextStyle style = {});

/// The same for programs, format "dullspell.hindcast/1".
void write_hindcast_json(std::ostream& out, const HindcastReport& report, std::string_view program);

/// "In the record: 3 days with ..., first in line 12."
std::string finding_text(const RecordFinding& finding);

/// What past years would have done, in one sentence, for the report of a run.
std::string past_years_sentence(const PastReport& past);

/// The same for its JSON.
Json past_years_json(const PastReport& past, const PreparedPlan& prepared);

}  // namespace dullspell
