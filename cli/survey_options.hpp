#pragma once

#include <string>

#include "cli/output/output_file.hpp"
#include "cli/shared_options.hpp"
#include "engine/study/stay_outcomes.hpp"

namespace dullspell {

/// Options of the commands that ask of one plan what it would risk at many dates or places.
struct SurveyOptionTexts {
  PlanOption plan;
  StudyOptionTexts study;
  UnitsOption units;
  OutputPaths outputs;

  void add_to(Command& command);

  /// Throws InputError, too, for --precision.
  OutcomeOptions options() const;

  /// A plan that can be moved: one under way is refused, days that it knows are dropped, which its
  /// last note then says. Throws InputError.
  Plan read() const;
};

}  // namespace dullspell
