#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "engine/statistics/paired_difference.hpp"
#include "engine/study/stay_outcomes.hpp"
#include "engine/study/study.hpp"

namespace dullspell {

enum class LeverKind {
  load_left_out,
  load_halved,
  fridge_left_out,
  panels_tilted,
  panels_turned,
  more_panels,
  more_battery,
  open_camp,
  cooler_furnace,
  inverter_off_at_night,
  shorter_stay,
  generator_hour,
};

/// "load_left_out".
std::string to_string(LeverKind kind);

/// One change to a plan, and the plan with it.
struct Lever {
  LeverKind kind{};
  std::string subject;  ///< the load's name; else empty
  std::string change;   ///< "laptop 2 h a day in place of 4 h"
  std::string doing;    ///< the same as the beginning of a sentence: "Using the laptop 2 h ..."
  Plan plan;

  /// Its risk is that with the generator along, which is what it changes.
  bool with_generator() const { return kind == LeverKind::generator_hour; }
};

/// Every lever that the plan has and that may change something, in the order of LeverKind.
std::vector<Lever> levers_of(const Plan& plan);

/// What a lever does to the risk, on the same draws.
struct LeverEffect {
  Lever lever;
  Proportion flat;
  PairedDifference difference;             ///< to the plan as it is, generator at home
  Interval difference_climate{-1.0, 1.0};  ///< for what the places' records cannot tell besides
  double flat_h = 0.0;                     ///< mean hours flat of a stay
  MeanDifference flat_h_difference;        ///< to the plan as it is
  /// Hours that the generator runs by its rule, a stay, against the plan's; none without one there.
  std::optional<MeanDifference> generator_h;

  double points_off() const { return -difference.difference; }
};

struct LeverStudy {
  StudyResult base;  ///< the plan as it is
  /// Fewest stays flat first, then fewest hours; then as levers_of().
  std::vector<LeverEffect> effects;
};

/// Runs a plan, also given prepared, and each of its levers on stays 0 .. stays - 1.
/// `options.precision` must be none.
/// Neither threads nor the instruction set change the result.
LeverStudy run_levers(const Plan& plan, const PreparedPlan& prepared, const StudyOptions& options,
                      const Progress& progress = {});

}  // namespace dullspell
