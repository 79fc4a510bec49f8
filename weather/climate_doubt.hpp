#pragma once

#include "weather/place_climate.hpp"

namespace dullspell {

/// How far a place's statistics for a date may be from the climate of a camp: standard errors of
/// the mean daily clearness, of its daily standard deviation, of phi and of the year's share.
struct ClimateDoubt {
  double level = 0.0;
  double spread = 0.0;
  double persistence = 0.0;
  double year_share = 0.0;
};

/// From the place's own standard errors, else from its kind of record and its years:
///
/// | record          | level        | spread        | persistence  | year share |
/// | measured        | 0.050/sqrt n | 0.024/sqrt n  | 0.08/sqrt n  | 0.06       |  n years
/// | measured, 1 year| 0.036        | 0.020         | 0.07         | 0.06       |
/// | typical-year    | 0.030        | 0.020         | 0.06         | 0.05       |
/// | monthly-means   | 0.020        | 0.030         | 0.08         | 0.05       |
/// | estimated       | 0.034        | 0.030         | 0.08         | 0.05       |
///
/// Measured: fits of 1, 2, 3, 5 and 10 years against those of the whole records of 14 stations.
/// Typical-year: two sites within 40 km differ by 0.060 in a single month, so each is off by 0.042,
/// and by 0.030 once its months are pooled. Others: spread of typical years about the model's, and
/// of estimates about their measured neighbours.
///
/// On top, in quadrature: 0.010 of level for instruments (pyranometers are good to 2 %, common
/// practice, no source) and for decades that differ; and for a camp `distance_km` away a level of
/// 0.040 sqrt(1 - exp(-d/90 km)) and a spread of 0.014 sqrt(1 - exp(-d/200 km)), from the
/// differences between the typical years of the US.
ClimateDoubt climate_doubt(const Place& place, Date date, double distance_km);

/// A climate that differs from the stated one, by amounts in the units of ClimateDoubt.
using ClimateShift = ClimateDoubt;

/// The date's climate moved by a shift: K becomes mean + level + (1 + spread/sd) (K - mean), within
/// 0..1 (k_mean and k_sd are those without this limit); persistence is held to -0.3..0.9, the
/// year's share to 0..0.5.
DateClimate shifted(const DateClimate& climate, const ClimateShift& shift);

}  // namespace dullspell
