#pragma once

#include <set>
#include <vector>

#include "tests/calibration/kits.hpp"
#include "tests/calibration/score.hpp"
#include "tests/calibration/stations.hpp"

namespace dullspell::calibration {

/// Years that a fit may see, and years that judge it.
struct Split {
  std::set<int> fit;
  std::set<int> judge;
};

/// Odd against even years, both ways.
std::vector<Split> halves(const std::vector<int>& years);

/// Blocks of five years left out in turn.
std::vector<Split> leave_five_out(const std::vector<int>& years);

/// Halves drawn at random, both ways; `draw` picks them.
std::vector<Split> random_halves(const std::vector<int>& years, unsigned draw);

/// The first against the last half, both ways.
std::vector<Split> early_and_late(const std::vector<int>& years);

struct StudySize {
  std::uint64_t stays_per_date = 500;  ///< of each of the five dates of a month
  int climates = 16;                   ///< alternatives, for coverage
  int synthetic_years = 30;            ///< of each of them
};

/// What came out.
struct CalibrationResult {
  std::vector<Verdict> by_halves;      ///< each half judged by the other
  std::vector<Verdict> by_five_years;  ///< left-out predictions pooled, judged by the whole record
  std::vector<Verdict> typical_like;   ///< places of one typical-like year, likewise
  std::vector<Verdict> single_year;    ///< places of one measured year (every tenth), likewise
  std::vector<Verdict> nearest;        ///< months of the nearest built-in station, likewise
  std::vector<Verdict> around;         ///< blends of what is known around, likewise
  Coverage odd_even, random, early_late;  ///< of the combined 90 % interval
  Coverage covered_around;
};

/// Runs everything: for each station and month, stays that begin around five dates of the month
/// (three days either way in the record), six kits, four lengths.
CalibrationResult run_calibration(const std::vector<Station>& stations, const StudySize& size);

}  // namespace dullspell::calibration
