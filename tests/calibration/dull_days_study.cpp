#include "tests/calibration/dull_days_study.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

#include "engine/study/parallel.hpp"
#include "weather/day_sequence.hpp"
#include "weather/past_weather.hpp"
#include "weather/place_fit.hpp"

namespace dullspell::calibration {
namespace {

constexpr std::uint64_t kSeed = 20'270'521;
constexpr int kResamples = 200;

int year_of(Date date) {
  return int{std::chrono::year_month_day{date}.year()};
}

std::vector<double> all_of(const RunMeans& runs) {
  std::vector<double> out;
  for (const auto& [year, means] : runs) out.insert(out.end(), means.begin(), means.end());
  return out;
}

std::array<double, kTails.size()> tails_of(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  std::array<double, kTails.size()> out{};
  for (std::size_t i = 0; i < kTails.size(); ++i) {
    const double at = kTails[i] * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::size_t>(at);
    const std::size_t above = std::min(below + 1, values.size() - 1);
    out[i] = values[below] + (at - static_cast<double>(below)) * (values[above] - values[below]);
  }
  return out;
}

double sd_of(const std::vector<double>& values) {
  const double n = static_cast<double>(values.size());
  const double mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
  double squares = 0.0;
  for (const double v : values) squares += (v - mean) * (v - mean);
  return std::sqrt(squares / n);
}

// Years are the units: days of one year hang together.
std::array<double, kTails.size()> noise_of(const RunMeans& runs, std::uint32_t stream_number) {
  std::vector<const std::vector<double>*> years;
  for (const auto& [year, means] : runs) years.push_back(&means);
  RandomStream stream({kSeed, stream_number, 0, DrawPurpose::test});
  std::array<double, kTails.size()> sum{}, squares{};
  for (int r = 0; r < kResamples; ++r) {
    std::vector<double> values;
    for (std::size_t y = 0; y < years.size(); ++y) {
      const auto& year = *years[stream() % years.size()];
      values.insert(values.end(), year.begin(), year.end());
    }
    const auto tails = tails_of(std::move(values));
    for (std::size_t i = 0; i < tails.size(); ++i) {
      sum[i] += tails[i] / kResamples;
      squares[i] += tails[i] * tails[i] / kResamples;
    }
  }
  for (std::size_t i = 0; i < sum.size(); ++i) {
    squares[i] = std::sqrt(std::max(0.0, squares[i] - sum[i] * sum[i]));
  }
  return squares;
}

// The month as a plan would have it that knows so much.
MonthStatistics known_month(const MonthStatistics& fitted, double k_mean, int month,
                            double latitude_deg, Knowledge knowledge) {
  if (knowledge == Knowledge::place) return fitted;
  MonthStatistics out = default_month(month, latitude_deg);
  out.k_mean = k_mean;
  if (knowledge == Knowledge::mean_and_spread) out.k_sd = fitted.k_sd;
  if (knowledge == Knowledge::mean_and_latitude) {
    // As in datasets/README.md, for places of which monthly means are known.
    out.k_sd = -0.1002 + 0.9373 * k_mean - 1.0424 * k_mean * k_mean +
               0.1249 * std::abs(latitude_deg) / 90.0;
  }
  return out;
}

// The engine's chain within one month, without blending into its neighbours.
class MonthDays {
 public:
  MonthDays(const MonthStatistics& month, int days)
      : k_of_chi_(ClearnessTable(clearness_distribution(month)).rounded()),
        sequence_(std::vector<DayLink>(static_cast<std::size_t>(days), link_of(month))) {}

  void draw(std::uint32_t year, std::span<double> k) const {
    std::vector<DayDeviates> days(k.size());
    sequence_.draw(kSeed, year, days);
    for (std::size_t d = 0; d < k.size(); ++d) k[d] = k_of_chi_(days[d].chi);
  }

 private:
  static DayLink link_of(const MonthStatistics& month) {
    DateClimate climate{};
    climate.k_persistence = month.k_persistence;
    climate.k_year_share = month.k_year_share;
    climate.temp_persistence = month.temp_persistence;
    climate.temp_k_correlation = month.temp_k_correlation;
    return day_link(climate);
  }

