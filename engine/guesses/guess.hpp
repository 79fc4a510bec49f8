#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "engine/plan/plan.hpp"
#include "engine/statistics/interval.hpp"

namespace dullspell {

/// What a guess is about.
enum class GuessAbout { use, inverter, harvest, canopy, battery };

constexpr double kUnbounded = 1e9;

/// One number of the plan that is a guess.
struct Guess {
  std::string name;
  double spread;  ///< standard deviation
  bool is_share;  ///< of the value; else added to it
  GuessAbout about;
  std::string key;                                    ///< of the plan, as --set takes it
  std::string spread_key;                             ///< of its spread, in [guesses]
  std::string unit;                                   ///< of the value; "" for a share
  std::function<double(const Plan&)> value;           ///< that the plan states
  std::function<void(Plan&, double deviate)> off_by;  ///< changes it by so many deviations
  /// Deviates beyond which the value stays at its bound.
  double least = -kUnbounded, most = kUnbounded;
  std::optional<std::size_t> camp{};  ///< of a canopy: which; nothing, all
};

/// What the plan's author had to guess: one for each load that draws anything, then inverter,
/// fridge, furnace, panels, canopy and battery, as far as the plan has them and a spread is not 0.
/// Where the plan has readings each camp's canopy is a guess of its own, else that of all is one.
std::vector<Guess> guesses_of(const Plan& plan);

/// Of a lognormal factor of mean 1: the standard deviation of its logarithm, its own being
/// `spread`.
double lognormal_sigma(double spread);

/// Where the value lies in 95 of 100 cases, its deviate being normal around `middle` with standard
/// deviation `left`.
Interval likely_range(const Plan& plan, const Guess& guess, double middle, double left);

/// The plan with each guess off by so many of its deviations; as many numbers as guesses.
Plan off_by(Plan plan, const std::vector<Guess>& guesses, const std::vector<double>& deviates);

}  // namespace dullspell
