#pragma once

#include <optional>
#include <vector>

#include "engine/plan/plan.hpp"
#include "engine/statistics/interval.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/study/budget.hpp"
#include "engine/study/progress.hpp"
#include "engine/study/stay_outcomes.hpp"

namespace dullspell {

/// What is made larger or smaller.
enum class SizeOf { battery, panels };

/// Which part of a kit is asked about, and on which terms.
struct SizeQuestion {
  SizeOf of = SizeOf::battery;
  double accept_risk = 0.1;     ///< 0..1
  bool with_generator = false;  ///< judge the plan with its generator along
};

/// Stays, seed and machine; the tracks follow from the question.
using SizeOptions = OutcomeOptions;

/// Risk at one size.
struct SizeRisk {
  double size = 0.0;  ///< Wh or W
  Proportion flat;
};

/// The least size at which few enough stays run flat, with what was learnt on the way.
struct LeastSize {
  SizeOf of = SizeOf::battery;
  std::optional<SizeRisk> least;  ///< none if no size does
  /// 95 % interval of `least` for this number of stays. The upper end is infinite where so few
  /// stays cannot give one.
  Interval sampling{0.0, 0.0};
  /// The same with what the places' records cannot tell; none without places.
  std::optional<Interval> climate;
  /// With a generator a larger size may be riskier: a size tried above a smaller one that does,
  /// too many stays flat. `least` lies above all of those.
  bool rises_again = false;
  SizeRisk stated;              ///< as in the plan
  SizeRisk largest;             ///< that was tried
  std::vector<SizeRisk> curve;  ///< all that was tried, in order of size
};

/// Plans of one kind of kit in many sizes, each exactly what prepare() makes of the changed plan.
class SizedPlans {
 public:
  /// The plan must have panels if those are sized. Without `with_generator` it stays at home.
  SizedPlans(Plan plan, SizeOf of, bool with_generator);

  /// Batteries of tables that no plan file makes, for exact oracles.
  explicit SizedPlans(PreparedPlan tables);

  const Plan& plan() const { return plan_; }
  const PreparedPlan& stated() const { return stated_; }
  double stated_size() const;

  Plan plan_of(double size) const;
  PreparedPlan prepared(double size) const;

 private:
  Plan plan_;
  SizeOf of_;
  PreparedPlan stated_;
};

/// Judges by the same draws at every size, so that sizes differ by nothing but size. What it
/// guarantees of the answer: see SizeSearch. The same for any number of threads and instruction
/// set.
///
/// The climate interval comes from the answers under climates that the places' records would also
/// allow, on a sixteenth of the stays, as in climate_interval(): their logarithms' central 95 %,
/// moved by what these stays differ from all, and widened in quadrature by sampling.
LeastSize least_size(const Plan& plan, const SizeQuestion& question, const SizeOptions& options,
                     const Progress& progress = {});

/// The same under any weather, without a climate interval.
LeastSize least_size(const SizedPlans& plans, const Sky& sky, const SizeQuestion& question,
                     const SizeOptions& options, const Progress& progress = {});

/// Keeps the order of sizes; a size that is there already is left alone.
void add_to_curve(std::vector<SizeRisk>& curve, const SizeRisk& risk);

/// Flat stays of a plan, generator along if it has one.
std::uint64_t flat_stays(const PreparedPlan& plan, const Sky& sky, const SizeOptions& options);

}  // namespace dullspell
