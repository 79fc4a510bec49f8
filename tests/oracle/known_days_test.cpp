#include <algorithm>
#include <cmath>
#include <vector>

#include <Eigen/Dense>
#include <catch2/catch.hpp>

#include "tests/support/batch_mean.hpp"
#include "tests/support/day_links.hpp"
#include "tests/support/engine_oracle.hpp"
#include "weather/known_days.hpp"

namespace dullspell::known_days_test {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// Moments of chi on all days, and of the year's Y, once some days are known: dense algebra of
// conditional Gaussians in the space of chi itself (standard result; e.g. Anderson 2003, An
// Introduction to Multivariate Statistical Analysis, theorem 2.5.1, from memory), which the
// program never forms.

namespace {

constexpr int kDays = 12;
constexpr std::uint32_t kStays = 200'000;
constexpr std::uint64_t kSeed = 11;

const DayLink kBefore = link_of(0.30, 0.15);

struct Moments {
  VectorXd mean;  // chi of days -1, 0, 1, ..., then Y
  MatrixXd covariance;

  double of_day(int day) const { return mean[day + 1]; }
  double between(int a, int b) const { return covariance(a + 1, b + 1); }
};

MatrixXd climate_covariance(const std::vector<DayLink>& links) {
  const auto link = [&](int day) {
    return day < 0 ? kBefore : links[static_cast<std::size_t>(day)];
  };
  const int days = static_cast<int>(links.size());
  MatrixXd out = MatrixXd::Identity(days + 2, days + 2);
  for (int i = -1; i < days; ++i) {
    double kept = 1.0;
    for (int j = i; j < days; ++j) {
      if (j > i) kept *= link(j).sky_kept;
      out(i + 1, j + 1) = out(j + 1, i + 1) =
          link(i).of_year * link(j).of_year + link(i).of_day * link(j).of_day * kept;
    }
    out(i + 1, days + 1) = out(days + 1, i + 1) = link(i).of_year;
  }
  return out;
}

Moments exact(const std::vector<DayLink>& links, const std::vector<KnownChi>& known) {
  const MatrixXd all = climate_covariance(links);
  const auto n = static_cast<Index>(known.size());
  MatrixXd pick = MatrixXd::Zero(n, all.rows());
  VectorXd m(n), v(n);
  for (Index i = 0; i < n; ++i) {
    const KnownChi& k = known[static_cast<std::size_t>(i)];
    pick(i, k.day + 1) = 1.0;
    m[i] = k.mean;
    v[i] = k.sd;
  }
  const MatrixXd among = pick * all * pick.transpose();
  const MatrixXd slopes = all * pick.transpose() * among.inverse();
  MatrixXd stated(n, n);
  for (Index i = 0; i < n; ++i) {
    for (Index j = 0; j < n; ++j) {
      stated(i, j) = v[i] * v[j] * among(i, j) / std::sqrt(among(i, i) * among(j, j));
    }
  }
  return {slopes * m,
          all - slopes * among * slopes.transpose() + slopes * stated * slopes.transpose()};
}

// What the program's linear map makes of independent normals, carried on to the last day.
Moments of_map(const std::vector<DayLink>& links, const KnownDays& known) {
  const int days = static_cast<int>(links.size());
  // Rows Y, Z_0, Z_1, ...; columns the normals.
  MatrixXd map = MatrixXd::Zero(days + 1, days + 1);
  VectorXd mean = VectorXd::Zero(days + 1);
  using RowByRow = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
  const auto made = static_cast<Index>(known.mean().size());
  map.topLeftCorner(made, made) = Eigen::Map<const RowByRow>(known.map().data(), made, made);
  mean.head(made) = Eigen::Map<const VectorXd>(known.mean().data(), made);
  for (Index i = made; i <= days; ++i) {
    const DayLink& link = links[static_cast<std::size_t>(i - 1)];
    map.row(i) = link.sky_kept * map.row(i - 1);
    map(i, i) += link.sky_new;
    mean[i] = link.sky_kept * mean[i - 1];
  }
  MatrixXd chi = MatrixXd::Zero(days + 2, days + 1);  // row 0, the day before, stays empty
  for (int d = 0; d < days; ++d) {
    chi(d + 1, 0) = links[static_cast<std::size_t>(d)].of_year;
    chi(d + 1, d + 1) = links[static_cast<std::size_t>(d)].of_day;
  }
  chi(days + 1, 0) = 1.0;
  return {chi * mean, chi * map * map.transpose() * chi.transpose()};
}

double widest_gap(const Moments& a, const Moments& b) {
  const Index rows = a.mean.size() - 1;
  return std::max(
      (a.mean - b.mean).tail(rows).cwiseAbs().maxCoeff(),
      (a.covariance - b.covariance).bottomRightCorner(rows, rows).cwiseAbs().maxCoeff());
}

const std::vector<std::vector<KnownChi>> kCases{
    {{0, -1.5, 0.3}},
    {{4, 1.2, 0.6}},
    {{-1, -2.0, 0.0}},
    {{-1, -1.2, 0.3}, {1, 0.9, 0.5}, {2, 1.2, 0.0}, {5, -1.5, 1.0}},
    {{0, 0.7, 0.0}, {1, -0.7, 0.0}, {2, 0.7, 0.0}},
    {{0, 1.0, 1.0}, {1, 1.0, 1.0}, {2, 1.0, 0.2}, {3, 1.0, 1.0}, {9, -3.5, 0.4}, {11, 3.5, 0.1}}};

}  // namespace

TEST_CASE("the linear map of known days has exactly the moments of the conditional Gaussian") {
  const auto links = differing_links(kDays);
  // Each entry of the map is off by 2^-17 at most and no row's entries sum to more than about 4:
  // covariances may differ by 2 x 4 x 2^-17. The stated case for v = 0 and the links' own rounding
  // stay below the same bound.
  constexpr double kGrid = 1e-4;
  for (const auto& known : kCases) {
    CAPTURE(known.size(), known[0].day);
    CHECK(widest_gap(of_map(links, KnownDays(kBefore, links, known)), exact(links, known)) < kGrid);
  }
}

TEST_CASE("moments of other known days are not those of the map") {
  const auto links = differing_links(kDays);
  auto other = kCases[3];
  other[1].sd += 0.05;
  CHECK(widest_gap(of_map(links, KnownDays(kBefore, links, kCases[3])), exact(links, other)) >
        0.01);
  // Errors of known days that were independent of each other.
  const std::vector<KnownChi> both{{0, 0.0, 1.0}, {1, 0.0, 1.0}};
  const Moments found = of_map(links, KnownDays(kBefore, links, both));
  CHECK(found.between(0, 1) > 0.4);
}

TEST_CASE("the greatest number of known days keeps its moments") {
  const auto links = differing_links(20);
  std::vector<KnownChi> known{{-1, 0.5, 0.2}};
  for (int d = 0; d < 14; ++d) known.push_back({d, d % 3 - 1.0, 0.1 * (d % 5)});
  CHECK(widest_gap(of_map(links, KnownDays(kBefore, links, known)), exact(links, known)) < 1e-4);
}

TEST_CASE("days drawn with known ones have the exact means, spreads and correlations") {
  const auto links = differing_links(kDays);
  for (const std::size_t which : {std::size_t{1}, std::size_t{3}}) {
    const auto& known = kCases[which];
    const Moments moments = exact(links, known);
    const DaySequence sequence(links, KnownDays(kBefore, links, known));
    std::vector<BatchMean> mean(kDays), variance(kDays), with_next(kDays), with_third(kDays);
    std::vector<DayDeviates> days(kDays);
    for (std::uint32_t stay = 0; stay < kStays; ++stay) {
      sequence.draw(kSeed, stay, days);
      for (int d = 0; d < kDays; ++d) {
        const auto i = static_cast<std::size_t>(d);
        const auto off = [&](int day) {
          return days[static_cast<std::size_t>(day)].chi - moments.of_day(day);
        };
        mean[i](days[i].chi);
        variance[i](off(d) * off(d));
        if (d + 1 < kDays) with_next[i](off(d) * off(d + 1));
        if (d + 3 < kDays) with_third[i](off(d) * off(d + 3));
      }
    }
    for (int d = 0; d < kDays; ++d) {
      CAPTURE(which, d);
      const auto i = static_cast<std::size_t>(d);
      if (moments.between(d, d) < 1e-9) {
        // Known for certain, but for the grid.
        CHECK(mean[i].mean() == Approx(moments.of_day(d)).margin(1e-4));
        continue;
      }
      CHECK_THAT(mean[i], WithinErrors(moments.of_day(d), kMostErrors));
      CHECK_THAT(variance[i], WithinErrors(moments.between(d, d), kMostErrors));
      const auto sure = [&](int day) { return moments.between(day, day) < 1e-9; };
      if (d + 1 < kDays && !sure(d + 1)) {
        CHECK_THAT(with_next[i], WithinErrors(moments.between(d, d + 1), kMostErrors));
      }
      if (d + 3 < kDays && !sure(d + 3)) {
        CHECK_THAT(with_third[i], WithinErrors(moments.between(d, d + 3), kMostErrors));
      }
    }
  }
}

TEST_CASE("known days that are written over the chain are rejected by their neighbours") {
  const auto links = differing_links(kDays);
  const std::vector<KnownChi> known{{2, -1.5, 0.3}};
  const Moments moments = exact(links, known);
  const DaySequence chain(links);
  std::vector<DayDeviates> days(kDays);
  BatchMean known_day, before, after, far, product;
  for (std::uint32_t stay = 0; stay < kStays; ++stay) {
    chain.draw(kSeed, stay, days);
    days[2].chi = -1.5 + 0.3 * days[2].chi;
    known_day(days[2].chi);
    before(days[1].chi);
    after(days[3].chi);
    far(days[11].chi);
    product((days[2].chi - moments.of_day(2)) * (days[3].chi - moments.of_day(3)));
  }
  CHECK_THAT(known_day, WithinErrors(moments.of_day(2), kMostErrors));
  CHECK_THAT(before, !WithinErrors(moments.of_day(1), kMostErrors));
  CHECK_THAT(after, !WithinErrors(moments.of_day(3), kMostErrors));
  CHECK_THAT(far, !WithinErrors(moments.of_day(11), kMostErrors));  // the year's part
}

TEST_CASE("without a year's share a known day fades as the persistence to the power of days") {
  constexpr double kPhi = 0.45;
  const std::vector<DayLink> links(kDays, link_of(kPhi, 0.0));
  const std::vector<KnownChi> known{{1, -1.8, 0.0}};
  const DaySequence sequence(links, KnownDays(kBefore, links, known));
  std::vector<BatchMean> mean(kDays), square(kDays);
  std::vector<DayDeviates> days(kDays);
  for (std::uint32_t stay = 0; stay < kStays; ++stay) {
    sequence.draw(kSeed + 1, stay, days);
    for (std::size_t d = 0; d < kDays; ++d) {
      mean[d](days[d].chi);
      square[d](days[d].chi * days[d].chi);
    }
  }
  for (std::size_t d = 2; d < kDays; ++d) {
    CAPTURE(d);
    const double correlation = std::pow(kPhi, static_cast<double>(d) - 1.0);
    const double expected = -1.8 * correlation;
    CHECK_THAT(mean[d], WithinErrors(expected, kMostErrors));
    CHECK_THAT(square[d],
               WithinErrors(1.0 - correlation * correlation + expected * expected, kMostErrors));
  }
  // Markov: what is known of day 0 says nothing more of day 2 once day 1 is known for certain.
  const DaySequence both(
      links, KnownDays(kBefore, links, std::vector<KnownChi>{{0, 2.0, 0.1}, {1, -1.8, 0.0}}));
  std::vector<DayDeviates> other(kDays);
  for (std::uint32_t stay = 0; stay < 100; ++stay) {
    sequence.draw(kSeed, stay, days);
    both.draw(kSeed, stay, other);
    for (std::size_t d = 1; d < kDays; ++d) {
      CHECK(other[d].chi == Approx(days[d].chi).margin(1e-3));
    }
  }
}

}  // namespace dullspell::known_days_test
