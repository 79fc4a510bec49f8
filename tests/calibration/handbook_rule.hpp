#pragma once

namespace dullspell::calibration {

/// The method of days of autonomy, common in handbooks for stand-alone photovoltaic systems (in its
/// outline: Sandia's recommended practices, SAND87-7023; IEEE 1013 and 1562; from memory).
struct HandbookRule {
  double daily_load_wh;
  double autonomy_days;
  double peak_sun_h;                 ///< of the month, kWh/m2 a day on the panels
  double usable_share = 0.8;         ///< of the battery, common practice for lithium
  double temperature_factor = 0.95;  ///< of its capacity, indoors
  double system_efficiency = 0.75;   ///< from rated watts to the load, common practice
  double array_to_load = 1.2;        ///< 1.1 to 1.3 or more

  double battery_wh() const {
    return daily_load_wh * autonomy_days / (usable_share * temperature_factor);
  }
  double panels_w() const {
    return array_to_load * daily_load_wh / (peak_sun_h * system_efficiency);
  }
};

/// Days of autonomy by the sun of the dullest month, straight lines fitted to a handbook's curves
/// for critical and other loads (from memory).
constexpr double critical_autonomy_days(double peak_sun_h) {
  return -1.9 * peak_sun_h + 18.3;
}
constexpr double usual_autonomy_days(double peak_sun_h) {
  return -0.48 * peak_sun_h + 4.58;
}

}  // namespace dullspell::calibration
