#pragma once

#include <optional>
#include <vector>

#include "engine/guesses/reading.hpp"
#include "engine/guesses/seen_canopy.hpp"
#include "engine/guesses/shade_table.hpp"
#include "reports/number_text.hpp"

namespace dullspell {

/// Watts that somebody saw, and what they say of the canopy.
struct AnsweredGlance {
  Reading reading;
  SeenCanopy answer;
};

/// Everything that a report of `dullspell shade` is made from.
struct ShadeReport {
  const Plan& plan;
  const std::vector<ShadeTable>& camps;  ///< at least one
  std::optional<AnsweredGlance> seen;    ///< at the first of them
  bool date_stated = false;              ///< else theirs are in the middle of their nights
  Units units = Units::metric;           ///< of its texts
};

}  // namespace dullspell
