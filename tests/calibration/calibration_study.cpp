#include "tests/calibration/calibration_study.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <map>
#include <stdexcept>

#include <boost/random/mersenne_twister.hpp>
#include <boost/random/uniform_int_distribution.hpp>

#include "engine/study/climate_interval.hpp"
#include "engine/study/hindcast.hpp"
#include "engine/study/parallel.hpp"
#include "engine/study/study.hpp"
#include "weather/place_blend.hpp"
#include "weather/place_fit.hpp"
#include "weather/temperature.hpp"

namespace dullspell::calibration {
namespace {

constexpr std::uint64_t kSeed = 20'270'521;
constexpr std::array<int, 5> kDatesOfMonth{4, 10, 16, 22, 28};
constexpr int kWindow_days = 3;  // past periods begin on all days of the month, so
constexpr std::uint64_t kLeastPeriods = 60;
constexpr int kChainDays = 28 - 4 + 2 * kWindow_days + kDays;
constexpr double kSameStation_km = 3.0;  // a built-in place made from the record itself
constexpr int kRecords = 800;            // synthetic records drawn for one combined interval

using Shares = std::array<double, kLengths.size()>;
using Counts = std::array<std::uint64_t, kLengths.size()>;

std::set<int> set_of(const std::vector<int>& years) {
  return {years.begin(), years.end()};
}

Place fitted(const Station& station, const std::set<int>& years) {
  return fit_place(station.frame, station.days_of(years)).place;
}

Date begin_of(int month, std::size_t i) {
  return make_date(2027, static_cast<unsigned>(month) + 1, static_cast<unsigned>(kDatesOfMonth[i]));
}

// Climate of a run of dates at one place.
ClimateOfStay climate_of(const Place& place, Date begin, int days) {
  const PlaceClimate climate(place);
  std::vector<StatedClimate> stated;
  for (int d = 0; d < days; ++d) {
    const Date date = begin + std::chrono::days{d};
    stated.push_back({of_other_decades(climate.on(date)), 0.0, 0, d});
  }
  StatedClimate before = stated.front();
  return {std::move(stated), std::move(before), {}, 1};
}

// Plans here begin at midnight. kDays if the battery never ran flat.
int first_flat_day(const TrackTrace& track) {
  const auto hour = std::find(track.flat.begin(), track.flat.end(), std::uint8_t{1});
  return hour == track.flat.end() ? kDays : static_cast<int>(hour - track.flat.begin()) / 24;
}

// Past periods of one kit in one month, by year.
using PastCounts = std::map<int, std::pair<Counts, std::uint64_t>>;

struct Measured {
  double share = 0.0;
  double noise = 0.0;
  int years = 0;
};

// Years are the units: SE^2 = n / (n - 1) sum (count_y - p periods_y)^2 / periods^2.
std::optional<Measured> measured(const PastCounts& past, const std::set<int>& years,
                                 std::size_t length) {
  std::uint64_t flat = 0, periods = 0;
  Measured out;
  for (const auto& [year, counts] : past) {
    if (!years.contains(year)) continue;
    flat += counts.first[length];
    periods += counts.second;
    ++out.years;
  }
  if (periods < kLeastPeriods) return std::nullopt;
  const double all = static_cast<double>(periods);
  out.share = static_cast<double>(flat) / all;
  double squares = 0.0;
  for (const auto& [year, counts] : past) {
    if (!years.contains(year)) continue;
    const double apart =
        static_cast<double>(counts.first[length]) - out.share * static_cast<double>(counts.second);
    squares += apart * apart;
  }
  out.noise = std::sqrt(out.years / (out.years - 1.0) * squares) / all;
  return out;
}

// Which fits of a station are asked, and by which years they are judged.
struct Fit {
  Place place;
  std::set<int> judge;
};

struct StationFits {
  std::vector<Fit> halves, five, single;
  std::vector<Fit> typical, nearest, around;
  std::vector<Fit> odd_even, random, early_late;
  std::set<int> years;
};

std::vector<Fit> fits_of(const Station& station, const std::vector<Split>& splits) {
  std::vector<Fit> out;
  for (const Split& split : splits) out.push_back({fitted(station, split.fit), split.judge});
  return out;
}

StationFits station_fits(const Station& station) {
  constexpr std::size_t kEvery = 10;
  StationFits out;
  const auto years = station.whole_years();
  out.years = set_of(years);
  out.halves = fits_of(station, halves(years));
  out.five = fits_of(station, leave_five_out(years));
  out.odd_even = out.halves;
  for (unsigned draw = 1; draw <= 2; ++draw) {
    const auto more = fits_of(station, random_halves(years, draw));
    out.random.insert(out.random.end(), more.begin(), more.end());
  }
  out.early_late = fits_of(station, early_and_late(years));
  for (std::size_t i = 0; i < years.size(); i += kEvery) {
    try {
      out.single.push_back({fitted(station, {years[i]}), out.years});
    } catch (const std::invalid_argument&) {
      // A month of that year has too many gaps for a fit.
    }
  }
  Place frame = station.frame;
  frame.record = RecordKind::typical_year;
  out.typical.push_back({fit_place(frame, typical_like_year(station)).place, out.years});
  const Coordinates& where = station.frame.where;
  for (const NearbyPlace& near : PlaceCatalogue::built_in().by_distance(where)) {
    if (near.distance_km < kSameStation_km) continue;
    out.nearest.push_back({*PlaceCatalogue::built_in().place(near.place->id), out.years});
    break;
  }
  out.around.push_back(
      {PlaceBlend::built_in().at(where, station.frame.elevation_m, kSameStation_km), out.years});
  return out;
}

// One station and month: every kit, all fits.
class MonthStudy {
 public:
  MonthStudy(std::size_t station, const StationFits& fits, const Place& whole,
             const PastWeather& past, int month, const StudySize& size)
      : station_(station), fits_(fits), month_(month), size_(size) {
    std::vector<KitPlans> frames;
    for (std::size_t i = 0; i < kDatesOfMonth.size(); ++i) {
      frames.emplace_back(whole, begin_of(month, i));
    }
    for (std::size_t kit = 0; kit < kKits.size(); ++kit) {
      double harvest_wh = 0.0;
      for (const auto& frame : frames) harvest_wh += frame.harvest_wh_per_w(kKits[kit]);
      const double panels_w = kKits[kit].sun_to_load * kDraw_wh * kDatesOfMonth.size() / harvest_wh;
      for (std::size_t i = 0; i < frames.size(); ++i) {
        plans_[kit].push_back(frames[i].plan(kKits[kit], panels_w));
        add_past(kit, run_hindcast(plans_[kit].back(), past, {kWindow_days, kSeed, 1, {}}));
      }
    }
  }

