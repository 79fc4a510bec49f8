#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/guesses/posterior.hpp"

namespace dullspell {

/// What comes in on an average day of the stay less what goes out, and how far off that may be
/// because of the guesses.
struct DailyBalance {
  double in_wh = 0.0, out_wh = 0.0;
  double spread_wh = 0.0;  ///< standard deviation of in less out

  double left_wh() const { return in_wh - out_wh; }
};

/// What somebody may have done when he wrote a reading down.
enum class Slip { ends_swapped, other_side_of_inverter, half_a_day, other_shade, kilowatt_hours };

/// A reading that does not fit the others, and the slip that would explain it best.
struct Misfit {
  std::size_t reading = 0;  ///< its number in the plan
  double off_by = 0.0;      ///< standard errors
  std::optional<Slip> slip;
};

/// A reading to take.
struct ReadingToTake {
  Reading reading;
  double left = 1.0;  ///< of the balance's spread, once this one and those before it are taken
};

/// What readings say of a plan, and which to take next.
struct Audit {
  DailyBalance listed, corrected;
  std::vector<Misfit> misfits;      ///< slips first, those that explain most before others
  std::vector<ReadingToTake> next;  ///< in the order that narrows the balance fastest
};

/// Most readings that Audit::next holds.
constexpr std::size_t kMostToTake = 5;

/// Audits a plan as its author states it. `posterior` is that of its readings; without any, the
/// guesses as they are.
Audit audit_of(const Plan& listed, const Posterior& posterior);

}  // namespace dullspell
