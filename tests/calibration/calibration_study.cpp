#include "tests/calibration/calibration_study.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/hindcast.hpp"
#include "engine/parallel.hpp"
#include "engine/study.hpp"
#include "weather/place_fit.hpp"

namespace dullspell::calibration {
namespace {

constexpr std::uint64_t kSeed = 20'270'521;
constexpr int kWindow_days = 15;
constexpr std::uint64_t kLeastPeriods = 60;

std::set<int> set_of(const std::vector<int>& years) {
  return {years.begin(), years.end()};
}

Place fitted(const Station& station, const std::set<int>& years) {
  return fit_place(station.frame, station.days_of(years)).place;
}

}  // namespace

Score score_of(const std::vector<Verdict>& verdicts,
               const std::function<bool(const Verdict&)>& counts) {
  Score score;
  double squares = 0.0, noise = 0.0;
  for (const Verdict& v : verdicts) {
    if (counts && !counts(v)) continue;
    const double error = v.predicted - v.measured;
    ++score.verdicts;
    score.bias += error;
    squares += error * error;
    noise += v.noise * v.noise;
  }
  const double n = static_cast<double>(score.verdicts);
  score.bias /= n;
  score.rms = std::sqrt(squares / n);
  score.noise = std::sqrt(noise / n);
  return score;
}

std::vector<Split> halves(const std::vector<int>& years) {
  Split split;
  for (std::size_t i = 0; i < years.size(); ++i) {
    (i % 2 ? split.judge : split.fit).insert(years[i]);
  }
  return {split, {split.judge, split.fit}};
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

CalibrationStudy::CalibrationStudy(std::vector<Station> stations, std::uint64_t stays)
    : stations_(std::move(stations)), stays_(stays) {
  std::vector<Place> places;
  std::vector<PastWeather> weather;
  for (const Station& station : stations_) {
    const auto years = set_of(station.whole_years());
    places.push_back(fitted(station, years));
    WeatherRecord record;
    record.days = station.days;
    weather.emplace_back(record, station.frame.where);
  }
  const auto all = cells();
  past_.resize(all.size());
  for_each_range(all.size(), 1, 0, [&](std::size_t begin, std::size_t) {
    const Cell& cell = all[begin];
    PastCase& past = past_[begin];
    const Place& place = places[cell.station];
    past.panels_w = kit_panels_w(place, kKits[cell.kit], cell.month);
    const PreparedPlan plan = prepare(kit_plan(place, kKits[cell.kit], cell.month, past.panels_w));
    const HindcastResult hindcast =
        run_hindcast(plan, weather[cell.station], {kWindow_days, kSeed, 1});
    for (const PastPeriod& period : hindcast.periods) {
      past.years.push_back(period.year);
      past.first_flat_day.push_back(period.first_flat_day.value_or(kDays));
    }
  });
}

std::vector<CalibrationStudy::Cell> CalibrationStudy::cells() const {
  std::vector<Cell> out;
  for (std::size_t s = 0; s < stations_.size(); ++s) {
    for (int month = 0; month < 12; ++month) {
      for (std::size_t kit = 0; kit < kKits.size(); ++kit) out.push_back({s, month, kit});
    }
  }
  return out;
}

const CalibrationStudy::PastCase& CalibrationStudy::past(const Cell& cell) const {
  return past_[(cell.station * 12 + static_cast<std::size_t>(cell.month)) * kKits.size() +
               cell.kit];
}

CalibrationStudy::Shares CalibrationStudy::predicted(const Place& place, const Cell& cell) const {
  const PreparedPlan plan =
      prepare(kit_plan(place, kKits[cell.kit], cell.month, past(cell).panels_w));
  const Tally tally = run_stays(plan, DrawnSky(plan, kSeed), kSeed, 0, stays_, 1);
  Shares out{};
  for (std::size_t l = 0; l < kLengths.size(); ++l) {
    std::uint64_t flat = 0;
    for (int d = 0; d < kLengths[l]; ++d) {
      flat += tally.home.first_flat_on_day[static_cast<std::size_t>(d)];
    }
    out[l] = static_cast<double>(flat) / static_cast<double>(stays_);
  }
  return out;
}

// Years are the units: SE^2 = n / (n - 1) sum (count_y - p periods_y)^2 / periods^2.
void CalibrationStudy::judge(const Cell& cell, const Shares& predicted, const std::set<int>& years,
                             std::vector<Verdict>& out) const {
  const PastCase& past = this->past(cell);
  for (std::size_t l = 0; l < kLengths.size(); ++l) {
    std::map<int, YearCount> by_year;
    std::uint64_t flat = 0, periods = 0;
    for (std::size_t i = 0; i < past.years.size(); ++i) {
      if (!years.contains(past.years[i])) continue;
      YearCount& year = by_year[past.years[i]];
      const bool went_flat = past.first_flat_day[i] < kLengths[l];
      ++year.periods;
      year.count += went_flat;
      ++periods;
      flat += went_flat;
    }
    if (periods < kLeastPeriods) continue;
    const double all = static_cast<double>(periods);
    const double share = static_cast<double>(flat) / all;
    double squares = 0.0;
    for (const auto& [number, year] : by_year) {
      const double apart =
          static_cast<double>(year.count) - share * static_cast<double>(year.periods);
      squares += apart * apart;
    }
    const double n = static_cast<double>(by_year.size());
    out.push_back({cell.station, cell.month, cell.kit, l, predicted[l], share,
                   std::sqrt(n / (n - 1.0) * squares) / all});
  }
}

std::vector<Verdict> CalibrationStudy::judged(const std::vector<std::vector<Place>>& places,
                                              const std::vector<std::vector<std::set<int>>>& judges,
                                              bool pool) const {
  const auto all = cells();
  std::vector<std::vector<Verdict>> parts(all.size());
  for_each_range(all.size(), 1, 0, [&](std::size_t begin, std::size_t) {
    const Cell& cell = all[begin];
    Shares sum{};
    for (std::size_t i = 0; i < places[cell.station].size(); ++i) {
      const Shares shares = predicted(places[cell.station][i], cell);
      for (std::size_t l = 0; l < sum.size(); ++l) sum[l] += shares[l];
      if (!pool) judge(cell, shares, judges[cell.station][i], parts[begin]);
    }
    if (!pool) return;
    for (double& share : sum) share /= static_cast<double>(places[cell.station].size());
    judge(cell, sum, judges[cell.station].front(), parts[begin]);
  });
  std::vector<Verdict> out;
  for (const auto& part : parts) out.insert(out.end(), part.begin(), part.end());
  return out;
}

std::vector<Verdict> CalibrationStudy::by_split(
    std::vector<Split> (*splits)(const std::vector<int>&)) const {
  std::vector<std::vector<Place>> places;
  std::vector<std::vector<std::set<int>>> judges;
  for (const Station& station : stations_) {
    places.emplace_back();
    judges.emplace_back();
    for (const Split& split : splits(station.whole_years())) {
      places.back().push_back(fitted(station, split.fit));
      judges.back().push_back(split.judge);
    }
  }
  return judged(places, judges, false);
}

std::vector<Verdict> CalibrationStudy::pooled(
    std::vector<Split> (*splits)(const std::vector<int>&)) const {
  std::vector<std::vector<Place>> places;
  std::vector<std::vector<std::set<int>>> judges;
  for (const Station& station : stations_) {
    places.emplace_back();
    const auto years = station.whole_years();
    for (const Split& split : splits(years)) places.back().push_back(fitted(station, split.fit));
    judges.push_back({set_of(years)});
  }
  return judged(places, judges, true);
}

std::vector<Verdict> CalibrationStudy::from_typical_year() const {
  std::vector<std::vector<Place>> places;
  std::vector<std::vector<std::set<int>>> judges;
  for (const Station& station : stations_) {
    Place frame = station.frame;
    frame.record = RecordKind::typical_year;
    places.push_back({fit_place(frame, typical_like_year(station)).place});
    judges.push_back({set_of(station.whole_years())});
  }
  return judged(places, judges, true);
}

}  // namespace dullspell::calibration