  void run(CalibrationResult& out) const {
    for (const Fit& fit : fits_.halves) judge(predicted(fit.place), fit.judge, out.by_halves);
    pool(fits_.five, out.by_five_years);
    for (const Fit& fit : fits_.single) judge(predicted(fit.place), fit.judge, out.single_year);
    pool(fits_.typical, out.typical_like);
    pool(fits_.nearest, out.nearest);
    pool(fits_.around, out.around);
    for (const Fit& fit : fits_.odd_even) cover(fit, out.odd_even);
    for (const Fit& fit : fits_.random) cover(fit, out.random);
    for (const Fit& fit : fits_.early_late) cover(fit, out.early_late);
    for (const Fit& fit : fits_.around) cover(fit, out.covered_around);
  }

 private:
  using KitShares = std::array<Shares, kKits.size()>;

  void add_past(std::size_t kit, const HindcastResult& hindcast) {
    for (const PastPeriod& period : hindcast.periods) {
      auto& [counts, periods] = past_[kit][period.year];
      ++periods;
      for (std::size_t l = 0; l < kLengths.size(); ++l) {
        counts[l] += period.first_flat_day.value_or(kDays) < kLengths[l];
      }
    }
  }

  KitShares predicted(const Place& place) const {
    KitShares out{};
    const double all_stays = static_cast<double>(size_.stays_per_date * kDatesOfMonth.size());
    for (std::size_t i = 0; i < kDatesOfMonth.size(); ++i) {
      const StayClimate climate = climate_of(place, begin_of(month_, i), kDays).stated();
      for (std::size_t kit = 0; kit < kKits.size(); ++kit) {
        const PreparedPlan& plan = plans_[kit][i];
        const DrawnSky sky(plan, climate, kSeed);
        StayRunner runner(plan, sky, kSeed, StayDetail::risk_only);
        const std::uint64_t first = i * size_.stays_per_date;
        for (std::uint64_t stay = first; stay < first + size_.stays_per_date; ++stay) {
          const int day = first_flat_day(runner.run(static_cast<std::uint32_t>(stay)).home);
          for (std::size_t l = 0; l < kLengths.size(); ++l) {
            out[kit][l] += (day < kLengths[l]) / all_stays;
          }
        }
      }
    }
    return out;
  }

