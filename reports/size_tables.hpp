#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/decisions/size_study.hpp"
#include "reports/number_text.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// The figures and tables of `dullspell size`, as its text and its page show them. `plan` is as it
/// was read.

bool sizes_battery(const SizeStudy& study);

/// "3325 Wh", "12.3 kWh" on a label, "600 W" of panels.
std::string size_text(SizeOf of, double size);

/// A least size, rounded up as far as its interval supports, so that it is never too small.
double rounded_least(const LeastSize& answer);
std::string least_text(const LeastSize& answer);

/// "3295–3355 Wh", rounded alike; "3295 Wh or more" where so few stays give no upper end.
std::string size_range(SizeOf of, double least, const Interval& interval);

/// "260 Ah", and a size that is sold: "300 Ah (3840 Wh)", "700 W".
std::string ah_text(const SizeStudy& study, double wh);
std::string common_text(const SizeStudy& study, double size);

/// What is asked: "90 of 100 stays", "every stay"; " with the generator left at home".
std::string target_text(const SizeQuestion& question);
std::string generator_text(const Plan& plan, const SizeQuestion& question);

/// Sizes that people would think of, in order; all sizes that were tried.
Table sizes_table(const SizeStudy& study);
Table tried_table(const SizeStudy& study);

/// The least battery for each size of panels.
Table frontier_table(const SizeStudy& study);

/// The plan's options, those that state a price or a weight with it.
Table options_table(const Plan& plan, const SizeStudy& study, Units units);

/// An option that lasts and has the least of a figure.
struct BestOption {
  std::string_view kind;  ///< "cheapest", "lightest"
  const OptionRisk& option;
  std::string figure;  ///< "2300 EUR", "32 kg"
  bool sure;           ///< also by its climate interval
};
std::vector<BestOption> best_options(const Plan& plan, const SizeStudy& study, Units units);

/// Which options last, in a sentence or two.
std::string options_sentence(const Plan& plan, const SizeStudy& study, Units units);

}  // namespace dullspell
