#include "engine/study/hindcast.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

#include <fmt/format.h>

#include "engine/stay/stay.hpp"
#include "engine/study/parallel.hpp"
#include "weather/temperature.hpp"

namespace dullspell {
namespace {

using std::chrono::year_month_day;

constexpr std::size_t kGrain = 64;

bool has_whole_period(const PastWeather& past, Date begin, int days) {
  for (int d = 0; d < days; ++d) {
    if (!past.on(begin + std::chrono::days{d}).has_sky()) return false;
  }
  return true;
}

// Periods of the record, by year and begin; counts those with a gap.
std::vector<PastPeriod> periods_of(const PreparedPlan& plan, const PastWeather& past,
                                   int window_days, int& left_out) {
  std::vector<PastPeriod> periods;
  if (past.empty()) return periods;
  const int first_year{year_month_day{past.first_date()}.year()};
  const int last_year{year_month_day{past.last_date()}.year()};
  const int beyond = past.wraps() ? 0 : 1;  // a window may reach into the record from outside
  for (int year = first_year - beyond; year <= last_year + beyond; ++year) {
    const Date own = in_year(plan.dates.front(), year);
    for (int shift = -window_days; shift <= window_days; ++shift) {
      const Date begin = own + std::chrono::days{shift};
      if (!past.wraps() && (begin < past.first_date() ||
                            begin + std::chrono::days{plan.days() - 1} > past.last_date())) {
        continue;
      }
      if (has_whole_period(past, begin, plan.days())) {
        periods.push_back({year, begin, {}, 0.0, {}, 0.0});
      } else {
        ++left_out;
      }
    }
  }
  return periods;
}

// Days that the periods reach, each counted once.
int days_without_temperature(const PreparedPlan& plan, const PastWeather& past,
                             const std::vector<PastPeriod>& periods) {
  std::set<Date> days;
  for (const PastPeriod& period : periods) {
    for (int d = 0; d < plan.days(); ++d) {
      const Date date = period.begin + std::chrono::days{d};
      if (!past.on(date).temp_mean_c) days.insert(date);
    }
  }
  return static_cast<int>(days.size());
}

// The day on which it has been flat for longer than the plan accepts.
std::optional<int> failing_day(const PreparedPlan& plan, const TrackTrace& track) {
  int flat_h = 0;
  for (std::size_t h = 0; h < track.flat.size(); ++h) {
    flat_h += track.flat[h];
    if (flat_h > plan.accept_flat_h) return plan.hours[h].day.value;
  }
  return std::nullopt;
}

void run_periods(const PreparedPlan& plan, const PastWeather& past, const HindcastOptions& options,
                 const Progress& progress, std::vector<PastPeriod>& periods) {
  std::vector<Date> begins;
  for (const PastPeriod& period : periods) begins.push_back(period.begin);
  const RecordedSky sky(plan, past, std::move(begins), options.warmer_k);
  PartsDone done(progress, "past periods", periods.size());
  for_each_range(periods.size(), kGrain, options.threads, [&](std::size_t begin, std::size_t end) {
    StayRunner runner(plan, sky, options.seed);
    for (std::size_t i = begin; i < end; ++i) {
      const StayTrace& trace = runner.run(static_cast<std::uint32_t>(i));
      PastPeriod& period = periods[i];
      period.first_flat_day = failing_day(plan, trace.home);
      period.shortfall_wh = trace.home.shortfall_wh;
      if (!plan.generator) continue;
      period.first_flat_day_along = failing_day(plan, trace.along);
      period.generator_h = trace.along.generator_h;
    }
    done.add(end - begin);
  });
}

std::vector<PastYear> years_of(const std::vector<PastPeriod>& periods) {
  std::vector<PastYear> years;
  for (const PastPeriod& period : periods) {
    if (years.empty() || years.back().year != period.year) {
      years.push_back({period.year, 0, 0, 0, 0.0, {}});
    }
    PastYear& year = years.back();
    ++year.periods;
    year.flat += period.first_flat_day.has_value();
    year.flat_along += period.first_flat_day_along.has_value();
    year.shortfall_wh += period.shortfall_wh;
    if (period.first_flat_day) {
      year.first_flat_day =
          std::min(year.first_flat_day.value_or(*period.first_flat_day), *period.first_flat_day);
    }
  }
  for (PastYear& year : years) year.shortfall_wh /= year.periods;
  return years;
}

// Share of periods for which `holds`, counted by year.
template <class Holds>
YearsShare share_of(const std::vector<PastPeriod>& periods, double most_independent, Holds holds) {
  std::vector<YearCount> counts;
  int year = 0;
  for (const PastPeriod& period : periods) {
    if (counts.empty() || period.year != year) counts.emplace_back();
    year = period.year;
    ++counts.back().periods;
    counts.back().count += holds(period);
  }
  return share_over_years(counts, most_independent);
}

Spread spread_of(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  double sum = 0.0;
  for (const double v : values) sum += v;
  const double last = static_cast<double>(values.size() - 1);
  const auto at = [&](double q) { return values[static_cast<std::size_t>(q * last + 0.5)]; };
  return {sum / (last + 1.0), at(0.50), at(0.90), at(0.99)};
}

}  // namespace

std::vector<double> distances_to_camps_km(const Plan& plan, const Coordinates& measured_at) {
  std::vector<double> away_km;
  for (const Camp& camp : plan.camps) away_km.push_back(distance_km(measured_at, camp.where));
  return away_km;
}

Indexed<CampIndex, double> camps_warmer_k(const Plan& plan, const WeatherRecord& record) {
  Indexed<CampIndex, double> warmer_k;
  for (const Camp& camp : plan.camps) {
    const auto height_m = camp.elevation_m ? camp.elevation_m : camp.place.elevation_m;
    const bool known = height_m && record.elevation_m;
    warmer_k.push_back(known ? warmer_by_height_k(*record.elevation_m, *height_m) : 0.0);
  }
  return warmer_k;
}

HindcastResult run_hindcast(const PreparedPlan& plan, const PastWeather& past,
                            const HindcastOptions& options, const Progress& progress) {
  HindcastResult out;
  out.window_days = options.window_days;
  out.periods = periods_of(plan, past, options.window_days, out.periods_left_out);
  if (out.periods.empty()) {
    throw std::invalid_argument(
        fmt::format("holds no whole period of {} days that begins within {} days of the plan's "
                    "date in any year",
                    plan.days(), options.window_days));
  }
  out.days_without_temperature = days_without_temperature(plan, past, out.periods);
  run_periods(plan, past, options, progress, out.periods);
  out.years = years_of(out.periods);
  // Periods that do not overlap can be told apart; a window holds this many of them.
  const double most_independent = 1.0 + 2.0 * options.window_days / plan.days();
  out.flat = share_of(out.periods, most_independent,
                      [](const auto& p) { return p.first_flat_day.has_value(); });
  for (int day = 0; day < plan.days(); ++day) {
    out.flat_by_day.push_back(share_of(out.periods, most_independent, [day](const auto& p) {
      return p.first_flat_day && *p.first_flat_day <= day;
    }));
  }
  if (plan.generator) {
    out.flat_along = share_of(out.periods, most_independent,
                              [](const auto& p) { return p.first_flat_day_along.has_value(); });
    std::vector<double> hours;
    for (const PastPeriod& period : out.periods) hours.push_back(period.generator_h);
    out.generator_h = spread_of(std::move(hours));
  }
  return out;
}

}  // namespace dullspell
