#include "weather/place_climate.hpp"

#include <algorithm>
#include <cmath>
#include <mutex>

#include <Eigen/LU>

namespace dullspell {
namespace {

using Matrix12 = Eigen::Matrix<double, 12, 12>;
using Vector12 = Eigen::Matrix<double, 12, 1>;

constexpr std::array<int, 12> kMonthDays{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
constexpr int kBlendDays = 5;
// Sum over the five days next to a boundary of the other month's weight.
constexpr double kBorrowedDays = 0.5 * kBlendDays * 0.5;

int month_after(int month) {
  return (month + 1) % 12;
}
int month_before(int month) {
  return (month + 11) % 12;
}

std::array<double, 12> solve(const Matrix12& matrix, const std::array<double, 12>& right) {
  const Vector12 solution = matrix.fullPivLu().solve(Eigen::Map<const Vector12>(right.data()));
  std::array<double, 12> out{};
  Eigen::Map<Vector12>(out.data()) = solution;
  return out;
}

template <class Get>
std::array<double, 12> monthly(const std::array<MonthStatistics, 12>& months, Get get) {
  std::array<double, 12> out{};
  std::transform(months.begin(), months.end(), out.begin(), get);
  return out;
}

std::array<double, 12> means_before_blending(const std::array<MonthStatistics, 12>& months) {
  Matrix12 mixing = Matrix12::Zero();
  for (int m = 0; m < 12; ++m) {
    const double days = kMonthDays[static_cast<std::size_t>(m)];
    mixing(m, m) = 1.0 - 2.0 * kBorrowedDays / days;
    mixing(m, month_before(m)) = kBorrowedDays / days;
    mixing(m, month_after(m)) = kBorrowedDays / days;
  }
  std::array<double, 12> means =
      solve(mixing, monthly(months, [](const auto& m) { return mean(clearness_distribution(m)); }));
  for (double& k : means) k = std::clamp(k, 0.02, 0.80);
  return means;
}

}  // namespace

MonthlyCurve::MonthlyCurve(const std::array<double, 12>& month_means) {
  // Average of the broken line over a month: 3/4 of its own knot, 1/8 of each neighbour's.
  Matrix12 averaging = Matrix12::Zero();
  for (int m = 0; m < 12; ++m) {
    averaging(m, m) = 0.75;
    averaging(m, month_before(m)) += 0.125;
    averaging(m, month_after(m)) += 0.125;
  }
  knots_ = solve(averaging, month_means);
}

double MonthlyCurve::at(Date date) const {
  const int month = month_index(date);
  const double position = (day_of_month(date) - 0.5) / days_in_month(date) - 0.5;
  const int other = position < 0.0 ? month_before(month) : month_after(month);
  const double weight = std::abs(position);
  return (1.0 - weight) * knots_[static_cast<std::size_t>(month)] +
         weight * knots_[static_cast<std::size_t>(other)];
}

MonthBlend month_blend(Date date) {
  const int month = month_index(date);
  const int from_start = day_of_month(date) - 1;
  const int to_end = days_in_month(date) - day_of_month(date);
  const int nearest = std::min(from_start, to_end);
  const double weight = std::max(0.0, 0.5 * (1.0 - (nearest + 0.5) / kBlendDays));
  return {month, from_start < to_end ? month_before(month) : month_after(month), weight};
}

struct PlaceClimate::MonthTables {
  std::array<std::once_flag, 12> made;
  std::array<ClearnessTable, 12> of;
};

PlaceClimate::PlaceClimate(const Place& place, double fallback_temp_c)
    : tables_(std::make_shared<MonthTables>()),
      months_(place.months),
      blend_means_(means_before_blending(place.months)),
      temp_mean_(monthly(place.months,
                         [&](const auto& m) { return m.temp_mean_c.value_or(fallback_temp_c); })),
      temp_range_(monthly(place.months, [](const auto& m) { return m.temp_range_c; })) {}

double PlaceClimate::blended(double MonthStatistics::*field, const MonthBlend& blend) const {
  const double own = months_[static_cast<std::size_t>(blend.month)].*field;
  const double other = months_[static_cast<std::size_t>(blend.neighbour)].*field;
  return (1.0 - blend.weight) * own + blend.weight * other;
}

const ClearnessTable& PlaceClimate::table_of(int month) const {
  const auto m = static_cast<std::size_t>(month);
  std::call_once(tables_->made[m], [&] {
    tables_->of[m] = ClearnessTable(clearness_distribution_with_mean(months_[m], blend_means_[m]));
  });
  return tables_->of[m];
}

DateClimate PlaceClimate::on(Date date) const {
  const MonthBlend blend = month_blend(date);
  const auto own = static_cast<std::size_t>(blend.month);
  const auto other = static_cast<std::size_t>(blend.neighbour);

  DateClimate out{};
  out.k_of_chi = table_of(blend.month);
  out.k_mean = blend_means_[own];
  if (blend.weight > 0.0) {
    out.k_of_chi = ClearnessTable::blend(out.k_of_chi, table_of(blend.neighbour), blend.weight);
    out.k_mean += blend.weight * (blend_means_[other] - blend_means_[own]);
  }
  out.k_sd = out.k_of_chi.sd();
  out.k_persistence = blended(&MonthStatistics::k_persistence, blend);
  out.k_year_share = blended(&MonthStatistics::k_year_share, blend);
  out.temp_mean_c = temp_mean_.at(date);
  out.temp_range_c = std::max(1.0, temp_range_.at(date));
  out.temp_sd_c = blended(&MonthStatistics::temp_sd_c, blend);
  out.temp_persistence = blended(&MonthStatistics::temp_persistence, blend);
  out.temp_k_correlation = blended(&MonthStatistics::temp_k_correlation, blend);
  out.range_k_slope = blended(&MonthStatistics::range_k_slope, blend);
  return out;
}

}  // namespace dullspell
