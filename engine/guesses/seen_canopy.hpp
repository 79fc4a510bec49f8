#pragma once

#include <cstddef>

#include "engine/guesses/reading.hpp"
#include "engine/plan/plan.hpp"

namespace dullspell {

/// A glance at what the panels bring at a camp on a day of that sky, W.
Reading panel_glance(std::size_t camp, const LocalTime& at, const KnownSky& sky, double watts);

/// How far what a display of the panels shows may be off the plan's figures though its canopy
/// holds, W, one standard deviation: the display, passing clouds, how clear such a day is, and the
/// doubt of the harvest that the plan's own readings leave. `reading` is of panels at a time.
double panel_doubt_w(const Plan& plan, const Reading& reading);

/// Whether some canopy gives what was seen.
enum class SeenFit {
  fits,
  above_open,     ///< the plan's figures make it less even without crowns
  below_thickest  ///< and more even below the thickest crowns that a plan may state
};

/// What watts that were seen at a camp say of its canopy.
struct SeenCanopy {
  double here_w = 0.0;   ///< by the plan's figures, at the camp as it states it
  double open_w = 0.0;   ///< and in the open
  double doubt_w = 0.0;  ///< panel_doubt_w() at the canopy
  SeenFit fit = SeenFit::fits;
  double canopy = 0.0;  ///< at which so much is shown; where none fits, the nearest that may be
  /// Canopies that show a doubt_w more, and less.
  double least = 0.0, most = 0.0;
};

/// The canopy at which ReadingModel shows what was seen, all other figures of the plan holding.
/// `reading` is of panels at a time, under the camp's trees, at which the sun is up.
SeenCanopy seen_canopy(const Plan& plan, const Reading& reading);

}  // namespace dullspell
