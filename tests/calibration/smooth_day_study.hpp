#pragma once

#include <array>
#include <vector>

#include "engine/stay/prepared_plan.hpp"
#include "tests/calibration/hourly_sites.hpp"

namespace dullspell::calibration {

constexpr int kStay_days = 7;
constexpr double kArray_w = 1000.0;

/// Controller limits as shares of the array's rated watts; the first is none.
constexpr std::array<double, 7> kLimitShares{kNoLimit_w, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3};
constexpr std::array<double, 9> kAutonomies_d{0.5, 0.6, 0.7, 0.8, 1.0, 1.25, 1.5, 2.0, 3.0};
constexpr std::array<double, 2> kSunToLoads{1.1, 1.5};

/// One kit at one site, over the stays that begin in one month: the day as the engine spreads it
/// and as its hours were, with the same daily totals.
struct Comparison {
  std::size_t site = 0;
  int month = 0;
  std::size_t limit = 0;        ///< index into kLimitShares
  std::size_t autonomy = 0;     ///< index into kAutonomies_d
  std::size_t sun_to_load = 0;  ///< index into kSunToLoads
  int stays = 0;
  double smooth_wh = 0.0;  ///< harvest after the controller's limit, all stays
  double hours_wh = 0.0;
  double unlimited_wh = 0.0;  ///< smooth harvest before the limit
  int smooth_flat = 0;        ///< stays that run flat
  int hours_flat = 0;

  /// How much the smooth day harvests too much, as a share.
  double harvest_excess() const { return smooth_wh / hours_wh - 1.0; }
  /// What the limit cuts of the smooth harvest, as a share.
  double cut() const { return 1.0 - smooth_wh / unlimited_wh; }
  /// How many more stays run flat by the hours, as a share of all.
  double flat_missed() const { return static_cast<double>(hours_flat - smooth_flat) / stays; }
};

/// A site's typical year (and its first days once more) in two forms: the engine's own tables, and
/// tables for the measured hours. Flat panels: what they make of the hour, whatever the clearness,
/// which is exact. Tilted ones: the engine's own, scaled in each hour by what was measured over
/// what the smooth day gives it. Controllers limit what a table says, so their part is exact.
struct YearPlans {
  PreparedPlan smooth;
  PreparedPlan hours;
};

/// Panels of kArray_w, flat or tilted towards the south, one controller. Throws std::runtime_error
/// for a record with an hour missing.
YearPlans year_plans(const HourlySite& site, double tilt_deg);

/// The dates [first, first + kStay_days) of a year as a plan of their own.
PreparedPlan week_of(const PreparedPlan& year, int first);

/// All kits at one site in one month.
std::vector<Comparison> compare_month(const HourlySite& site, std::size_t index,
                                      const YearPlans& plans, int month);

/// The same site if its days had been as smooth as the engine takes them: both forms must agree.
HourlySite with_smooth_hours(HourlySite site);

/// All sites and months.
std::vector<Comparison> compare_all(const std::vector<HourlySite>& sites, double tilt_deg);

}  // namespace dullspell::calibration
