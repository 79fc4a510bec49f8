#pragma once

#include "weather/place_climate.hpp"

namespace dullspell {

/// Standard errors of a place's months where the place does not state its own, by its kind of
/// record and its years n:
///
/// | record           | k_mean       | k_sd         | k_persistence | k_year_share |
/// | measured         | 0.050/sqrt n | 0.024/sqrt n | 0.08/sqrt n   | 0.06         |
/// | measured, 1 year | 0.036        | 0.020        | 0.07          | 0.06         |
/// | typical-year     | 0.030        | 0.020        | 0.06          | 0.05         |
/// | monthly-means    | 0.020        | 0.030        | 0.08          | 0.05         |
/// | estimated        | 0.034        | 0.030        | 0.08          | 0.05         |
///
/// | record           | mean   | range  | sd     | persistence | correlation | slope  |
/// | measured         | 1.3 K  | 1.1 K  | 0.8 K  | 0.06        | 0.24        | 5 K    | / sqrt n
/// | measured, 1 year | 1.3 K  | 1.1 K  | 0.5 K  | 0.06        | 0.14        | 3 K    |
/// | the others       | 1.2 K  | 1.5 K  | 0.5 K  | 0.06        | 0.14        | 4.2 K  |
///
/// Measured: fits of 1, 2, 3, 5 and 10 years against those of the whole records of 14 stations; of
/// temperatures, the errors by leaving out one year of 14 stations of 9 to 44 years, in the mean
/// square (one year pools all but mean and range over three months).
/// Typical-year: two sites within 40 km differ by 0.060 in a single month, so each is off by 0.042,
/// and by 0.030 once its months are pooled; temperatures of two sites within 20 km, moved to one
/// height, differ by sqrt 2 times the figures here. Others: spread of typical years about the
/// model's, and of estimates about their measured neighbours; temperatures as in typical years.
PerStatistic<double> usual_standard_errors(RecordKind record, double record_years);

/// What a record states for a date, with 0.010 of k_mean more in quadrature, for instruments
/// (pyranometers are good to 2 %, common practice, no source) and for decades that differ.
DateClimate of_other_decades(DateClimate climate);

/// By how many standard errors each statistic is off.
using ClimateDeviates = PerStatistic<double>;

/// The climate whose statistics are off by so many of their standard errors. K becomes mean + error
/// of the mean + (1 + error of the spread / spread) (K - mean), within 0..1 (k_mean and k_sd are
/// those without this limit). Spreads keep a fifth of themselves and the daily range 1 K at least;
/// k_persistence is held to -0.3..0.9, k_year_share to 0..0.5, temp_persistence to -0.3..0.95,
/// temp_k_correlation to -0.9..0.9 and range_k_slope to -10..40 K.
DateClimate off_by(const DateClimate& climate, const ClimateDeviates& deviates);

}  // namespace dullspell
