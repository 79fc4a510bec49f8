#pragma once

#include <optional>
#include <vector>

#include "engine/guesses/reading.hpp"
#include "engine/plan/plan.hpp"
#include "weather/input/source_text.hpp"
#include "weather/records/record_cells.hpp"

namespace dullspell {

constexpr std::size_t kLargestLog_bytes = 64 * 1024 * 1024;

/// Of a longer log the last days are used.
constexpr int kMostLogged_days = 14;

/// Rows further apart leave out what was drawn or came in between.
constexpr int kLongestStep_min = 30;

/// Where a log was taken, and what its display counts as drawn.
struct LogTaken {
  std::optional<std::size_t> camp;  ///< nothing: the camp of each date, else the plan's first
  bool in_the_open = false;
  CountedAt counted_at = CountedAt::loads;
};

/// What is odd about a log, or good to know.
struct LogFindings {
  std::size_t rows = 0;
  LocalTime first{}, last{};
  LineCount gaps;  ///< steps longer than kLongestStep_min in watts, or than a day in charge
  int longest_gap_min = 0;
  LineCount backwards;  ///< rows before the one above them; nothing is read across these
  bool whole_percents = false;
  bool cut = false;              ///< days before the last kMostLogged_days were left out
  bool panels_unjudged = false;  ///< panels' watts without charge: a full battery is not told
};

/// What a display noted down by itself, as readings of nights and days.
struct DisplayLog {
  std::vector<Reading> readings;  ///< in order of time
  LogFindings findings;
};

/// Reads a table of `time` (2027-05-22 21:30, local) with `charge` (0 to 1, or with % behind) or
/// `charge_percent`, `panels_w` and `draw_w`, at least one of them; other columns are ignored and
/// cells may be empty. Charge is read from one rise or set of the sun to the next, at the rows
/// nearest to them, by day only where the panels' watts are not logged; watts add up to energy over
/// the longest run of rows between the two, those of panels while the battery is known not to be
/// full. Throws InputError, also for a log from which nothing can be read.
DisplayLog read_display_log(const SourceText& source, const Plan& plan, const LogTaken& taken);

}  // namespace dullspell