  void judge(const KitShares& shares, const std::set<int>& years, std::vector<Verdict>& out) const {
    for (std::size_t kit = 0; kit < kKits.size(); ++kit) {
      for (std::size_t l = 0; l < kLengths.size(); ++l) {
        if (const auto m = measured(past_[kit], years, l)) {
          out.push_back({station_, month_, kit, l, shares[kit][l], m->share, m->noise});
        }
      }
    }
  }

  void pool(const std::vector<Fit>& fits, std::vector<Verdict>& out) const {
    KitShares mean{};
    for (const Fit& fit : fits) {
      const KitShares shares = predicted(fit.place);
      for (std::size_t kit = 0; kit < kKits.size(); ++kit) {
        for (std::size_t l = 0; l < kLengths.size(); ++l) {
          mean[kit][l] += shares[kit][l] / static_cast<double>(fits.size());
        }
      }
    }
    judge(mean, fits_.years, out);
  }

  // What records of the fit's climate, or of those that its doubts allow, would show: shares by
  // climate, synthetic year and length.
  using YearShares = std::vector<std::vector<Shares>>;

  YearShares synthetic(std::size_t kit, const std::vector<StayClimate>& climates) const {
    YearShares out(climates.size(),
                   std::vector<Shares>(static_cast<std::size_t>(size_.synthetic_years), Shares{}));
    std::vector<DayDeviates> days(kChainDays);
    std::vector<SegmentSky> chain(kChainDays);
    int begin = 0;
    const ScriptedSky sky([&](std::uint32_t, std::span<SegmentSky> segments) {
      for (std::size_t d = 0; d < segments.size(); ++d) {
        segments[d] = chain[static_cast<std::size_t>(begin) + d];
      }
    });
    std::deque<StayRunner> runners;  // a runner stays where it is made
    for (const PreparedPlan& plan : plans_[kit]) {
      runners.emplace_back(plan, sky, kSeed, StayDetail::risk_only);
    }
    constexpr std::array<int, 2> kShifts{-2, 1};
    constexpr double kPeriods = kShifts.size() * kDatesOfMonth.size();
    for (std::size_t c = 0; c < climates.size(); ++c) {
      for (std::size_t y = 0; y < out[c].size(); ++y) {
        climates[c].sequence.draw(kSeed + 1, static_cast<std::uint32_t>(y), days);
        for (std::size_t d = 0; d < chain.size(); ++d) {
          const SegmentClimate& date = climates[c].segments[d];
          const double k = date.k_of_chi(days[d].chi);
          chain[d] = {k,
                      date.temp_mean_c + date.temp_per_chi * days[d].chi +
                          date.temp_per_innovation * days[d].temp_innovation,
                      daily_range_c(date.range_mean_c, date.range_k_slope, k, date.k_mean)};
        }
        for (std::size_t i = 0; i < kDatesOfMonth.size(); ++i) {
          for (const int shift : kShifts) {
            begin = kDatesOfMonth[i] - kDatesOfMonth[0] + kWindow_days + shift;
            const int day = first_flat_day(runners[i].run(static_cast<std::uint32_t>(y)).home);
            for (std::size_t l = 0; l < kLengths.size(); ++l) {
              out[c][y][l] += (day < kLengths[l]) / kPeriods;
            }
          }
        }
      }
    }
    return out;
  }

  void cover(const Fit& fit, Coverage& out) const {
    const Date begin = begin_of(month_, 0) - std::chrono::days{kWindow_days};
    const ClimateOfStay climate = climate_of(fit.place, begin, kChainDays);
    std::vector<StayClimate> climates;
    const auto errors = alternative_climates(1, kSeed);
    for (int c = 0; c < size_.climates; ++c) {
      climates.push_back(climate.off_by(
          errors[static_cast<std::size_t>(c * kAlternativeClimates / size_.climates)]));
    }
    boost::random::mt19937 engine(static_cast<unsigned>(kSeed));
    const boost::random::uniform_int_distribution<std::size_t> any_climate(0, climates.size() - 1);
    const boost::random::uniform_int_distribution<std::size_t> any_year(
        0, static_cast<std::size_t>(size_.synthetic_years) - 1);
    for (std::size_t kit = 0; kit < kKits.size(); ++kit) {
      const YearShares shares = synthetic(kit, climates);
      std::array<std::optional<Measured>, kLengths.size()> truth;
      for (std::size_t l = 0; l < kLengths.size(); ++l) {
        truth[l] = measured(past_[kit], fit.judge, l);
      }
      if (!truth[0]) continue;
      std::array<std::vector<double>, kLengths.size()> records;
      for (int r = 0; r < kRecords; ++r) {
        const auto& years = shares[any_climate(engine)];
        Shares sum{};
        for (int y = 0; y < truth[0]->years; ++y) {
          const Shares& year = years[any_year(engine)];
          for (std::size_t l = 0; l < sum.size(); ++l) sum[l] += year[l] / truth[0]->years;
        }
        for (std::size_t l = 0; l < sum.size(); ++l) records[l].push_back(sum[l]);
      }
      for (std::size_t l = 0; l < kLengths.size(); ++l) count(truth[l]->share, records[l], out);
    }
  }

