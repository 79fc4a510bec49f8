#include "engine/stay/generator_targets.hpp"

#include <algorithm>
#include <vector>

#include "engine/stay/expected_stay.hpp"

namespace dullspell {
namespace {

constexpr double kLowerQuartileDeviate = -0.6744897501960817;

// What each hour is expected to take from the battery. The mains carries its share of the hour, and
// the vehicle what it gives.
struct ExpectedNeeds {
  std::vector<double> draw_w;
  std::vector<double> left_to_draw_w;  // after the sun of a dullish day; negative where it exceeds
  std::vector<bool> carried;           // by the mains, or by the sun of a dullish day
  std::vector<double> cut_off_wh;
};

ExpectedNeeds expect(const PreparedPlan& prepared) {
  const ExpectedStay stay(prepared);
  const BatteryModel battery = battery_model(prepared.battery);
  ExpectedNeeds out;
  for (std::size_t h = 0; h < prepared.hours.size(); ++h) {
    const HourSlot& slot = prepared.hours[h];
    const auto& segment = prepared.segments[slot.segment];
    const ExpectedHour usual = stay.usual(h);
    const double dullish_panels_w = stay.at(h, segment.k_of_chi(kLowerQuartileDeviate)).panels_w;
    const bool mains = slot.source == Source::mains;
    const double off_mains = mains ? 1.0 - slot.source_share : 1.0;
    const double draw_w = (usual.draw_w - slot.vehicle_w) * off_mains;
    out.draw_w.push_back(std::max(0.0, draw_w));
    out.left_to_draw_w.push_back(draw_w - dullish_panels_w);
    out.carried.push_back(mains || dullish_panels_w > draw_w);
    out.cut_off_wh.push_back(cut_off_wh(battery, usual.battery_c));
  }
  return out;
}

double sum(const std::vector<double>& values, std::size_t from, std::size_t to) {
  double total = 0.0;
  for (std::size_t i = from; i < std::min(to, values.size()); ++i) total += values[i];
  return total;
}

}  // namespace

std::vector<double> generator_targets_wh(const PreparedPlan& prepared) {
  const std::vector<HourSlot>& hours = prepared.hours;
  const std::size_t count = hours.size();
  const ExpectedNeeds expected = expect(prepared);
  const double margin = 1.0 + prepared.generator->night_margin;

  // Windows as runs of allowed hours.
  struct Window {
    std::size_t begin, end;
    bool last_of_day;
  };
  std::vector<Window> windows;
  for (std::size_t h = 0; h < count; ++h) {
    if (hours[h].source != Source::generator) continue;
    if (windows.empty() || windows.back().end != h) windows.push_back({h, h, true});
    windows.back().end = h + 1;
  }
  for (std::size_t i = 0; i + 1 < windows.size(); ++i) {
    windows[i].last_of_day = hours[windows[i].begin].day != hours[windows[i + 1].begin].day;
  }

  std::vector<double> targets_wh(count, -1.0);
  for (std::size_t i = 0; i < windows.size(); ++i) {
    const Window& window = windows[i];
    double need_after_wh = 0.0;
    std::size_t covered_to = count;
    if (window.last_of_day) {
      std::size_t dusk = window.end;
      while (dusk < count && expected.carried[dusk]) ++dusk;
      const std::size_t at_most = std::min(count, std::max(window.begin + 24, dusk));
      std::size_t dawn = dusk;
      while (dawn < at_most && !expected.carried[dawn]) ++dawn;
      need_after_wh = margin * sum(expected.draw_w, dusk, dawn);
      covered_to = dawn;
    } else {
      covered_to = windows[i + 1].begin;
      need_after_wh = sum(expected.draw_w, window.end, covered_to);
    }
    double highest_cut_off_wh = 0.0;
    for (std::size_t h = window.begin; h < covered_to; ++h) {
      highest_cut_off_wh = std::max(highest_cut_off_wh, expected.cut_off_wh[h]);
    }
    for (std::size_t h = window.begin; h < window.end; ++h) {
      const double need_wh =
          std::max(0.0, need_after_wh + sum(expected.left_to_draw_w, h + 1, window.end));
      const double target_wh = highest_cut_off_wh + need_wh / prepared.battery.discharge_efficiency;
      targets_wh[h] = std::min(target_wh, prepared.usable_wh());
    }
  }
  return targets_wh;
}

}  // namespace dullspell