  ClearnessTable k_of_chi_;
  DaySequence sequence_;
};

struct Drawn {
  DullDays tails{};
  double sd = 0.0;  // of the shortest runs' means
};

// Quantiles as a record of so many years would show them, mean of many such records: the extremes
// of a short record lie inward of the true quantiles, and so must those that it is compared with.
// `draw` fills one month of one year, numbered from 0.
template <class Draw>
Drawn drawn_months(Draw draw, double k_mean, int days, std::size_t years, std::uint32_t records) {
  Drawn out;
  std::vector<double> k(static_cast<std::size_t>(days));
  std::uint32_t number = 0;
  for (std::uint32_t r = 0; r < records; ++r) {
    std::array<std::vector<double>, kRuns_d.size()> means;
    for (std::size_t y = 0; y < years; ++y) {
      draw(number++, std::span<double>(k));
      for (std::size_t run = 0; run < kRuns_d.size(); ++run) {
        const auto length = static_cast<std::ptrdiff_t>(kRuns_d[run]);
        for (auto first = k.begin(); k.end() - first >= length; ++first) {
          const double sum = std::accumulate(first, first + length, 0.0);
          means[run].push_back(sum / kRuns_d[run] / k_mean);
        }
      }
    }
    out.sd += sd_of(means.front()) / records;
    for (std::size_t run = 0; run < kRuns_d.size(); ++run) {
      const auto tails = tails_of(std::move(means[run]));
      for (std::size_t t = 0; t < tails.size(); ++t) out.tails[run][t] += tails[t] / records;
    }
  }
  return out;
}

StationMonth station_month(const Station& station, const Place& place, int month,
                           const MarkovLibrary& library, std::uint32_t records,
                           std::uint32_t stream_number) {
  StationMonth out;
  out.month = month;
  const MonthStatistics& fitted = place.months[static_cast<std::size_t>(month)];
  out.k_mean = mean(clearness_distribution(fitted));
  for (std::size_t r = 0; r < kRuns_d.size(); ++r) {
    RunMeans runs = run_means(station, month, kRuns_d[r]);
    for (auto& [year, means] : runs) {
      for (double& k : means) k /= out.k_mean;
    }
    out.years = runs.size();
    if (r == 0) out.measured_sd = sd_of(all_of(runs));
    out.measured[r] = tails_of(all_of(runs));
    out.noise[r] = noise_of(runs, stream_number);
  }
  const int days = days_in_month(make_date(kTypicalYear, static_cast<unsigned>(month) + 1, 1));
  for (const Knowledge knowledge : kKnowledge) {
    Drawn drawn;
    if (knowledge == Knowledge::library) {
      const auto draw = [&](std::uint32_t year, std::span<double> k) {
        RandomStream stream({kSeed, year, 1, DrawPurpose::test});
        library.draw(out.k_mean, stream, k);
      };
      drawn = drawn_months(draw, out.k_mean, days, out.years, records);
    } else {
      const MonthDays sequence(
          known_month(fitted, out.k_mean, month, station.frame.where.latitude_deg, knowledge),
          days);
      const auto draw = [&](std::uint32_t year, std::span<double> k) { sequence.draw(year, k); };
      drawn = drawn_months(draw, out.k_mean, days, out.years, records);
    }
    out.drawn[static_cast<std::size_t>(knowledge)] = drawn.tails;
    out.drawn_sd[static_cast<std::size_t>(knowledge)] = drawn.sd;
  }
  return out;
}

}  // namespace

RunMeans run_means(const Station& station, int month, int run_d) {
  const auto years = station.whole_years();
  const std::set<int> whole(years.begin(), years.end());
  WeatherRecord record;
  record.days = station.days;
  const PastWeather past(record, station.frame.where);
  RunMeans out;
  for (const RecordedDay& first : station.days) {
    const Date last = first.date + std::chrono::days{run_d - 1};
    const int year = year_of(first.date);
    if (month_index(first.date) != month || month_index(last) != month || !whole.contains(year)) {
      continue;
    }
    double sum = 0.0;
    bool complete = true;
    for (Date date = first.date; date <= last; date += std::chrono::days{1}) {
      complete = complete && past.on(date).has_sky();
      sum += past.on(date).k;
    }
    if (complete) out[year].push_back(sum / run_d);
  }
  return out;
}

std::vector<StationMonth> dull_days(const std::vector<Station>& stations,
                                    const MarkovLibrary& library, std::uint32_t records) {
  std::vector<Place> places;
  for (const Station& station : stations) {
    const auto years = station.whole_years();
    places.push_back(fit_place(station.frame, station.days_of({years.begin(), years.end()})).place);
  }
  std::vector<StationMonth> out(stations.size() * 12);
  for_each_range(out.size(), 1, 0, [&](std::size_t begin, std::size_t) {
    const std::size_t s = begin / 12;
    out[begin] = station_month(stations[s], places[s], static_cast<int>(begin % 12), library,
                               records, static_cast<std::uint32_t>(begin));
    out[begin].station = s;
  });
  return out;
}

}  // namespace dullspell::calibration
