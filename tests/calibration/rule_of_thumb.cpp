// Writes what confidence a handbook's rule buys at some places, as Markdown.

#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "engine/decisions/least_size.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/stay/sky.hpp"
#include "engine/study/budget.hpp"
#include "engine/study/climate_interval.hpp"
#include "engine/study/prepare.hpp"
#include "tests/calibration/handbook_rule.hpp"
#include "weather/place_catalogue.hpp"

namespace dullspell::calibration {
namespace {

constexpr double kLoad_w = 50.0, kLoad_wh = 24.0 * kLoad_w;
constexpr int kNights = 14;

struct Season {
  const char* name;
  int month;  // 0..11
};
constexpr std::array<Season, 2> kSeasons{{{"January", 0}, {"July", 6}}};
constexpr std::array<const char*, 6> kPlaces{"tucson-az", "miami-fl",         "moab-ut",
                                             "denver-co", "crescent-city-ca", "port-angeles-wa"};
constexpr std::array<double, 2> kArrayToLoad{1.1, 1.3};

// Panels flat in the open, the battery indoors, one steady load.
Plan stay_at(const Place& place, const Season& season) {
  Plan plan;
  plan.arrive = make_date(2027, static_cast<unsigned>(season.month + 1), 8);
  plan.arrive_hour = 15;
  Camp camp;
  camp.place = place;
  camp.where = place.where;
  camp.nights = kNights;
  plan.camps.push_back(camp);
  plan.clock_offset_h = place.utc_offset_h;
  plan.battery.capacity_wh = kLoad_wh;
  plan.battery.charge_limit_w = 0.5 * kLoad_wh;
  plan.battery.discharge_limit_w = kLoad_wh;
  plan.battery.charge_limit_follows = plan.battery.discharge_limit_follows = true;
  plan.controllers.push_back({"sun", kNoLimit_w});
  PanelGroup panels;
  panels.rated_w = 100.0;
  plan.panels.push_back(panels);
  Load load;
  load.name = "everything";
  load.watts = kLoad_w;
  load.between = {kWholeDay};
  plan.loads.push_back(load);
  return plan;
}

// Share of stays that last, and what it may be for all that the place's record can tell, in %.
std::string lasts(const Plan& plan) {
  const SizeOptions options;
  const PreparedPlan prepared = prepare(plan);
  const Proportion flat(flat_stays(prepared, DrawnSky(prepared, options.seed), options),
                        options.stays);
  std::vector<std::uint64_t> counts;
  for (const auto& climate : run_climates(prepared, options.seed, options.stays, 0)) {
    std::uint64_t sum = 0;
    for (const auto on_day : climate.home) sum += on_day;
    counts.push_back(sum);
  }
  const Interval interval = climate_interval(flat, counts, climate_stays(options.stays));
  const auto text = [](double share) {
    const double percent = 100.0 * share;
    return percent >= 99.5 && percent < 100.0 ? std::string(">99") : fmt::format("{:.0f}", percent);
  };
  return fmt::format("{} ({})", text(1.0 - flat.p), text(1.0 - interval.high));
}

// Days of autonomy by the rule that the least battery for a confidence comes to.
std::string days_for(const Plan& plan, const HandbookRule& one_day, double accept_risk) {
  const LeastSize found = least_size(plan, {SizeOf::battery, accept_risk, false}, {});
  if (!found.least) return "none";
  return fmt::format("{:.1f}", found.least->size / one_day.battery_wh());
}

void print_row(const Place& place, const Season& season, double array_to_load) {
  const MonthStatistics& month = place.months[static_cast<std::size_t>(season.month)];
  const double sun_h =
      month.k_mean.value * mean_extraterrestrial_wh_m2(season.month, place.where) / 1000.0;
  HandbookRule rule{kLoad_wh, 1.0, sun_h};
  rule.array_to_load = array_to_load;
  const Plan plan = with_panels_w(stay_at(place, season), rule.panels_w());
  const Budget budget = expected_budget(prepare(plan));
  fmt::print("| {} | {} | {:.1f} | {:.0f} | {:.2f} |", place.name, season.name, sun_h,
             rule.panels_w(), budget.panels_wh_per_day / budget.draw_wh_per_day);
  const auto with_days = [&](double days) {
    HandbookRule sized = rule;
    sized.autonomy_days = days;
    return lasts(with_battery_wh(plan, sized.battery_wh()));
  };
  for (const double days : {2.0, 3.0, 5.0}) fmt::print(" {} |", with_days(days));
  const double usual = usual_autonomy_days(sun_h), critical = critical_autonomy_days(sun_h);
  fmt::print(" {:.1f} d: {} | {:.1f} d: {} |", usual, with_days(usual), critical,
             with_days(critical));
  fmt::print(" {} | {} |\n", days_for(plan, rule, 0.10), days_for(plan, rule, 0.05));
}

void write() {
  const HandbookRule rule{kLoad_wh, 1.0, 1.0};
  fmt::print(R"(# What confidence a rule of thumb buys

Made by `build/bin/dullspell_rule_of_thumb > tests/calibration/RULE_OF_THUMB.md`.

## Question and method

Handbooks for stand-alone photovoltaic systems size by days of autonomy (in its outline Sandia's recommended practices, SAND87-7023, and IEEE 1013 and 1562; from memory):

- battery, Wh = daily load x days of autonomy / (usable share x temperature factor);
- panels, W = array-to-load ratio x daily load / (peak sun hours of the dullest month x system efficiency), the ratio 1.1 to 1.3 or more;
- days of autonomy by the sun of the dullest month, PSH in kWh/m2 a day: -0.48 PSH + 4.58 for usual loads, -1.9 PSH + 18.3 for critical ones (from memory).

Here: {:.0f} Wh a day, drawn steadily; usable share {}, temperature factor {}, system efficiency {} (common practice, no source); panels flat in the open, LFP battery indoors, full on arrival. Stays of {} nights from the 8th of the month, sized by that month as its own dullest; {} drawn stays each. The engine's own losses apply: the column `sun` is the mean harvest over the mean draw that come of them.

Cells: stays of 100 without a flat battery, in brackets the lower end of its 95 % interval that counts what the place's record cannot tell. The last two columns turn the question round: the days of autonomy, by the rule's own reckoning, that the least battery for 90 and for 95 of 100 stays comes to with the rule's panels.
)",
             kLoad_wh, rule.usable_share, rule.temperature_factor, rule.system_efficiency, kNights,
             SizeOptions{}.stays);
  for (const double ratio : kArrayToLoad) {
    fmt::print(R"(
## Array-to-load ratio {}

| place | month | PSH | panels W | sun | 2 days | 3 days | 5 days | usual loads | critical loads | days for 90 | days for 95 |
| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
)",
               ratio);
    for (const char* id : kPlaces) {
      for (const Season& season : kSeasons) {
        print_row(*PlaceCatalogue::built_in().place(id), season, ratio);
      }
    }
  }
  fmt::print("{}", R"(
## What follows

- The rule says days, not confidence: the same two days and the same ratio of 1.1 last 84 of 100 fortnights in January on the north coast of California and practically all of them in July in the desert.
- For 95 of 100 stays about one day is enough in July inland and in Florida, 1.6 to 1.9 there in January and in July on the north coast, nearly 3 in January on that coast. Three to five days buy a battery three to six times too large in the one place and the right one in the other.
- The line for usual loads levels this well: 95 to more than 99 of 100 stays, since it asks for more days where there is less sun. The line for critical loads leaves no stay flat here, with four to seven times the least battery for 95 of 100.
- More panels save battery: a ratio of 1.3 instead of 1.1 takes a sixth to a third off the least battery.
- The ratio is meant after the system's losses. With the rule's 0.75 the engine's panels bring 1.14 to 1.23 times the draw at a ratio of 1.1.
- What the place's record leaves open outweighs a day of autonomy: the 96 of 100 of two days in January in Tucson may be 84.
- All of that is for panels in the open and a battery that arrives full. Crowns, a skyline, an outdoor battery or a load that grows on dull days are in no rule.
)");
}

}  // namespace
}  // namespace dullspell::calibration

int main() {
  dullspell::calibration::write();
}
