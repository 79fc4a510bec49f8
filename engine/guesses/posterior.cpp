#include "engine/guesses/posterior.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <Eigen/Core>

#include "weather/linear_system.hpp"

namespace dullspell {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int kMostRounds = 30;
constexpr double kSettled = 1e-4;  // largest step of a deviate
constexpr int kMostHalvings = 12;
constexpr double kEnough = 0.25;  // of what the slope promises (Armijo's rule)

// The unknowns: the guesses' deviates, then one a sky.
class Unknowns {
 public:
  explicit Unknowns(const Plan& plan) : plan_(plan), guesses_(guesses_of(plan)) {
    for (const Reading& reading : plan.readings) {
      models_.emplace_back(plan, reading);
      std::vector<std::size_t> of_reading;
      for (const ReadingSky& sky : models_.back().skies()) {
        const auto known = std::find(skies_.begin(), skies_.end(), sky);
        of_reading.push_back(static_cast<std::size_t>(known - skies_.begin()));
        if (known == skies_.end()) skies_.push_back(sky);
      }
      sky_of_.push_back(of_reading);
    }
  }

  const std::vector<Guess>& guesses() const { return guesses_; }
  const std::vector<ReadingModel>& models() const { return models_; }
  Eigen::Index guess_count() const { return static_cast<Eigen::Index>(guesses_.size()); }
  Eigen::Index count() const { return static_cast<Eigen::Index>(guesses_.size() + skies_.size()); }
  Eigen::Index readings() const { return static_cast<Eigen::Index>(models_.size()); }

  Plan plan_at(const VectorXd& z) const {
    return off_by(plan_, guesses_, std::vector<double>(z.data(), z.data() + guesses_.size()));
  }

  double shown(Eigen::Index reading, const Plan& plan, const VectorXd& z) const {
    const auto i = static_cast<std::size_t>(reading);
    std::vector<double> skies;
    for (const std::size_t sky : sky_of_[i])
      skies.push_back(z[guess_count() + static_cast<Eigen::Index>(sky)]);
    return models_[i].shown(plan, skies);
  }

  VectorXd shown(const VectorXd& z) const {
    const Plan plan = plan_at(z);
    VectorXd out(readings());
    for (Eigen::Index i = 0; i < readings(); ++i) out[i] = shown(i, plan, z);
    return out;
  }

  // Differences to both sides, within the bounds.
  MatrixXd slopes(const VectorXd& z) const {
    MatrixXd out = MatrixXd::Zero(readings(), count());
    for (Eigen::Index j = 0; j < count(); ++j) {
      const BothSides sides(z[j], least(j), most(j));
      VectorXd above = z, below = z;
      above[j] = sides.above;
      below[j] = sides.below;
      const Plan more = plan_at(above), less = plan_at(below);
      for (Eigen::Index i = 0; i < readings(); ++i) {
        if (!depends(i, j)) continue;
        out(i, j) = (shown(i, more, above) - shown(i, less, below)) / sides.apart();
      }
    }
    return out;
  }

  VectorXd within_bounds(VectorXd z) const {
    for (Eigen::Index j = 0; j < guess_count(); ++j) z[j] = std::clamp(z[j], least(j), most(j));
    return z;
  }

  // Whether an unknown stands at a bound that it is drawn beyond.
  bool held(Eigen::Index j, double at, double uphill) const {
    return (uphill > 0.0 && at >= most(j)) || (uphill < 0.0 && at <= least(j));
  }

 private:
  double least(Eigen::Index j) const {
    return j < guess_count() ? guesses_[static_cast<std::size_t>(j)].least : -kUnbounded;
  }
  double most(Eigen::Index j) const {
    return j < guess_count() ? guesses_[static_cast<std::size_t>(j)].most : kUnbounded;
  }

  bool depends(Eigen::Index reading, Eigen::Index unknown) const {
    const auto i = static_cast<std::size_t>(reading);
    if (unknown < guess_count()) {
      return models_[i].depends_on(guesses_[static_cast<std::size_t>(unknown)]);
    }
    const auto sky = static_cast<std::size_t>(unknown - guess_count());
    return std::find(sky_of_[i].begin(), sky_of_[i].end(), sky) != sky_of_[i].end();
  }

