#pragma once

#include <string>

#include "engine/guesses/audit.hpp"
#include "engine/guesses/display_log.hpp"
#include "engine/statistics/interval.hpp"

namespace dullspell {

/// Everything that an audit is made from.
struct AuditReport {
  const Plan& listed;     ///< as its author states it
  const Plan& corrected;  ///< by its readings
  const Posterior& posterior;
  const Audit& audit;
  Proportion listed_flat, corrected_flat;  ///< stays that run flat, generator left at home
  std::uint64_t stays = 0, seed = 1;
  bool checklist = false;  ///< all readings worth taking are asked for
  std::string log = {};    ///< file of the display's own log, if any
  const LogFindings* log_findings = nullptr;
  std::string written = {};  ///< file that the corrected plan goes to, if any
};

/// Where a guess's value lies in 95 of 100 cases.
struct GuessRanges {
  Interval before, now;  ///< by the list alone, and with the readings
};
inline GuessRanges ranges_of(const AuditReport& report, std::size_t i) {
  const Posterior& posterior = report.posterior;
  const Guess& guess = posterior.guesses[i];
  return {likely_range(report.listed, guess, 0.0, 1.0),
          likely_range(report.listed, guess, posterior.mean[i], posterior.left(i))};
}

}  // namespace dullspell
