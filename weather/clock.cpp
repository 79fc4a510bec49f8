#include "weather/clock.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include <fmt/format.h>

namespace dullspell {
namespace {

int overlap_min(int from, int to, int hour) {
  return std::max(0, std::min(to, 60 * hour + 60) - std::max(from, 60 * hour));
}

}  // namespace

double length_h(const std::vector<ClockWindow>& windows) {
  double sum_h = 0.0;
  for (const ClockWindow& window : windows) sum_h += window.length_min() / 60.0;
  return sum_h;
}

double share_of_hour(const ClockWindow& window, int hour) {
  const int minutes =
      window.to_min > window.from_min
          ? overlap_min(window.from_min, window.to_min, hour)
          : overlap_min(window.from_min, 1440, hour) + overlap_min(0, window.to_min, hour);
  return minutes / 60.0;
}

double share_of_hour(const std::vector<ClockWindow>& windows, int hour) {
  double share = 0.0;
  for (const auto& w : windows) share += share_of_hour(w, hour);
  return std::min(1.0, share);
}

double shared_share_of_hour(const std::vector<ClockWindow>& a, const std::vector<ClockWindow>& b,
                            int hour) {
  int minutes = 0;
  for (int minute = 60 * hour; minute < 60 * hour + 60; ++minute) {
    const auto holds = [=](const ClockWindow& w) {
      return w.to_min > w.from_min ? minute >= w.from_min && minute < w.to_min
                                   : minute >= w.from_min || minute < w.to_min;
    };
    if (std::any_of(a.begin(), a.end(), holds) && std::any_of(b.begin(), b.end(), holds)) ++minutes;
  }
  return minutes / 60.0;
}

std::vector<ClockWindow> windows_without(const std::vector<ClockWindow>& windows,
                                         const std::vector<ClockWindow>& away) {
  std::array<bool, 1440> on{};
  const auto mark = [&](const ClockWindow& w, bool value) {
    for (int i = 0; i < w.length_min(); ++i) {
      on[static_cast<std::size_t>((w.from_min + i) % 1440)] = value;
    }
  };
  for (const auto& w : windows) mark(w, true);
  for (const auto& w : away) mark(w, false);
  std::vector<ClockWindow> out;
  for (int m = 0; m < 1440; ++m) {
    if (!on[static_cast<std::size_t>(m)]) continue;
    if (!out.empty() && out.back().to_min == m) {
      out.back().to_min = m + 1;
    } else {
      out.push_back({m, m + 1});
    }
  }
  return out;
}

std::vector<ClockWindow> without_overlaps(const std::vector<ClockWindow>& windows) {
  std::array<int, 1440> windows_in{};
  for (const ClockWindow& w : windows) {
    for (int i = 0; i < w.length_min(); ++i) {
      ++windows_in[static_cast<std::size_t>((w.from_min + i) % 1440)];
    }
  }
  const bool overlap =
      std::any_of(windows_in.begin(), windows_in.end(), [](int count) { return count > 1; });
  return overlap ? windows_without(windows, {}) : windows;
}

std::string clock_text(int minute_of_day) {
  return fmt::format("{:02}:{:02}", minute_of_day / 60, minute_of_day % 60);
}

std::optional<int> parse_clock_text(std::string_view text) {
  // Exactly HH:MM; 24:00 is the end of the day.
  if (text.size() != 5 || text[2] != ':') return std::nullopt;
  for (const std::size_t i : {0u, 1u, 3u, 4u}) {
    if (text[i] < '0' || text[i] > '9') return std::nullopt;
  }
  const int hour = 10 * (text[0] - '0') + (text[1] - '0');
  const int minute = 10 * (text[3] - '0') + (text[4] - '0');
  if (minute > 59 || hour > 24 || (hour == 24 && minute > 0)) return std::nullopt;
  return 60 * hour + minute;
}

}  // namespace dullspell
