#pragma once

#include <cstddef>
#include <functional>
#include <vector>

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

/// What was measured where a like share was predicted.
struct ReliabilityPoint {
  double predicted = 0.0;  ///< mean of the bin
  double measured = 0.0;
  double noise = 0.0;   ///< rms standard error of single verdicts
  double spread = 0.0;  ///< rms distance of single verdicts from their prediction
  std::size_t verdicts = 0;
};

/// Bins of predicted share: 0-2, 2-5, 5-10, 10-20, ... 90-100 %.
std::vector<ReliabilityPoint> reliability(const std::vector<Verdict>& verdicts);

/// Whether a measured share fell into a predicted interval.
struct Coverage {
  std::size_t cases = 0;
  std::size_t inside = 0;
  std::size_t below = 0;  ///< measured below the interval
  std::size_t above = 0;

  void operator+=(const Coverage& other);
  double share() const { return static_cast<double>(inside) / static_cast<double>(cases); }
};

}  // namespace dullspell::calibration
