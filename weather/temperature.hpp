#pragma once

namespace dullspell {

/// Part of the daily range by which the air at a solar hour departs from the day's mean,
/// 1/2 cos(2 pi (t - 15) / 24): warmest at 15:00, mean zero over the day.
double temperature_swing(double solar_hour);

/// How much warmer the air is at one height than at another, both m above the sea, in K: 6.5 K a km
/// lower (ICAO standard atmosphere, Doc 7488).
double warmer_by_height_k(double from_m, double to_m);

/// Range of a day's temperature (max - min, K) with clearness `k`: the expected range of the date
/// grows by `k_slope` per unit of clearness above its mean; at least 1 K.
double daily_range_c(double expected_c, double k_slope, double k, double k_mean);

/// Lag-1 correlation that the part of the temperature anomaly independent of chi needs, so that the
/// whole anomaly has `temp_persistence`: (phi_T - rho^2 lag1_chi) / (1 - rho^2), held to
/// -0.95..0.95.
double independent_temperature_persistence(double temp_persistence, double correlation,
                                           double chi_lag1);

}  // namespace dullspell
