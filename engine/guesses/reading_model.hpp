#pragma once

#include <memory>
#include <span>
#include <vector>

#include "engine/guesses/guess.hpp"
#include "engine/stay/prepared_plan.hpp"

namespace dullspell {

/// The sky over a reading on one date: clearness is `k` plus `k_spread` times an unknown deviate.
struct ReadingSky {
  Date date{};
  double k = 0.0;
  double k_spread = 0.0;

  bool operator==(const ReadingSky&) const = default;
};

/// What a display shows if a plan's figures hold, by the hours of the engine with the uses that the
/// plan expects. Not for several threads at once.
class ReadingModel {
 public:
  /// `plan` is the one that has the reading.
  ReadingModel(const Plan& plan, const Reading& reading);

  /// Skies of the dates on which panels matter to it, in order; none if they do not.
  const std::vector<ReadingSky>& skies() const { return skies_; }

  /// Standard deviation of what is shown beside what the figures make it, where so much is shown:
  /// whole digits of the display, its error, clouds that pass, and loads that run by chance or vary
  /// from day to day. In the units of Reading::shown.
  double error(double shown) const;

  /// Of what the reading says.
  double error() const { return error(reading_.shown); }

  /// Whether a guess can change what is shown.
  bool depends_on(const Guess& guess) const;

  /// What the display would show, in the units of Reading::shown. `plan` is the constructor's with
  /// other figures; `deviates` are those of skies().
  double shown(const Plan& plan, std::span<const double> deviates) const;

  /// The same as though every date's clearness were as stated.
  double shown(const Plan& plan) const;

 private:
  double shown_charge(const Plan& plan, std::span<const double> deviates) const;
  double varying_wh(const Plan& plan) const;

  std::shared_ptr<const PreparedPlan> prepared(const Plan& plan) const;

  Reading reading_;
  std::shared_ptr<const PreparedPlan> stated_;  ///< by the constructor's plan; for its dates
  std::vector<ReadingSky> skies_;
  double stated_w_ = 0.0;   ///< of panels at a time, by the constructor's plan
  double by_chance_ = 0.0;  ///< of loads, in the units of Reading::shown
  /// The latest that was asked about, and what of it the panels' tables depend on: most guesses
  /// leave these alone.
  mutable std::shared_ptr<const PreparedPlan> latest_;
  mutable std::vector<double> lit_;
};

/// The plan's kit at the reading's camp on its dates, with the loads that were on.
Plan plan_of_reading(const Plan& plan, const Reading& reading);

}  // namespace dullspell
