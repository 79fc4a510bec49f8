#pragma once

#include <array>
#include <map>
#include <vector>

#include "tests/calibration/markov_library.hpp"
#include "tests/calibration/stations.hpp"

namespace dullspell::calibration {

constexpr std::array<int, 2> kRuns_d{5, 7};
constexpr std::array<double, 3> kTails{0.01, 0.05, 0.10};

/// Lower quantiles of the mean clearness of successive days, by run length and probability.
using DullDays = std::array<std::array<double, kTails.size()>, kRuns_d.size()>;

/// What a generator may know of a month.
enum class Knowledge {
  place,              ///< fitted to the record: quantiles, persistence, year share
  mean_and_spread,    ///< mean and standard deviation; the rest by default
  mean_and_latitude,  ///< mean, its spread by the regression that the Canadian places use
  mean,               ///< the mean alone, all else by default
  library             ///< the Markov library, given the mean
};
constexpr std::array<Knowledge, 5> kKnowledge{Knowledge::place, Knowledge::mean_and_spread,
                                              Knowledge::mean_and_latitude, Knowledge::mean,
                                              Knowledge::library};

/// One month at one station: measured, and as each generator has it; all relative to the mean.
struct StationMonth {
  std::size_t station = 0;
  int month = 0;
  std::size_t years = 0;
  double k_mean = 0.0;
  DullDays measured{};
  DullDays noise{};          ///< standard error of `measured`, years drawn with replacement
  double measured_sd = 0.0;  ///< of the means of 5 days
  std::array<DullDays, kKnowledge.size()> drawn{};
  std::array<double, kKnowledge.size()> drawn_sd{};

  const DullDays& by(Knowledge knowledge) const {
    return drawn[static_cast<std::size_t>(knowledge)];
  }
};

/// Mean clearness of runs of days within one calendar month, by year.
using RunMeans = std::map<int, std::vector<double>>;

/// All runs of `run_d` successive days of a station in a month (0..11) of its whole years.
RunMeans run_means(const Station& station, int month, int run_d);

/// All stations and months; each generator draws so many records as long as the measured one.
std::vector<StationMonth> dull_days(const std::vector<Station>& stations,
                                    const MarkovLibrary& library, std::uint32_t records);

}  // namespace dullspell::calibration
