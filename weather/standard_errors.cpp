#include "weather/standard_errors.hpp"

#include <algorithm>
#include <cmath>

namespace dullspell {
namespace {

PerStatistic<double> errors_of_years(double years) {
  const double root = std::sqrt(years);
  return {0.050 / root, 0.024 / root, 0.08 / root, 0.06,        1.3 / root,
          1.1 / root,   0.8 / root,   0.06 / root, 0.24 / root, 5.0 / root};
}

}  // namespace

PerStatistic<double> usual_standard_errors(RecordKind record, double record_years) {
  constexpr double kMoreThanOneYear = 1.5;
  switch (record) {
    case RecordKind::measured:
      if (record_years >= kMoreThanOneYear) return errors_of_years(record_years);
      return {0.036, 0.020, 0.07, 0.06, 1.3, 1.1, 0.5, 0.06, 0.14, 3.0};
    case RecordKind::typical_year:
      return {0.030, 0.020, 0.06, 0.05, 1.2, 1.5, 0.5, 0.06, 0.14, 4.2};
    case RecordKind::monthly_means:
      return {0.020, 0.030, 0.08, 0.05, 1.2, 1.5, 0.5, 0.06, 0.14, 4.2};
    case RecordKind::estimated:
    case RecordKind::blended:
      return {0.034, 0.030, 0.08, 0.05, 1.2, 1.5, 0.5, 0.06, 0.14, 4.2};
  }
  return {};
}

DateClimate of_other_decades(DateClimate climate) {
  constexpr double kInstrumentsAndDecades = 0.010;
  Estimate& k_mean = climate.k_mean;
  k_mean.standard_error = std::hypot(*k_mean.standard_error, kInstrumentsAndDecades);
  return climate;
}

DateClimate off_by(const DateClimate& climate, const ClimateDeviates& deviates) {
  constexpr double kLeastRange_c = 1.0;
  PerStatistic<double> shift;
  for (std::size_t i = 0; i < kStatistics; ++i) {
    shift[i] = deviates[i] * climate[i].standard_error.value_or(0.0);
  }
  const auto stretch_of = [](const Estimate& spread, double by) {
    constexpr double kLeast = 0.2, kLeastSpread = 1e-3;
    return std::max(kLeast, 1.0 + by / std::max(spread.value, kLeastSpread));
  };
  const auto moved = [](const Estimate& number, double by, double low, double high) {
    return Estimate(std::clamp(number.value + by, low, high), number.standard_error);
  };
  DateClimate out = climate;
  const double k_stretch = stretch_of(climate.k_sd, shift.k_sd);
  out.k_mean.value = climate.k_mean.value + shift.k_mean;
  out.k_sd.value = climate.k_sd.value * k_stretch;
  out.k_of_chi = climate.k_of_chi.moved(climate.k_mean.value, out.k_mean.value, k_stretch);
  out.k_persistence = moved(climate.k_persistence, shift.k_persistence, -0.3, 0.9);
  out.k_year_share = moved(climate.k_year_share, shift.k_year_share, 0.0, 0.5);
  out.temp_mean_c.value = climate.temp_mean_c.value + shift.temp_mean_c;
  out.temp_range_c.value = std::max(kLeastRange_c, climate.temp_range_c.value + shift.temp_range_c);
  out.temp_sd_c.value = climate.temp_sd_c.value * stretch_of(climate.temp_sd_c, shift.temp_sd_c);
  out.temp_persistence = moved(climate.temp_persistence, shift.temp_persistence, -0.3, 0.95);
  out.temp_k_correlation = moved(climate.temp_k_correlation, shift.temp_k_correlation, -0.9, 0.9);
  out.range_k_slope = moved(climate.range_k_slope, shift.range_k_slope, -10.0, 40.0);
  return out;
}

}  // namespace dullspell