  const Plan& plan_;
  std::vector<Guess> guesses_;
  std::vector<ReadingModel> models_;
  std::vector<ReadingSky> skies_;
  std::vector<std::vector<std::size_t>> sky_of_;
};

// Readings over their errors.
struct Weighted {
  VectorXd seen, error;

  VectorXd residuals(const VectorXd& shown) const { return (seen - shown).cwiseQuotient(error); }
  double misfit(const VectorXd& shown, const VectorXd& z) const {
    return 0.5 * (residuals(shown).squaredNorm() + z.squaredNorm());
  }
};

Posterior fitted(const Plan& plan) {
  const Unknowns unknowns(plan);
  Weighted readings{VectorXd(unknowns.readings()), VectorXd(unknowns.readings())};
  for (Eigen::Index i = 0; i < unknowns.readings(); ++i) {
    readings.seen[i] = plan.readings[static_cast<std::size_t>(i)].shown;
    readings.error[i] = unknowns.models()[static_cast<std::size_t>(i)].error();
  }
  const MatrixXd unit = MatrixXd::Identity(unknowns.count(), unknowns.count());
  VectorXd z = VectorXd::Zero(unknowns.count());
  VectorXd shown = unknowns.shown(z);
  MatrixXd weighted = MatrixXd::Zero(unknowns.readings(), unknowns.count());
  Posterior out;
  double misfit = readings.misfit(shown, z);
  out.converged = unknowns.count() == 0;  // what is measured is no guess
  for (int round = 0; round < kMostRounds && !out.converged; ++round) {
    weighted = readings.error.cwiseInverse().asDiagonal() * unknowns.slopes(z);
    VectorXd uphill = weighted.transpose() * readings.residuals(shown) - z;
    MatrixXd free = weighted;
    for (Eigen::Index j = 0; j < unknowns.count(); ++j) {
      if (!unknowns.held(j, z[j], uphill[j])) continue;
      uphill[j] = 0.0;
      free.col(j).setZero();
    }
    VectorXd step = solve_symmetric(unit + free.transpose() * free, uphill);
    for (int halvings = 0; halvings < kMostHalvings; ++halvings, step *= 0.5) {
      const VectorXd tried = unknowns.within_bounds(z + step);
      const double moved = (tried - z).cwiseAbs().maxCoeff();
      const VectorXd shown_there = unknowns.shown(tried);
      const double misfit_there = readings.misfit(shown_there, tried);
      const double promised = uphill.dot(tried - z);
      if (misfit - misfit_there < kEnough * promised && moved >= kSettled) continue;
      out.converged = moved < kSettled;
      z = tried;
      shown = shown_there;
      misfit = misfit_there;
      break;
    }
  }
  const MatrixXd covariance = solve_symmetric(unit + weighted.transpose() * weighted, unit);
  const VectorXd residuals = readings.residuals(shown);
  // Of each reading, how much of it the corrected figures follow.
  const VectorXd follows = (weighted * covariance).cwiseProduct(weighted).rowwise().sum();
  for (Eigen::Index i = 0; i < unknowns.readings(); ++i) {
    constexpr double kOwnWay = 1e-9;
    const double off = residuals[i] / std::sqrt(std::max(kOwnWay, 1.0 - follows[i]));
    out.readings.push_back({unknowns.models()[static_cast<std::size_t>(i)].shown(plan), shown[i],
                            readings.error[i], off});
  }
  out.guesses = unknowns.guesses();
  out.mean.assign(z.data(), z.data() + unknowns.guess_count());
  const MatrixXd of_guesses =
      covariance.topLeftCorner(unknowns.guess_count(), unknowns.guess_count());
  out.covariance.assign(of_guesses.data(), of_guesses.data() + of_guesses.size());
  out.misfit = misfit;
  return out;
}

// A reading against what all others make expect, in standard errors.
double off_by_without_it(const Plan& plan, std::size_t reading) {
  Plan others = plan;
  others.readings.erase(others.readings.begin() + static_cast<std::ptrdiff_t>(reading));
  const Posterior posterior = fitted(others);
  const Reading& left_out = plan.readings[reading];
  const ReadingSlope expected = slope_of(plan, posterior, left_out);
  const auto count = static_cast<Eigen::Index>(posterior.guesses.size());
  const Eigen::Map<const VectorXd> slope(expected.per_deviate.data(), count);
  const Eigen::Map<const MatrixXd> covariance(posterior.covariance.data(), count, count);
  const double variance = expected.error * expected.error + slope.dot(covariance * slope);
  return (left_out.shown - expected.shown) / std::sqrt(variance);
}

}  // namespace

