#include "engine/decisions/guess_doubt.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <Eigen/Core>

#include "engine/plan/plan_edit.hpp"
#include "engine/statistics/latin_hypercube.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/study/parallel.hpp"
#include "engine/study/stay_outcomes.hpp"
#include "weather/linear_system.hpp"

namespace dullspell {
namespace {

constexpr std::uint64_t kShareOfStays = 8, kLeastStays = 256;

// Lognormal of mean 1 and the spread as its coefficient of variation.
double factor(double spread, double deviate) {
  const double sigma = std::sqrt(std::log1p(spread * spread));
  return std::exp(sigma * deviate - 0.5 * sigma * sigma);
}

bool never_stops(const Load& load) {
  return load.hours_per_day >= 23.99;
}

}  // namespace

std::vector<Guess> guesses_of(const Plan& plan) {
  std::vector<Guess> out;
  const auto add = [&](std::string name, double spread, bool is_share, auto off_by) {
    if (spread > 0.0) out.push_back({std::move(name), spread, is_share, off_by});
  };
  const GuessSpreads& spreads = plan.guesses;
  for (std::size_t i = 0; i < plan.loads.size(); ++i) {
    const Load& load = plan.loads[i];
    if (load.watts <= 0.0 || load.hours_per_day <= 0.0) continue;
    const double spread = never_stops(load) ? spreads.standby : spreads.loads;
    add(load.name, spread, true, [i, spread](Plan& changed, double deviate) {
      changed.loads[i].watts *= factor(spread, deviate);
    });
  }
  if (plan.inverter && plan.inverter->standby_w > 0.0) {
    add("inverter standby", spreads.standby, true, [spread = spreads.standby](Plan& p, double z) {
      p.inverter->standby_w *= factor(spread, z);
    });
  }
  if (plan.fridge) {
    add("fridge", spreads.fridge, true,
        [spread = spreads.fridge](Plan& p, double z) { p.fridge->running_w *= factor(spread, z); });
  }
  if (plan.furnace && !plan.furnace->hold.empty()) {
    add("heat loss of the cabin", spreads.furnace, true,
        [spread = spreads.furnace](Plan& p, double z) {
          p.furnace->heat_loss_w_per_k *= factor(spread, z);
        });
  }
  if (!plan.panels.empty()) {
    add("harvest of the panels", spreads.harvest, true,
        [spread = spreads.harvest](Plan& p, double z) {
          p = with_panels_w(p, rated_panels_w(p) * factor(spread, z));
        });
  }
  const bool under_trees = std::any_of(plan.camps.begin(), plan.camps.end(),
                                       [](const Camp& camp) { return camp.canopy > 0.0; });
  if (under_trees && !plan.panels.empty()) {
    add("canopy", spreads.canopy, false, [spread = spreads.canopy](Plan& p, double z) {
      for (Camp& camp : p.camps) {
        if (camp.canopy > 0.0) camp.canopy = std::clamp(camp.canopy + spread * z, 0.0, 0.95);
      }
    });
  }
  add("health of the battery", spreads.health, false, [spread = spreads.health](Plan& p, double z) {
    p = with_battery_health(p, std::clamp(p.battery.health + spread * z, 0.2, 1.0));
  });
  return out;
}

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
  const std::vector<Guess> guesses = guesses_of(plan);
  if (guesses.empty()) return std::nullopt;
  std::vector<std::vector<double>> deviates;
  for (std::size_t i = 0; i < guesses.size(); ++i) {
    deviates.push_back(shuffled_normals(
        kGuessRuns, {options.seed, static_cast<std::uint32_t>(i), 0, DrawPurpose::guess}));
  }
  GuessDoubt out;
  out.runs = kGuessRuns;
  out.stays_each = std::max(kLeastStays, options.stays / kShareOfStays);
  const OutcomeOptions each{out.stays_each, options.seed, 1, options.instruction_set, Tracks::home};
  std::vector<double> flat(kGuessRuns);
  PartsDone done(progress, "runs with other guesses", kGuessRuns);
  for_each_range(kGuessRuns, 1, options.threads, [&](std::size_t run, std::size_t) {
    Plan changed = plan;
    for (std::size_t i = 0; i < guesses.size(); ++i) guesses[i].off_by(changed, deviates[i][run]);
    flat[run] = static_cast<double>(run_outcomes(prepare_stay(changed), each).count_home()) /
                static_cast<double>(each.stays);
    done.add();
  });

  const std::vector<double> shares = first_order_shares(deviates, flat);
  for (std::size_t i = 0; i < guesses.size(); ++i) {
    out.parts.push_back({guesses[i].name, guesses[i].spread, guesses[i].is_share, shares[i]});
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
