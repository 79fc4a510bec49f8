#pragma once

#include <algorithm>
#include <vector>

#include "engine/guesses/guess.hpp"
#include "engine/guesses/reading_model.hpp"

namespace dullspell {

/// A reading beside what the figures say of it, in the units of Reading::shown.
struct ReadingFit {
  double listed = 0.0;     ///< by the plan as it is
  double corrected = 0.0;  ///< by the corrected figures
  double error = 0.0;      ///< of the display, the sky and the day, one standard deviation
  /// What is shown less what all other readings and the guesses make expect, in standard errors of
  /// that difference; the larger one where there are two, see ToldBy.
  double off_by = 0.0;
};

/// The guesses once the display was read: joint normal in the guesses' own deviates, which were
/// independent and standard before.
struct Posterior {
  std::vector<Guess> guesses;
  std::vector<double> mean;          ///< deviates
  std::vector<double> covariance;    ///< of the deviates, row by row
  std::vector<ReadingFit> readings;  ///< in the plan's order
  double misfit = 0.0;  ///< half the sum of squares of readings and deviates in their errors
  bool converged = false;

  /// How much of a guess's spread is left, 0..1.
  double left(std::size_t guess) const;

  /// Deviates at which every guess has its expected value: of a share, which is lognormal, above
  /// the middle one. Without any reading that is what the plan states.
  std::vector<double> expected() const;
};

/// How a reading that does not fit is told: by the slopes where the fit ends, or by a second fit
/// without it as well where the figures had to go far.
enum class ToldBy { slopes, second_fit };

/// Corrects the guesses of a plan by its readings: the most likely deviates, and their covariance
/// there, by Gauss and Newton (Bates & Watts 1988, Nonlinear Regression Analysis, ch. 2), deviates
/// being standard normal before. Skies are unknowns beside them, one a date, and left out of what
/// is returned.
Posterior posterior_of(const Plan& plan, ToldBy told_by = ToldBy::second_fit);

/// What one more reading would show by the corrected figures, how it would depend on each guess,
/// and its error with that of its skies.
struct ReadingSlope {
  double shown = 0.0;
  std::vector<double> per_deviate;  ///< one a guess
  double error = 0.0;
};
ReadingSlope slope_of(const Plan& plan, const Posterior& posterior, const Reading& reading);

/// The plan with the expected values in place of its guesses.
Plan corrected(const Plan& plan, const Posterior& posterior);

/// Two values of a deviate, to both sides of another, from which slopes are taken: within its
/// bounds, beyond which nothing changes.
struct BothSides {
  double below, above;

  BothSides(double at, double least, double most)
      : below(std::max(at - kStep, least)), above(std::min(at + kStep, most)) {}

  double apart() const { return above - below; }

 private:
  static constexpr double kStep = 0.05;
};

/// Slope of a function of the guesses' deviates along one of them.
template <class Function>
double slope_along(std::vector<double> at, const std::vector<Guess>& guesses, std::size_t i,
                   Function value) {
  const BothSides sides(at[i], guesses[i].least, guesses[i].most);
  at[i] = sides.above;
  const double above = value(at);
  at[i] = sides.below;
  return (above - value(at)) / sides.apart();
}

/// From so many standard errors on a reading does not fit the others.
constexpr double kDoesNotFit = 3.0;

/// A plan as its author states it, and what readings make of its guesses.
struct PlanCorrection {
  Plan listed;
  Posterior posterior;
};

/// The plan as its author states it, without what readings made of it.
const Plan& listed_plan(const Plan& plan);

/// A plan with its guesses corrected by its readings, and notes that say so; as it is without any.
Plan corrected_by_readings(Plan listed);

}  // namespace dullspell
