#pragma once

#include <optional>
#include <vector>

#include "engine/decisions/kit_options.hpp"
#include "engine/decisions/least_size.hpp"
#include "engine/decisions/no_size.hpp"
#include "engine/study/budget.hpp"

namespace dullspell {

/// Volts that a battery's Ah are counted at unless the plan states them: four LFP cells in series.
constexpr double kUsualNominal_v = 12.8;

/// A size that people would think of, for the table.
struct SizeRow {
  enum class Kind { common, least, stated };
  Kind kind = Kind::common;
  SizeRisk risk;
  double days_of_autonomy = 0.0;
  double panels_wh_per_day = 0.0;
  double draw_wh_per_day = 0.0;
};

/// The least battery for one size of panels.
struct FrontierPoint {
  double panels_w = 0.0;
  LeastSize battery;
  double days_of_autonomy = 0.0;  ///< 0 without a least size
};

/// Everything that `dullspell size` says.
struct SizeStudy {
  SizeQuestion question;
  SizeOptions run;
  std::uint64_t allowed = 0;  ///< flat stays that the target allows
  LeastSize answer;
  Plan plan;                            ///< with the least size, or the largest if none does
  PreparedPlan prepared;                ///< the same
  Budget budget;                        ///< of the same
  std::vector<SizeRow> rows;            ///< in order of size; empty if no size does
  std::optional<SizeRisk> next_common;  ///< the least common size that meets the target
  std::optional<NoSize> no_size;
  std::vector<FrontierPoint> frontier;  ///< in order of panels; empty unless asked for
  std::vector<OptionRisk> options;

  double nominal_v() const { return plan.battery.nominal_v.value_or(kUsualNominal_v); }
};

/// `with_frontier` adds the least batteries for several sizes of panels; the plan must have panels.
SizeStudy study_size(const Plan& plan, const SizeQuestion& question, const SizeOptions& options,
                     bool with_frontier = false, const Progress& progress = {});

/// Steps in which a size is sold, roughly (common practice, no source): 10 below 100, 100 below
/// 2,000, 500 below 10,000, then 1,000; Ah or W.
double common_step(double size);

}  // namespace dullspell
