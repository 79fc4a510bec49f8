#pragma once

namespace dullspell {

/// Part of the daily range by which the air at a solar hour departs from the day's mean,
/// 1/2 cos(2 pi (t - 15) / 24): warmest at 15:00, mean zero over the day.
double temperature_swing(double solar_hour);

/// Lag-1 correlation that the part of the temperature anomaly independent of chi needs, so that the
/// whole anomaly has `temp_persistence`: (phi_T - rho^2 lag1_chi) / (1 - rho^2), held to
/// -0.95..0.95.
double independent_temperature_persistence(double temp_persistence, double correlation,
                                           double chi_lag1);

}  // namespace dullspell
