#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "tests/calibration/kits.hpp"
#include "tests/calibration/stations.hpp"

namespace dullspell::calibration {

/// One kit at one station in one month, for stays of one length: what was said and what happened.
struct Verdict {
  std::size_t station = 0;
  int month = 0;
  std::size_t kit = 0;
  std::size_t length = 0;  ///< index into kLengths
  double predicted = 0.0;  ///< share of stays that run flat
  double measured = 0.0;   ///< share of the record's periods
  double noise = 0.0;      ///< standard error of `measured`, years being the units
};

/// How the predictions did, over many verdicts.
struct Score {
  std::size_t verdicts = 0;
  double bias = 0.0;   ///< mean of predicted - measured
  double rms = 0.0;    ///< of the same
  double noise = 0.0;  ///< rms of the records' own standard errors

  double ratio() const { return rms / noise; }
};

Score score_of(const std::vector<Verdict>& verdicts,
               const std::function<bool(const Verdict&)>& counts = {});

/// Years that a fit may see, and years that judge it.
struct Split {
  std::set<int> fit;
  std::set<int> judge;
};

/// Odd against even years, both ways.
std::vector<Split> halves(const std::vector<int>& years);

/// Blocks of five years left out in turn.
std::vector<Split> leave_five_out(const std::vector<int>& years);

/// Everything that the study needs of its stations: their kits' sizes, and what every past period
/// did to them.
class CalibrationStudy {
 public:
  CalibrationStudy(std::vector<Station> stations, std::uint64_t stays);

  const std::vector<Station>& stations() const { return stations_; }

  /// Every split judged by itself.
  std::vector<Verdict> by_split(std::vector<Split> (*splits)(const std::vector<int>&)) const;

  /// The splits' predictions averaged and judged by the whole record.
  std::vector<Verdict> pooled(std::vector<Split> (*splits)(const std::vector<int>&)) const;

  /// Places fitted to one typical-like year, judged by the whole record.
  std::vector<Verdict> from_typical_year() const;

 private:
  struct PastCase {
    double panels_w = 0.0;
    std::vector<int> years;           // of each period
    std::vector<int> first_flat_day;  // kDays if never
  };
  struct Cell {
    std::size_t station;
    int month;
    std::size_t kit;
  };
  using Shares = std::array<double, kLengths.size()>;

  std::vector<Cell> cells() const;
  const PastCase& past(const Cell& cell) const;
  Shares predicted(const Place& place, const Cell& cell) const;
  void judge(const Cell& cell, const Shares& predicted, const std::set<int>& years,
             std::vector<Verdict>& out) const;
  std::vector<Verdict> judged(const std::vector<std::vector<Place>>& places,
                              const std::vector<std::vector<std::set<int>>>& judges,
                              bool pool) const;

  std::vector<Station> stations_;
  std::uint64_t stays_;
  std::vector<PastCase> past_;
};

}  // namespace dullspell::calibration
