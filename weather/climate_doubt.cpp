#include "weather/climate_doubt.hpp"

#include <algorithm>
#include <cmath>

namespace dullspell {
namespace {

ClimateDoubt doubt_of_month(const Place& place, int month) {
  if (place.errors) {
    const MonthErrors& e = (*place.errors)[static_cast<std::size_t>(month)];
    return {e.k_mean, e.k_sd, e.k_persistence, e.k_year_share};
  }
  switch (place.record) {
    case RecordKind::measured: {
      if (place.record_years < 1.5) return {0.036, 0.020, 0.07, 0.06};
      const double root = std::sqrt(place.record_years);
      return {0.050 / root, 0.024 / root, 0.08 / root, 0.06};
    }
    case RecordKind::typical_year:
      return {0.030, 0.020, 0.06, 0.05};
    case RecordKind::monthly_means:
      return {0.020, 0.030, 0.08, 0.05};
    case RecordKind::estimated:
      return {0.034, 0.030, 0.08, 0.05};
  }
  return {};
}

}  // namespace

ClimateDoubt climate_doubt(const Place& place, Date date, double distance_km) {
  constexpr double kInstrumentsAndDecades = 0.010;
  const MonthBlend blend = month_blend(date);
  const ClimateDoubt own = doubt_of_month(place, blend.month);
  const ClimateDoubt other = doubt_of_month(place, blend.neighbour);
  const auto blended = [&](double ClimateDoubt::*field) {
    return (1.0 - blend.weight) * own.*field + blend.weight * other.*field;
  };
  const double far_level = 0.040 * std::sqrt(1.0 - std::exp(-distance_km / 90.0));
  const double far_spread = 0.014 * std::sqrt(1.0 - std::exp(-distance_km / 200.0));
  return {std::hypot(blended(&ClimateDoubt::level), kInstrumentsAndDecades, far_level),
          std::hypot(blended(&ClimateDoubt::spread), far_spread),
          blended(&ClimateDoubt::persistence), blended(&ClimateDoubt::year_share)};
}

DateClimate shifted(const DateClimate& climate, const ClimateShift& shift) {
  constexpr double kLeastStretch = 0.2;
  const double stretch =
      std::max(kLeastStretch, 1.0 + shift.spread / std::max(climate.k_sd, 1e-3));
  DateClimate out = climate;
  out.k_of_chi = climate.k_of_chi.moved(climate.k_mean, climate.k_mean + shift.level, stretch);
  out.k_mean = climate.k_mean + shift.level;
  out.k_sd = climate.k_sd * stretch;
  out.k_persistence = std::clamp(climate.k_persistence + shift.persistence, -0.3, 0.9);
  out.k_year_share = std::clamp(climate.k_year_share + shift.year_share, 0.0, 0.5);
  return out;
}

}  // namespace dullspell
