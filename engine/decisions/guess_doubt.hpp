#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/guesses/guess.hpp"
#include "engine/kernel/instruction_set.hpp"
#include "engine/plan/plan.hpp"
#include "engine/statistics/interval.hpp"
#include "engine/study/progress.hpp"

namespace dullspell {

/// How much of the variance of `y` each of the inputs brings by itself: first-order shares, from a
/// fit of Hermite polynomials up to the third order (Sudret 2008, Reliability Engineering & System
/// Safety 93:964). `inputs` are standard normal, [input][run]; shares are held to 0..1.
std::vector<double> first_order_shares(const std::vector<std::vector<double>>& inputs,
                                       std::span<const double> y);

/// The risk with the guesses drawn from their spreads.
struct GuessDoubt {
  struct Part {
    std::string name;
    double spread;
    bool is_share;
    double share;  ///< of the doubt's variance that this guess brings by itself, 0..1
  };
  std::vector<Part> parts;  ///< greatest first
  double rest = 0.0;        ///< what they bring only together, and sampling
  Interval flat{0.0, 1.0};  ///< central 95 % of the risk, generator left at home
  double flat_mean = 0.0;
  std::uint64_t runs = 0, stays_each = 0;
};

constexpr std::size_t kGuessRuns = 256;

struct GuessDoubtOptions {
  std::uint64_t stays = 20'000;  ///< of the study: each run takes an eighth of it, at least 256
  std::uint64_t seed = 1;
  int threads = 0;
  InstructionSet instruction_set = best_instruction_set();
};

/// Runs the plan kGuessRuns times with its guesses off by a Latin hypercube of normal deviates, on
/// the same weather each time; none if nothing in it is a guess.
std::optional<GuessDoubt> guess_doubt(const Plan& plan, const GuessDoubtOptions& options,
                                      const Progress& progress = {});

}  // namespace dullspell
