#include "engine/guesses/shade_table.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "engine/guesses/reading_model.hpp"
#include "engine/guesses/seen_canopy.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/stay/expected_stay.hpp"

namespace dullspell {
namespace {

constexpr int kCanopySteps = 10;  // 0, 0.1 ... 0.9

PanelDay panel_day(const PreparedPlan& prepared, double k) {
  const ExpectedStay expected(prepared);
  PanelDay out;
  for (std::size_t h = 0; h < prepared.hours.size(); ++h) {
    const auto clock_hour = static_cast<std::size_t>(prepared.hours[h].hour_of_day);
    out.watts[clock_hour] = expected.at(h, k).panels_w;
  }
  return out;
}

std::vector<double> canopies_to_show(double stated) {
  constexpr double kAlike = 0.005;
  std::vector<double> out{stated};
  for (int i = 0; i < kCanopySteps; ++i) {
    const double canopy = static_cast<double>(i) / kCanopySteps;
    if (std::abs(canopy - stated) >= kAlike) out.push_back(canopy);
  }
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace

double PanelDay::energy_wh() const {
  return std::accumulate(watts.begin(), watts.end(), 0.0);
}

double ShadedDay::taken_share() const {
  const double open_wh = open.energy_wh();
  return open_wh > 0.0 ? taken_wh() / open_wh : 0.0;
}

Date middle_date(const Plan& plan, std::size_t camp) {
  int nights_before = 0;
  for (std::size_t i = 0; i < camp; ++i) nights_before += plan.camps[i].nights;
  return plan.arrive + std::chrono::days{nights_before + plan.camps[camp].nights / 2};
}

ShadeTable shade_table(const Plan& plan, std::size_t camp, Date date) {
  const Reading glance = panel_glance(camp, {date, 0}, SkyWord::clear, 0.0);
  const Plan there = plan_of_reading(plan, glance);  // the camp's only day, midnight to midnight
  const PreparedPlan here = prepare_stay(there);
  const PreparedPlan open = expected_as(in_the_open(there), here);

  ShadeTable out;
  out.camp = camp;
  out.date = date;
  out.clock_offset_h = there.clock_offset_h;
  out.summer_time = there.summer_time;
  for (const HourSlot& slot : here.hours) {
    if (slot.panels_lit) out.hours.push_back(slot.hour_of_day);
  }
  const double k_mean = here.segments.front().k_mean;
  for (const SkyWord sky : kSkyWords) {
    const double k = stated_clearness(sky, k_mean).k;
    out.days[static_cast<std::size_t>(sky)] = {sky, k, panel_day(here, k), panel_day(open, k)};
  }

  const auto below = [&](double canopy) {
    return expected_as(with_canopy(there, 0, canopy), here);
  };
  const auto bare = panel_day(below(0.0), out.day(SkyWord::clear).k).watts;
  out.best_hour = static_cast<int>(std::max_element(bare.begin(), bare.end()) - bare.begin());
  const auto best = static_cast<std::size_t>(out.best_hour);
  for (const double canopy : canopies_to_show(plan.camps[camp].canopy)) {
    const PreparedPlan prepared = below(canopy);
    CanopyWatts row{canopy, {}};
    for (const ShadedDay& day : out.days) {
      row.watts[static_cast<std::size_t>(day.sky)] = panel_day(prepared, day.k).watts[best];
    }
    out.by_canopy.push_back(row);
  }
  for (const ShadedDay& day : out.days) {
    out.doubt_w[static_cast<std::size_t>(day.sky)] = panel_doubt_w(
        plan, panel_glance(camp, {date, 60 * out.best_hour + 30}, day.sky, day.here.watts[best]));
  }
  return out;
}

}  // namespace dullspell