  // Cases in which nothing is in doubt (nothing flat in any record, measured or drawn, or
  // everything) say nothing of an interval and are left out.
  static void count(double truth, std::vector<double>& records, Coverage& out) {
    constexpr double kHair = 1e-9;
    std::sort(records.begin(), records.end());
    const double low = records[kRecords / 20], high = records[kRecords - 1 - kRecords / 20];
    if (high - low < kHair && std::abs(truth - low) < kHair) return;
    ++out.cases;
    out.below += truth < low - kHair;
    out.above += truth > high + kHair;
    out.inside += truth >= low - kHair && truth <= high + kHair;
  }

  std::size_t station_;
  const StationFits& fits_;
  int month_;
  StudySize size_;
  std::array<std::vector<PreparedPlan>, kKits.size()> plans_;  // by date of the month
  std::array<PastCounts, kKits.size()> past_;
};

void append(std::vector<Verdict>& to, const std::vector<Verdict>& from) {
  to.insert(to.end(), from.begin(), from.end());
}

std::vector<Split> both_ways(Split split) {
  Split other{split.judge, split.fit};
  return {std::move(split), std::move(other)};
}

}  // namespace

std::vector<Split> halves(const std::vector<int>& years) {
  Split split;
  for (std::size_t i = 0; i < years.size(); ++i) {
    (i % 2 ? split.judge : split.fit).insert(years[i]);
  }
  return both_ways(std::move(split));
}

std::vector<Split> early_and_late(const std::vector<int>& years) {
  Split split;
  for (std::size_t i = 0; i < years.size(); ++i) {
    (2 * i < years.size() ? split.fit : split.judge).insert(years[i]);
  }
  return both_ways(std::move(split));
}

std::vector<Split> random_halves(const std::vector<int>& years, unsigned draw) {
  std::vector<int> shuffled = years;
  boost::random::mt19937 engine(draw);
  for (std::size_t i = shuffled.size() - 1; i > 0; --i) {
    std::swap(shuffled[i],
              shuffled[boost::random::uniform_int_distribution<std::size_t>(0, i)(engine)]);
  }
  return early_and_late(shuffled);
}

std::vector<Split> leave_five_out(const std::vector<int>& years) {
  const std::size_t blocks = std::max<std::size_t>(2, years.size() / 5);
  std::vector<Split> splits(blocks);
  for (std::size_t b = 0; b < blocks; ++b) {
    const std::size_t begin = b * years.size() / blocks, end = (b + 1) * years.size() / blocks;
    for (std::size_t i = 0; i < years.size(); ++i) {
      (i >= begin && i < end ? splits[b].judge : splits[b].fit).insert(years[i]);
    }
  }
  return splits;
}

CalibrationResult run_calibration(const std::vector<Station>& stations, const StudySize& size) {
  std::vector<StationFits> fits(stations.size());
  std::vector<Place> whole(stations.size());
  std::vector<PastWeather> past;
  for (std::size_t s = 0; s < stations.size(); ++s) {
    fits[s] = station_fits(stations[s]);
    whole[s] = fitted(stations[s], fits[s].years);
    WeatherRecord record;
    record.days = stations[s].days;
    past.emplace_back(record, stations[s].frame.where);
  }
  std::vector<CalibrationResult> parts(stations.size() * 12);
  for_each_range(parts.size(), 1, 0, [&](std::size_t i, std::size_t) {
    const std::size_t s = i / 12;
    MonthStudy(s, fits[s], whole[s], past[s], static_cast<int>(i % 12), size).run(parts[i]);
  });
  CalibrationResult out;
  for (const CalibrationResult& part : parts) {
    append(out.by_halves, part.by_halves);
    append(out.by_five_years, part.by_five_years);
    append(out.typical_like, part.typical_like);
    append(out.single_year, part.single_year);
    append(out.nearest, part.nearest);
    append(out.around, part.around);
    out.odd_even += part.odd_even;
    out.random += part.random;
    out.early_late += part.early_late;
    out.covered_around += part.covered_around;
  }
  return out;
}

}  // namespace dullspell::calibration
