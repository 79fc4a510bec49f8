#include "weather/place_climate.hpp"

#include <algorithm>
#include <cmath>
#include <mutex>

#include <Eigen/Core>

#include "weather/linear_system.hpp"
#include "weather/standard_errors.hpp"

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
  const Vector12 solution = solve_square(matrix, Eigen::Map<const Vector12>(right.data()));
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

// The months' statistics, each with its own standard error or else the usual one. What a month does
// not state has the error of what stands in for it.
std::array<PerStatistic<Estimate>, 12> with_errors(const Place& place) {
  const PerStatistic<double> usual = usual_standard_errors(place.record, place.record_years);
  std::array<PerStatistic<Estimate>, 12> out;
  for (std::size_t m = 0; m < 12; ++m) {
    const PerStatistic<const Estimate*> stated = place.months[m].estimates();
    for (std::size_t i = 0; i < kStatistics; ++i) {
      if (stated[i]) out[m][i] = *stated[i];
      if (!out[m][i].standard_error) out[m][i].standard_error = usual[i];
    }
  }
  return out;
}

double temp_mean_c(const MonthStatistics& month, double fallback_temp_c) {
  return month.temp_mean_c ? month.temp_mean_c->value : fallback_temp_c;
}

// Average of the broken line over a month: 3/4 of its own knot, 1/8 of each neighbour's.
std::array<double, 12> knots_of(const std::array<double, 12>& month_means) {
  Matrix12 averaging = Matrix12::Zero();
  for (int m = 0; m < 12; ++m) {
    averaging(m, m) = 0.75;
    averaging(m, month_before(m)) += 0.125;
    averaging(m, month_after(m)) += 0.125;
  }
  return solve(averaging, month_means);
}

}  // namespace

MonthlyCurve::MonthlyCurve(const std::array<double, 12>& month_means)
    : knots_(knots_of(month_means)) {}

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

bool same_climate(const Place& a, const Place& b) {
  return a.months == b.months && a.record == b.record && a.record_years == b.record_years;
}

struct PlaceClimate::MonthTables {
  std::array<std::once_flag, 12> made;
  std::array<ClearnessTable, 12> of;
};

PlaceClimate::PlaceClimate(const Place& place, double fallback_temp_c)
    : tables_(std::make_shared<MonthTables>()),
      months_(place.months),
      estimates_(with_errors(place)),
      blend_means_(means_before_blending(place.months)),
      temp_mean_(
          monthly(place.months, [&](const auto& m) { return temp_mean_c(m, fallback_temp_c); })),
      temp_range_(monthly(place.months, [](const auto& m) { return m.temp_range_c.value; })) {}

Estimate PlaceClimate::blended(std::size_t statistic, const MonthBlend& blend) const {
  const Estimate& own = estimates_[static_cast<std::size_t>(blend.month)][statistic];
  const Estimate& other = estimates_[static_cast<std::size_t>(blend.neighbour)][statistic];
  return {(1.0 - blend.weight) * own.value + blend.weight * other.value,
          (1.0 - blend.weight) * *own.standard_error + blend.weight * *other.standard_error};
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
  for (std::size_t i = 0; i < kStatistics; ++i) out[i] = blended(i, blend);
  out.k_of_chi = table_of(blend.month);
  out.k_mean.value = blend_means_[own];
  if (blend.weight > 0.0) {
    out.k_of_chi = ClearnessTable::blend(out.k_of_chi, table_of(blend.neighbour), blend.weight);
    out.k_mean.value += blend.weight * (blend_means_[other] - blend_means_[own]);
  }
  out.k_sd.value = out.k_of_chi.sd();
  out.temp_mean_c.value = temp_mean_.at(date);
  out.temp_range_c.value = std::max(1.0, temp_range_.at(date));
  return out;
}

}  // namespace dullspell
