#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace dullspell {

/// A daily window of clock time in minutes after midnight: from 0..1439, to 1..1440. A window whose
/// end is not after its start runs over midnight.
struct ClockWindow {
  int from_min;
  int to_min;

  int length_min() const {
    return to_min > from_min ? to_min - from_min : to_min + 1440 - from_min;
  }
};

constexpr ClockWindow kWholeDay{0, 1440};

/// All windows together, hours.
double length_h(const std::vector<ClockWindow>& windows);

/// Minutes of clock hour `hour` (0..23) that fall into the window, over 60: 0..1.
double share_of_hour(const ClockWindow& window, int hour);

/// Minutes of a clock hour that fall into any of the windows of each list, over 60. Windows of one
/// list do not overlap.
double share_of_hour(const std::vector<ClockWindow>& windows, int hour);
double shared_share_of_hour(const std::vector<ClockWindow>& a, const std::vector<ClockWindow>& b,
                            int hour);

/// The windows less the times away, as windows that do not run over midnight; none if nothing is
/// left.
std::vector<ClockWindow> windows_without(const std::vector<ClockWindow>& windows,
                                         const std::vector<ClockWindow>& away);

/// The same times without any minute in two windows: joined where windows overlap, else as they
/// are.
std::vector<ClockWindow> without_overlaps(const std::vector<ClockWindow>& windows);

/// "07:30"; 1440 is "24:00".
std::string clock_text(int minute_of_day);

/// The minute of the day of such a text, 0..1440; nothing for another form.
std::optional<int> parse_clock_text(std::string_view text);

}  // namespace dullspell
