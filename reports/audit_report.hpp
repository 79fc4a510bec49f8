#pragma once

#include "engine/guesses/audit.hpp"
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
};

}  // namespace dullspell
