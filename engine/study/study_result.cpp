#include "engine/study/study_result.hpp"

#include <algorithm>
#include <cmath>

namespace dullspell {
namespace {

ChargeQuantiles quantiles_of(const ChargeHistogram& h) {
  return {h.quantile(0.05), h.quantile(0.25), h.quantile(0.50), h.quantile(0.75), h.quantile(0.95)};
}

Spread spread_of(const Histogram& h, const FixedSum& sum, std::uint64_t stays) {
  return {sum.value() / static_cast<double>(stays), h.quantile(0.50, true), h.quantile(0.90, true),
          h.quantile(0.99, true)};
}

// Of whole numbers, one a bin.
Spread spread_of_counts(const Histogram& h, double sum, std::uint64_t stays) {
  return {sum / static_cast<double>(stays), std::floor(h.quantile(0.50)),
          std::floor(h.quantile(0.90)), std::floor(h.quantile(0.99))};
}

// Median of the whole numbers beyond one.
double median_beyond(const Histogram& h, std::size_t accepted) {
  std::uint64_t beyond = 0, below = 0;
  for (std::size_t i = accepted + 1; i < h.counts().size(); ++i) beyond += h.counts()[i];
  for (std::size_t i = accepted + 1; i < h.counts().size(); ++i) {
    below += h.counts()[i];
    if (2 * below >= beyond) return static_cast<double>(i);
  }
  return 0.0;
}

std::optional<UsualFailure> usual_failure(const PreparedPlan& plan, const TrackTally& t) {
  if (t.flat_stays == 0) return std::nullopt;
  const auto day = std::max_element(t.fails_on_day.begin(), t.fails_on_day.end());
  UsualFailure out;
  out.day = static_cast<int>(day - t.fails_on_day.begin());
  std::uint32_t most = 0;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    if (plan.hours[h].day == out.day && t.fails_at_hour[h] > most) {
      most = t.fails_at_hour[h];
      out.hour_of_day = plan.hours[h].hour_of_day;
    }
  }
  out.day_share = static_cast<double>(*day) / static_cast<double>(t.flat_stays);
  out.flat_h = median_beyond(t.flat_h, static_cast<std::size_t>(plan.accept_flat_h));
  return out;
}

TrackRisk risk_of(const PreparedPlan& plan, const TrackTally& t, std::uint64_t stays) {
  TrackRisk risk;
  const double n = static_cast<double>(stays);
  risk.flat = Proportion(t.flat_stays, stays);
  std::uint64_t flat_by = 0;
  for (std::size_t d = 0; d < plan.dates.size(); ++d) {
    flat_by += t.fails_on_day[d];
    DayRisk day;
    day.day = plan.first_day + static_cast<int>(d) + 1;
    day.date = plan.dates[d];
    day.flat_on_day = Proportion(t.flat_on_day[d], stays);
    day.flat_by_day = Proportion(flat_by, stays);
    if (t.morning_low[d].count() > 0) day.morning_low = quantiles_of(t.morning_low[d]);
    risk.days.push_back(day);
  }
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    risk.hours.push_back({h, quantiles_of(t.charge[h])});
  }
  risk.usual_failure = usual_failure(plan, t);
  for (const auto count : t.flat_hour_of_day) {
    risk.flat_hour_of_day.push_back(
        t.flat_hours ? static_cast<double>(count) / static_cast<double>(t.flat_hours) : 0.0);
  }
  risk.flat_hours_share =
      static_cast<double>(t.flat_hours) / (n * static_cast<double>(plan.hours.size()));
  risk.flat_h = spread_of_counts(t.flat_h, static_cast<double>(t.flat_hours), stays);
  risk.flat_nights = spread_of_counts(t.flat_nights, static_cast<double>(t.flat_nights_sum), stays);
  risk.missing_wh = spread_of(t.missing_wh, t.shortfall_wh, stays);
  const double demand = t.demand_wh.value();
  risk.shortfall_share = demand > 0.0 ? t.shortfall_wh.value() / demand : 0.0;
  risk.shortfall_wh = t.shortfall_wh.value() / n;
  risk.demand_wh = demand / n;
  risk.given_up_wh = t.given_up_wh.value() / n;
  risk.spilled_wh = t.spilled_wh.value() / n;
  return risk;
}

// Shares of stays with no generator hour, with up to 1 h, up to 2 h, ...; ends at the last that
// occurs.
std::vector<double> whole_hours(const Histogram& h, std::uint64_t stays) {
  const auto per_hour = static_cast<std::size_t>(std::lround(1.0 / h.bin_width()));
  std::vector<double> out{0.0};
  const auto& counts = h.counts();
  for (std::size_t i = 0; i < counts.size(); ++i) {
    if (counts[i] == 0) continue;
    const std::size_t slot = i == 0 ? 0 : (i + per_hour - 1) / per_hour;
    if (out.size() <= slot) out.resize(slot + 1, 0.0);
    out[slot] += static_cast<double>(counts[i]) / static_cast<double>(stays);
  }
  return out;
}

GeneratorResult generator_result(const PreparedPlan& plan, const Tally& tally) {
  GeneratorResult out;
  out.risk = risk_of(plan, tally.along, tally.stays);
  out.hours = spread_of(tally.along.generator_h, tally.along.generator_h_sum, tally.stays);
  out.fuel_l = spread_of(tally.along.fuel_l, tally.along.fuel_l_sum, tally.stays);
  const Histogram& starts = tally.along.starts;
  out.starts = spread_of_counts(starts, tally.along.starts_sum.value(), tally.stays);
  out.hours_histogram = whole_hours(tally.along.generator_h, tally.stays);
  out.not_enough = Proportion(tally.least_not_enough, tally.stays);
  if (const std::uint64_t enough = tally.stays - tally.least_not_enough; enough > 0) {
    const Histogram& h = tally.least_generator_h;
    double sum = 0.0;
    for (std::size_t i = 1; i < h.counts().size(); ++i) {
      sum += (static_cast<double>(i) + 0.5) * h.bin_width() * h.counts()[i];
    }
    out.least_hours = Spread{sum / static_cast<double>(enough), h.quantile(0.50, true),
                             h.quantile(0.90, true), h.quantile(0.99, true)};
  }
  return out;
}

}  // namespace

StudyResult study_result(const PreparedPlan& plan, const Tally& tally) {
  StudyResult result;
  result.stays = tally.stays;
  result.home = risk_of(plan, tally.home, tally.stays);
  if (plan.generator) result.generator = generator_result(plan, tally);
  const double days = static_cast<double>(plan.hours.size()) / 24.0;
  result.panels_wh_per_day = tally.panels_wh.value() / static_cast<double>(tally.stays) / days;
  return result;
}

}  // namespace dullspell
