#pragma once

namespace dullspell {

/// A customary unit of the United States against a metric one: metric = (us * times - less) / per.
/// All three are whole numbers, so that no digits are lost before the one division: a whole number
/// up to 100,000 becomes the double next to its exact metric value.
struct UsUnit {
  double times;
  double per;
  double less = 0.0;  ///< more than 0 where the scales have other zeros

  constexpr double to_metric(double us) const { return (us * times - less) / per; }
  constexpr double from_metric(double metric) const { return (metric * per + less) / times; }
};

// All are exact by definition. Foot, inch, mile and pound: the international yard (0.9144 m) and
// pound agreement of 1959. The US liquid gallon is 231 cubic inches. NIST Handbook 44, appendix C,
// and NIST SP 811, appendix B.
inline constexpr UsUnit kFoot{3048, 10'000};                    ///< m
inline constexpr UsUnit kInchInCm{254, 100};                    ///< cm
inline constexpr UsUnit kInchInMm{254, 10};                     ///< mm
inline constexpr UsUnit kMile{1'609'344, 1'000'000};            ///< km
inline constexpr UsUnit kPound{45'359'237, 100'000'000};        ///< kg
inline constexpr UsUnit kGallon{3'785'411'784, 1'000'000'000};  ///< L
inline constexpr UsUnit kFahrenheit{5, 9, 160};                 ///< °C; 32 °F is 0 °C
inline constexpr UsUnit kFahrenheitStep{5, 9};                  ///< K, of a difference

// The British thermal unit is the International Table's, 1055.05585262 J (NIST SP 811, appendix
// B.8, and its footnote): 4.1868 J/(g K) for a pound and a degree Fahrenheit. An hour has 3600 s.
inline constexpr UsUnit kBtuPerHour{52'752'792'631, 180'000'000'000};         ///< W
inline constexpr UsUnit kBtuPerHourAndStep{52'752'792'631, 100'000'000'000};  ///< W/K

}  // namespace dullspell