Posterior posterior_of(const Plan& plan, ToldBy told_by) {
  constexpr double kFarOut = 2.0;  // beyond, slopes at the end of the way are not those along it
  Posterior out = fitted(plan);
  if (told_by == ToldBy::slopes || std::none_of(out.mean.begin(), out.mean.end(),
                                                [](double z) { return std::abs(z) >= kFarOut; })) {
    return out;
  }
  for (std::size_t i = 0; i < out.readings.size(); ++i) {
    if (plan.readings[i].logged) continue;
    const double off_by = off_by_without_it(plan, i);
    if (std::abs(off_by) > std::abs(out.readings[i].off_by)) out.readings[i].off_by = off_by;
  }
  return out;
}

double Posterior::left(std::size_t guess) const {
  return std::sqrt(covariance[guess * (guesses.size() + 1)]);
}

std::vector<double> Posterior::expected() const {
  std::vector<double> out = mean;
  for (std::size_t i = 0; i < guesses.size(); ++i) {
    if (guesses[i].is_share) out[i] += 0.5 * lognormal_sigma(guesses[i].spread) * left(i) * left(i);
  }
  return out;
}

ReadingSlope slope_of(const Plan& plan, const Posterior& posterior, const Reading& reading) {
  const Plan here = corrected(plan, posterior);
  const ReadingModel model(plan, reading);
  ReadingSlope out;
  out.shown = model.shown(here);
  const std::vector<double> expected = posterior.expected();
  for (std::size_t i = 0; i < posterior.guesses.size(); ++i) {
    const auto shown = [&](const std::vector<double>& z) {
      return model.shown(off_by(plan, posterior.guesses, z));
    };
    out.per_deviate.push_back(model.depends_on(posterior.guesses[i])
                                  ? slope_along(expected, posterior.guesses, i, shown)
                                  : 0.0);
  }
  const double error = model.error(out.shown);
  double variance = error * error;
  for (std::size_t i = 0; i < model.skies().size(); ++i) {
    const BothSides sides(0.0, -kUnbounded, kUnbounded);
    std::vector<double> skies(model.skies().size(), 0.0);
    skies[i] = sides.above;
    const double slope = (model.shown(here, skies) - out.shown) / sides.above;
    variance += slope * slope;
  }
  out.error = std::sqrt(variance);
  return out;
}

Plan corrected(const Plan& plan, const Posterior& posterior) {
  return off_by(plan, posterior.guesses, posterior.expected());
}

const Plan& listed_plan(const Plan& plan) {
  return plan.correction ? plan.correction->listed : plan;
}

Plan corrected_by_readings(Plan listed) {
  if (listed.readings.empty()) return listed;
  Posterior posterior = posterior_of(listed);
  Plan out = corrected(listed, posterior);
  plan_note::CorrectedByReadings note{listed.readings.size(), {}};
  for (std::size_t i = 0; i < posterior.guesses.size(); ++i) {
    const Guess& guess = posterior.guesses[i];
    constexpr double kHardly = 0.2;  // of a deviation
    if (std::abs(posterior.mean[i]) < kHardly) continue;
    note.changes.push_back({guess.name, guess.value(listed), guess.value(out), guess.unit});
  }
  out.notes.emplace_back(note);
  for (std::size_t i = 0; i < posterior.readings.size(); ++i) {
    const double off_by = posterior.readings[i].off_by;
    if (std::abs(off_by) < kDoesNotFit) continue;
    out.notes.emplace_back(plan_note::ReadingDoesNotFit{i, off_by});
  }
  out.correction = std::make_shared<const PlanCorrection>(
      PlanCorrection{std::move(listed), std::move(posterior)});
  return out;
}

}  // namespace dullspell
