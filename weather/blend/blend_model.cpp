#include "weather/blend/blend_model.hpp"

#include <cmath>

namespace dullspell {
namespace {

using R = Regressor;

// In the order of PerStatistic, without the year share.
const std::vector<StatisticModel> kModels{
    // k_mean
    {{{R::one, -0.018606},
      {R::grid_mean, 0.12798},
      {R::grid_year, 0.162646},
      {R::winter, 0.017008},
      {R::spring, -0.026229},
      {R::latitude_winter, -0.037838},
      {R::latitude_spring, -0.053466},
      {R::land_winter, -0.028004},
      {R::low_height_winter, 0.01719},
      {R::low_height_spring, -0.015231},
      {R::grid_half, -0.132456}},
     {{0.052976,
       96.242,
       0.09666,
       1854.5,
       0,
       {0.058479, 0.073, 0.058479, 0.033084, 0.072644, 0.072644}},
      {0.029021,
       118.02,
       0.040331,
       1326.9,
       0,
       {0.041827, 0.04, 0.041827, 0.019081, 0.026087, 0.026087}},
      {0.016625,
       86.145,
       0.022834,
       1586.6,
       0,
       {0.039929, 0.04, 0.039929, 0.024424, 0.0068147, 0.0068147}}},
     0.05,
     0.011,
     0},
    // k_sd
    {{{R::one, 0.166306},
      {R::clearness, -0.222298},
      {R::clearness_squared, -1.13336},
      {R::latitude, 0.095439},
      {R::winter, 0.007856},
      {R::latitude_winter, -0.049132}},
     {{0, 300, 0.074165, 4000, 0.021625, {0.020642, 0.015975, 0.020642, 0.020642, 0.035, 0.020642}},
      {0, 300, 0.02506, 1852, 0.0045496, {0.018206, 0.012125, 0.018206, 0.018206, 0.012, 0.018206}},
      {0,
       300,
       0.0133,
       2418.9,
       0.0040877,
       {0.018313, 0.0028486, 0.018313, 0.018313, 0.008, 0.018313}}},
     0.024,
     0.003,
     0.004},
    // k_persistence
    {{{R::one, 0.234128}},
     {{0.10141, 20, 0.25702, 3198.2, 0, {0.17719, 0.17719, 0.17719, 0.17719, 0.17719, 0.17719}}},
     0.08,
     0.01,
     0.05},
    // temp_mean_c
    {{{R::one, 0.045857},
      {R::height, -5.10139},
      {R::height_winter, 0.384473},
      {R::height_spring, -0.850404},
      {R::winter, -0.416702}},
     {{3.5326, 184.07, 1.7888, 2075, 0, {1.8947, 1.8947, 1.8947, 1.8947, 1.8947, 1.8947}},
      {1.7402, 138.48, 1.5301, 1075.9, 0, {1.0468, 1.0468, 1.0468, 1.0468, 1.0468, 1.0468}},
      {0.0086977, 245.35, 0.51203, 1831.1, 0, {1.2774, 1.2774, 1.2774, 1.2774, 1.2774, 1.2774}}},
     1.3,
     0.2,
     0.5},
    // temp_range_c
    {{{R::one, 9.8958}, {R::grid_range, 4.22052}, {R::clearness, 16.6488}, {R::land, 1.68006}},
     {{3.5634, 49.549, 3.023, 411.5, 0, {3.3936, 3.3936, 3.3936, 3.3936, 3.3936, 3.3936}},
      {0.89042, 66.14, 1.9318, 1347.6, 0, {1.2311, 1.2311, 1.2311, 1.2311, 1.2311, 1.2311}},
      {0.025585, 193.96, 0.78858, 1161.7, 0, {1.0512, 1.0512, 1.0512, 1.0512, 1.0512, 1.0512}}},
     1.1,
     0.3,
     0.5},
    // temp_sd_c
    {{{R::one, 3.24831}, {R::swing, 2.54254}, {R::winter, 1.09264}, {R::swing_winter, 0.515049}},
     {{0.70226, 30.958, 1.3987, 998.46, 0, {1.0201, 1.0201, 1.0201, 1.0201, 1.0201, 1.0201}},
      {0.10745, 67.333, 1.1143, 864.02, 0, {0.82117, 0.82117, 0.82117, 0.82117, 0.82117, 0.82117}},
      {0.14422, 314.22, 0.56124, 604.1, 0, {0.76482, 0.76482, 0.76482, 0.76482, 0.76482, 0.76482}}},
     0,
     0,
     0.1},
    // temp_persistence
    {{{R::one, 0.611468}, {R::latitude, 0.712134}},
     {{0.0027015, 500, 0.24301, 2410.3, 0, {0.19475, 0.19475, 0.19475, 0.19475, 0.19475, 0.19475}}},
     0,
     0,
     0.02},
    // temp_k_correlation
    {{{R::one, -0.003866},
      {R::winter, -0.235372},
      {R::spring, 0.03831},
      {R::land, 0.12547},
      {R::latitude, -0.652132},
      {R::swing, -0.139553},
      {R::latitude_winter, -1.16281},
      {R::swing_winter, 0.237472}},
     {{0.22365, 20.629, 0.38252, 1131, 0, {0.14119, 0.14119, 0.14119, 0.14119, 0.14119, 0.14119}},
      {0.063909,
       435.87,
       0.18707,
       698.55,
       0,
       {0.22232, 0.22232, 0.22232, 0.22232, 0.22232, 0.22232}},
      {0.0020039,
       243.03,
       0.18686,
       1498.2,
       0,
       {0.22002, 0.22002, 0.22002, 0.22002, 0.22002, 0.22002}}},
     0,
     0,
     0.03},
    // range_k_slope
    {{{R::one, 11.2007},
      {R::winter, -0.382996},
      {R::spring, 0.724273},
      {R::clearness, 8.58726},
      {R::latitude, 4.38876},
      {R::land, 8.02043}},
     {{3.7643, 32.108, 6.6268, 487.24, 0, {10.532, 10.532, 10.532, 10.532, 10.532, 10.532}},
      {1.9247, 114.3, 5.6683, 2858.3, 0, {5.453, 5.453, 5.453, 5.453, 5.453, 5.453}},
      {3.9595, 20, 2.6158, 4000, 0, {3.6747, 3.6747, 3.6747, 3.6747, 3.6747, 3.6747}}},
     0,
     0,
     0.5},
};

}  // namespace

double DepartureModel::covariance(double km) const {
  return near_sd * near_sd * std::exp(-km / near_km) + far_sd * far_sd * std::exp(-km / far_km);
}

MonthVector StatisticModel::regression(const Circumstances& at) const {
  MonthVector out = MonthVector::Zero();
  for (const RegressionTerm& term : terms) out += term.coefficient * regressor(term.what, at);
  return out;
}

double StatisticModel::site_variance(SiteKind kind, double years, int cycles) const {
  if (kind == SiteKind::measured && month_error > 0.0) {
    // A constant error is one of the yearly mean alone, which is the sum of months over sqrt 12.
    const double constant = cycles == 0 ? 12.0 * instrument_error * instrument_error : 0.0;
    return month_error * month_error / years + constant;
  }
  const double error =
      departures[static_cast<std::size_t>(cycles)].site_error[static_cast<std::size_t>(kind)];
  return error * error;
}

Harmonics StatisticModel::prior_variance() const {
  Harmonics out = Harmonics::Zero();
  for (int j = 0; j < kHarmonics; ++j) {
    const auto cycles = static_cast<std::size_t>(cycles_of(j));
    if (cycles < departures.size()) out[j] = departures[cycles].variance();
  }
  return out;
}

const StatisticModel& blend_model(std::size_t statistic) {
  constexpr std::size_t kYearShareIndex = 3;
  return kModels[statistic < kYearShareIndex ? statistic : statistic - 1];
}

}  // namespace dullspell
