#include "engine/generator_targets.hpp"

#include <algorithm>
#include <vector>

#include "engine/energy_step.hpp"

namespace dullspell {
namespace {

constexpr double kLowerQuartileDeviate = -0.6744897501960817;

struct ExpectedStay {
  std::vector<double> draw_w;
  std::vector<double> left_to_draw_w;  // after the sun of a dullish day; negative where it exceeds
  std::vector<bool> sun_carries;       // panels on a dullish day exceed the draw
  std::vector<double> cut_off_wh;
};

ExpectedStay expect(const PreparedPlan& prepared) {
  ExpectedStay out;
  for (std::size_t h = 0; h < prepared.hours.size(); ++h) {
    const auto& segment = prepared.segments[static_cast<std::size_t>(prepared.hours[h].segment)];
    const ExpectedHour usual = expected_hour(prepared, h, segment.k_mean);
    const double dullish_k = segment.k_of_chi(kLowerQuartileDeviate);
    out.draw_w.push_back(usual.draw_w);
    const double dullish_panels_w = expected_hour(prepared, h, dullish_k).panels_w;
    out.left_to_draw_w.push_back(usual.draw_w - dullish_panels_w);
    out.sun_carries.push_back(dullish_panels_w > usual.draw_w);
    out.cut_off_wh.push_back(cut_off_wh(prepared.battery, usual.battery_c));
  }
  return out;
}

double sum(const std::vector<double>& values, std::size_t from, std::size_t to) {
  double total = 0.0;
  for (std::size_t i = from; i < std::min(to, values.size()); ++i) total += values[i];
  return total;
}

}  // namespace

void set_generator_targets(PreparedPlan& prepared) {
  auto& hours = prepared.hours;
  const std::size_t count = hours.size();
  const ExpectedStay expected = expect(prepared);
  const double margin = 1.0 + prepared.generator->night_margin;

  // Windows as runs of allowed hours.
  struct Window {
    std::size_t begin, end;
    bool last_of_day;
  };
  std::vector<Window> windows;
  for (std::size_t h = 0; h < count; ++h) {
    if (hours[h].generator_allowed <= 0.0) continue;
    if (windows.empty() || windows.back().end != h) windows.push_back({h, h, true});
    windows.back().end = h + 1;
  }
  for (std::size_t i = 0; i + 1 < windows.size(); ++i) {
    windows[i].last_of_day = hours[windows[i].begin].day != hours[windows[i + 1].begin].day;
  }

  for (std::size_t i = 0; i < windows.size(); ++i) {
    const Window& window = windows[i];
    double need_after_wh = 0.0;
    std::size_t covered_to = count;
    if (window.last_of_day) {
      std::size_t dusk = window.end;
      while (dusk < count && expected.sun_carries[dusk]) ++dusk;
      const std::size_t at_most = std::min(count, std::max(window.begin + 24, dusk));
      std::size_t dawn = dusk;
      while (dawn < at_most && !expected.sun_carries[dawn]) ++dawn;
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
      hours[h].generator_target_wh = std::min(target_wh, prepared.usable_wh());
    }
  }
}

}  // namespace dullspell
