#include "weather/known_days.hpp"

#include <algorithm>
#include <set>
#include <stdexcept>

#include <Eigen/Core>

#include "weather/day_sequence.hpp"
#include "weather/grid_rounding.hpp"
#include "weather/linear_system.hpp"

namespace dullspell {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// Order of the unknowns: Y, Z of day 0, 1, ..., last, and Z of the day before at the end, where it
// can be left out of what is drawn.
struct Chain {
  const DayLink& before;
  std::span<const DayLink> links;  // of days 0..last

  Index unknowns() const { return static_cast<Index>(links.size()) + 2; }
  Index place(int day) const { return day < 0 ? unknowns() - 1 : day + 1; }
  const DayLink& link(int day) const {
    return day < 0 ? before : links[static_cast<std::size_t>(day)];
  }

  MatrixXd covariance() const {
    MatrixXd out = MatrixXd::Identity(unknowns(), unknowns());
    const int last = static_cast<int>(links.size()) - 1;
    for (int from = -1; from <= last; ++from) {
      double kept = 1.0;
      for (int to = from + 1; to <= last; ++to) {
        kept *= link(to).sky_kept;
        out(place(from), place(to)) = out(place(to), place(from)) = kept;
      }
    }
    return out;
  }

  MatrixXd chi_of_unknowns(std::span<const KnownChi> known) const {
    MatrixXd out = MatrixXd::Zero(static_cast<Index>(known.size()), unknowns());
    for (std::size_t i = 0; i < known.size(); ++i) {
      const DayLink& day = link(known[i].day);
      out(static_cast<Index>(i), 0) = day.of_year;
      out(static_cast<Index>(i), place(known[i].day)) = day.of_day;
    }
    return out;
  }
};

}  // namespace

KnownDays::KnownDays(const DayLink& before, std::span<const DayLink> links,
                     std::span<const KnownChi> known) {
  if (known.empty()) return;
  int last = 0;
  std::set<int> days;
  for (const KnownChi& k : known) {
    if (k.day < -1 || k.day >= static_cast<int>(std::min(links.size(), kMostDays)) ||
        !(k.sd >= 0.0) || !days.insert(k.day).second) {
      throw std::invalid_argument("known days that the chain does not have, or have twice");
    }
    last = std::max(last, k.day);
  }
  const Chain chain{before, links.first(static_cast<std::size_t>(last) + 1)};
  const auto count = static_cast<Index>(known.size());
  VectorXd mean(count), sd(count);
  for (Index i = 0; i < count; ++i) {
    mean[i] = known[static_cast<std::size_t>(i)].mean;
    sd[i] = known[static_cast<std::size_t>(i)].sd;
  }

  const MatrixXd covariance = chain.covariance();
  const MatrixXd chi = chain.chi_of_unknowns(known);
  const MatrixXd chi_covariance = chi * covariance * chi.transpose();
  const MatrixXd gain = solve_symmetric(chi_covariance, chi * covariance).transpose();
  // Links are rounded: a day's variance is 1 but for the grid.
  const VectorXd scale = sd.cwiseQuotient(chi_covariance.diagonal().cwiseSqrt());
  const MatrixXd stated = scale.asDiagonal() * chi_covariance * scale.asDiagonal();
  const MatrixXd result = covariance - gain * chi * covariance + gain * stated * gain.transpose();

  const Index drawn = chain.unknowns() - 1;
  const VectorXd expected = gain * mean;
  const MatrixXd root = lower_root(result.topLeftCorner(drawn, drawn));
  for (Index row = 0; row < drawn; ++row) {
    mean_.push_back(on_grid(expected[row]));
    for (Index i = 0; i < drawn; ++i) map_.push_back(on_grid(root(row, i)));
  }
}

}  // namespace dullspell
