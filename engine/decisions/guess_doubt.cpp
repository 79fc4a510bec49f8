#include "engine/decisions/guess_doubt.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <Eigen/Core>

#include "engine/guesses/posterior.hpp"
#include "engine/statistics/latin_hypercube.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/study/parallel.hpp"
#include "engine/study/stay_outcomes.hpp"
#include "weather/linear_system.hpp"

namespace dullspell {
namespace {

constexpr std::uint64_t kShareOfStays = 8, kLeastStays = 256;

// Draws of the guesses as the display left them: `normal` are independent, [guess][run].
std::vector<std::vector<double>> deviates_after(const Posterior& posterior,
                                                const std::vector<std::vector<double>>& normal) {
  const auto count = static_cast<Eigen::Index>(normal.size());
  const Eigen::MatrixXd root =
      lower_root(Eigen::Map<const Eigen::MatrixXd>(posterior.covariance.data(), count, count));
  std::vector<std::vector<double>> out = normal;
  for (std::size_t i = 0; i < normal.size(); ++i) {
    for (std::size_t run = 0; run < normal[i].size(); ++run) {
      out[i][run] = posterior.mean[i];
      for (std::size_t j = 0; j <= i; ++j) {
        out[i][run] +=
            root(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) * normal[j][run];
      }
    }
  }
  return out;
}

// Of inputs that hang together: the variance that a straight fit of all of them gives each, what
// two share being halved between them; 0 where it comes out negative.
std::vector<double> shares_of_correlated(const std::vector<std::vector<double>>& inputs,
                                         std::span<const double> y) {
  const auto runs = static_cast<Eigen::Index>(y.size());
  const auto count = static_cast<Eigen::Index>(inputs.size());
  Eigen::MatrixXd terms(runs, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const Eigen::Map<const Eigen::VectorXd> z(inputs[static_cast<std::size_t>(i)].data(), runs);
    terms.col(i) = z.array() - z.mean();
  }
  Eigen::VectorXd values = Eigen::Map<const Eigen::VectorXd>(y.data(), runs);
  values.array() -= values.mean();
  std::vector<double> shares(inputs.size(), 0.0);
  if (!(values.squaredNorm() > 0.0)) return shares;
  const Eigen::VectorXd weights = least_squares(terms, values);
  for (Eigen::Index i = 0; i < count; ++i) {
    shares[static_cast<std::size_t>(i)] =
        std::clamp(weights[i] * terms.col(i).dot(values) / values.squaredNorm(), 0.0, 1.0);
  }
  return shares;
}

}  // namespace

std::vector<double> first_order_shares(const std::vector<std::vector<double>>& inputs,
                                       std::span<const double> y) {
  constexpr Eigen::Index kDegree = 3;
  const auto runs = static_cast<Eigen::Index>(y.size());
  const auto count = static_cast<Eigen::Index>(inputs.size());
  Eigen::MatrixXd terms(runs, 1 + kDegree * count);
  terms.col(0).setOnes();
  for (Eigen::Index i = 0; i < count; ++i) {
    const Eigen::Map<const Eigen::ArrayXd> z(inputs[static_cast<std::size_t>(i)].data(), runs);
    terms.col(1 + kDegree * i) = z;
    terms.col(2 + kDegree * i) = (z.square() - 1.0) / std::sqrt(2.0);
    terms.col(3 + kDegree * i) = (z.cube() - 3.0 * z) / std::sqrt(6.0);
  }
  const Eigen::Map<const Eigen::VectorXd> values(y.data(), runs);
  const double variance = (values.array() - values.mean()).square().mean();
  std::vector<double> shares(inputs.size(), 0.0);
  if (!(variance > 0.0)) return shares;
  const Eigen::VectorXd weights = least_squares(terms, values);
  // What the fit leaves over lends each weight a square of its own, by chance.
  const double left = (values - terms * weights).squaredNorm() /
                      static_cast<double>(std::max<Eigen::Index>(1, runs - terms.cols()));
  const double chance = kDegree * left / static_cast<double>(runs);
  for (Eigen::Index i = 0; i < count; ++i) {
    const double part = weights.segment<kDegree>(1 + kDegree * i).squaredNorm() - chance;
    shares[static_cast<std::size_t>(i)] = std::clamp(part / variance, 0.0, 1.0);
  }
  return shares;
}

std::optional<GuessDoubt> guess_doubt(const Plan& plan, const GuessDoubtOptions& options,
                                      const Progress& progress) {
  const Plan& listed = listed_plan(plan);
  const std::vector<Guess> guesses = guesses_of(listed);
  if (guesses.empty()) return std::nullopt;
  std::vector<std::vector<double>> deviates;
  for (std::size_t i = 0; i < guesses.size(); ++i) {
    deviates.push_back(shuffled_normals(
        kGuessRuns, {options.seed, static_cast<std::uint32_t>(i), 0, DrawPurpose::guess}));
  }
  if (plan.correction) deviates = deviates_after(plan.correction->posterior, deviates);
  GuessDoubt out;
  out.runs = kGuessRuns;
  out.stays_each = std::max(kLeastStays, options.stays / kShareOfStays);
  const OutcomeOptions each{out.stays_each, options.seed, 1, options.instruction_set, Tracks::home};
  std::vector<double> flat(kGuessRuns);
  PartsDone done(progress, "runs with other guesses", kGuessRuns);
  for_each_range(kGuessRuns, 1, options.threads, [&](std::size_t run, std::size_t) {
    std::vector<double> of_run;
    for (const std::vector<double>& of_guess : deviates) of_run.push_back(of_guess[run]);
    const Plan changed = off_by(listed, guesses, of_run);
    flat[run] = static_cast<double>(run_outcomes(prepare_stay(changed), each).count_home()) /
                static_cast<double>(each.stays);
    done.add();
  });

  const std::vector<double> shares =
      plan.correction ? shares_of_correlated(deviates, flat) : first_order_shares(deviates, flat);
  for (std::size_t i = 0; i < guesses.size(); ++i) {
    const double left = plan.correction ? plan.correction->posterior.left(i) : 1.0;
    out.parts.push_back(
        {guesses[i].name, left * guesses[i].spread, guesses[i].is_share, shares[i]});
  }
  std::stable_sort(out.parts.begin(), out.parts.end(),
                   [](const auto& a, const auto& b) { return a.share > b.share; });
  out.rest = std::max(0.0, 1.0 - std::accumulate(shares.begin(), shares.end(), 0.0));
  out.flat_mean = std::accumulate(flat.begin(), flat.end(), 0.0) / static_cast<double>(kGuessRuns);
  std::sort(flat.begin(), flat.end());
  out.flat = {quantile_of_sorted(flat, 0.025), quantile_of_sorted(flat, 0.975)};
  return out;
}

}  // namespace dullspell
