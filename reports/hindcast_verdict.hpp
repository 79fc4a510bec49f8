#pragma once

#include <string>
#include <vector>

#include "reports/hindcast_report.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// What the record is called: by itself, else by its file.
std::string record_name(const WeatherRecord& record);

/// "12 %". Years carry the doubt, not periods: no more digits than tell a rare thing from none.
std::string percent(const YearsShare& share);

/// Past years beside the model, in sentences that a camper would say.
std::string hindcast_verdict(const HindcastReport& report);
/// Where the past years stand to what the plan accepts; plain for a typical year.
Tone hindcast_tone(const HindcastReport& report);
/// Whether the interval of the past years and that of the model, climate included, overlap.
bool agree(const HindcastReport& report);

/// What that says of the model and the record.
std::string agreement_text(const HindcastReport& report);

/// Whether past years and the model both tell of a generator.
bool tells_generator(const HindcastReport& report);

/// In how many years the battery never ran flat.
std::string years_never_flat(const HindcastResult& past);

std::vector<std::string> hindcast_notes(const HindcastReport& report);
std::string hindcast_footer(const HindcastReport& report);

/// "In the record: 3 days with ..., first in line 12."
std::string finding_text(const RecordFinding& finding);

/// What past years would have done, in one sentence, for the report of a run.
std::string past_years_sentence(const PastReport& past);

}  // namespace dullspell
