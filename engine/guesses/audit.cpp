#include "engine/guesses/audit.hpp"

#include <algorithm>
#include <cmath>

#include "engine/stay/expected_stay.hpp"

namespace dullspell {
namespace {

constexpr double kWorthTaking = 0.97;      // what a reading may leave of the spread before it
constexpr std::size_t kMostExplained = 3;  // misfits for which a slip is looked for
constexpr double kExplains = 4.0;          // gain of the likelihood's logarithm

DailyBalance balance_of(const PreparedPlan& prepared) {
  const ExpectedStay expected(prepared);
  DailyBalance out;
  for (std::size_t h = 0; h < prepared.hours.size(); ++h) {
    const ExpectedHour hour = expected.usual(h);
    out.in_wh += hour.panels_w;
    out.out_wh += hour.draw_w;
  }
  const double days = static_cast<double>(prepared.hours.size()) / 24.0;
  out.in_wh /= days;
  out.out_wh /= days;
  return out;
}

// How the balance depends on each guess, Wh a deviation.
std::vector<double> slopes_of_balance(const Plan& listed, const Posterior& posterior) {
  const PreparedPlan stated = prepare_stay(listed);
  std::vector<double> out;
  for (std::size_t i = 0; i < posterior.guesses.size(); ++i) {
    out.push_back(slope_along(posterior.expected(), i, [&](const std::vector<double>& z) {
      return balance_of(expected_as(off_by(listed, posterior.guesses, z), stated)).left_wh();
    }));
  }
  return out;
}

using Covariance = std::vector<std::vector<double>>;

std::vector<double> times(const Covariance& covariance, const std::vector<double>& slopes) {
  std::vector<double> out(slopes.size(), 0.0);
  for (std::size_t i = 0; i < slopes.size(); ++i) {
    for (std::size_t j = 0; j < slopes.size(); ++j) out[i] += covariance[i][j] * slopes[j];
  }
  return out;
}

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum;
}

// The covariance once a reading of those slopes and that error is taken.
Covariance after(Covariance covariance, const ReadingSlope& slope) {
  const std::vector<double> with = times(covariance, slope.per_deviate);
  const double variance = dot(with, slope.per_deviate) + slope.error * slope.error;
  for (std::size_t i = 0; i < with.size(); ++i) {
    for (std::size_t j = 0; j < with.size(); ++j) covariance[i][j] -= with[i] * with[j] / variance;
  }
  return covariance;
}

double spread(const Covariance& covariance, const std::vector<double>& slopes) {
  return std::sqrt(std::max(0.0, dot(times(covariance, slopes), slopes)));
}

Reading reading_at(const Plan& plan, ReadingKind kind, int minute_of_day) {
  Reading out;
  out.kind = kind;
  out.from = out.to = {plan.arrive, minute_of_day};
  return out;
}

// Names of all that a plan may switch off, but one.
std::vector<std::string> all_but(const Plan& plan, const std::string& name) {
  std::vector<std::string> out;
  for (const Load& load : plan.loads) {
    if (load.hours_per_day < 23.99 && load.name != name) out.push_back(load.name);
  }
  if (plan.fridge && name != kFridgeName) out.emplace_back(kFridgeName);
  if (plan.furnace && name != kFurnaceName) out.emplace_back(kFurnaceName);
  return out;
}

// The readings that somebody with the plan's kit can take.
std::vector<Reading> readings_to_choose_from(const Plan& plan) {
  constexpr int kNoon = 12 * 60, kEvening = 21 * 60, kMorning = 6 * 60;
  std::vector<Reading> out;
  Reading standby = reading_at(plan, ReadingKind::draw_w, kEvening);
  standby.on.emplace();
  standby.counted_at = CountedAt::battery;
  out.push_back(standby);
  for (const Load& load : plan.loads) {
    if (load.hours_per_day >= 23.99 || load.watts <= 0.0) continue;
    Reading alone = standby;
    alone.on = {load.name};
    out.push_back(alone);
  }
  const auto a_day_of = [&](const char* name) {
    Reading day = reading_at(plan, ReadingKind::used_wh, kMorning);
    day.to = {plan.arrive + std::chrono::days{1}, kMorning};
    day.off = all_but(plan, name);
    return day;
  };
  if (plan.fridge) out.push_back(a_day_of(kFridgeName));
  if (plan.furnace) out.push_back(a_day_of(kFurnaceName));
  Reading night = reading_at(plan, ReadingKind::charge, kEvening);
  night.to = {plan.arrive + std::chrono::days{1}, kMorning};
  night.charge_from = 1.0;
  night.shown = 0.6;
  out.push_back(night);
  if (!plan.panels.empty()) {
    Reading noon = reading_at(plan, ReadingKind::panels_w, kNoon);
    noon.sky = SkyWord::clear;
    noon.in_the_open = true;
    out.push_back(noon);
    noon.in_the_open = false;
    for (noon.camp = 0; noon.camp < plan.camps.size(); ++noon.camp) {
      if (plan.camps[noon.camp].canopy > 0.0) out.push_back(noon);
    }
  }
  Reading discharge;
  discharge.kind = ReadingKind::delivered_wh;
  discharge.shown = plan.battery.usable_wh();
  discharge.at_w = std::max(20.0, plan.battery.usable_wh() / 20.0);
  discharge.counted_at = plan.inverter ? CountedAt::loads : CountedAt::battery;
  out.push_back(discharge);
  return out;
}

std::vector<ReadingToTake> readings_to_take(const Plan& listed, const Posterior& posterior,
                                            const std::vector<double>& slopes) {
  std::vector<ReadingToTake> out;
  Covariance covariance = posterior.covariance;
  const double before = spread(covariance, slopes);
  if (!(before > 0.0)) return out;
  std::vector<Reading> choices = readings_to_choose_from(listed);
  std::vector<ReadingSlope> slope;
  for (const Reading& reading : choices) slope.push_back(slope_of(listed, posterior, reading));
  double left = before;
  while (out.size() < kMostToTake) {
    std::size_t best = choices.size();
    double least = kWorthTaking * left;
    for (std::size_t i = 0; i < choices.size(); ++i) {
      const double with = spread(after(covariance, slope[i]), slopes);
      if (with >= least) continue;
      least = with;
      best = i;
    }
    if (best == choices.size()) break;
    covariance = after(covariance, slope[best]);
    left = least;
    out.push_back({choices[best], left / before});
    choices.erase(choices.begin() + static_cast<std::ptrdiff_t>(best));
    slope.erase(slope.begin() + static_cast<std::ptrdiff_t>(best));
  }
  return out;
}

ReadingTime later(ReadingTime time, int minutes) {
  time.minute_of_day += minutes;
  if (time.minute_of_day >= 1440) {
    time.minute_of_day -= 1440;
    time.date += std::chrono::days{1};
  }
  return time;
}

// A reading as it would be without a slip; nothing where that slip cannot be.
std::optional<Reading> without(Slip slip, Reading reading, const Plan& plan) {
  constexpr int kHalfDay_min = 720;
  const bool of_panels =
      reading.kind == ReadingKind::panels_w || reading.kind == ReadingKind::panels_wh;
  switch (slip) {
    case Slip::ends_swapped:
      if (reading.kind != ReadingKind::charge) return std::nullopt;
      std::swap(reading.charge_from, reading.shown);
      return reading;
    case Slip::other_side_of_inverter:
      if (!plan.inverter || of_panels || reading.kind == ReadingKind::charge) return std::nullopt;
      reading.counted_at =
          reading.counted_at == CountedAt::loads ? CountedAt::battery : CountedAt::loads;
      return reading;
    case Slip::half_a_day:
      if (reading.kind == ReadingKind::delivered_wh) return std::nullopt;
      reading.from = later(reading.from, kHalfDay_min);
      reading.to = later(reading.to, kHalfDay_min);
      return reading;
    case Slip::other_shade:
      if (!of_panels || plan.camps[reading.camp].canopy <= 0.0) return std::nullopt;
      reading.in_the_open = !reading.in_the_open;
      return reading;
    case Slip::kilowatt_hours:
      if (reading.kind != ReadingKind::used_wh && reading.kind != ReadingKind::panels_wh &&
          reading.kind != ReadingKind::delivered_wh) {
        return std::nullopt;
      }
      reading.shown *= 1000.0;
      return reading;
  }
  return std::nullopt;
}

std::optional<Slip> slip_behind(const Plan& listed, const Posterior& posterior,
                                std::size_t reading) {
  std::optional<Slip> best;
  double least = posterior.misfit - kExplains;
  for (const Slip slip : {Slip::ends_swapped, Slip::other_side_of_inverter, Slip::kilowatt_hours,
                          Slip::other_shade, Slip::half_a_day}) {
    const auto mended = without(slip, listed.readings[reading], listed);
    if (!mended) continue;
    Plan tried = listed;
    tried.readings[reading] = *mended;
    const Posterior there = posterior_of(tried);
    if (there.misfit >= least || std::abs(there.readings[reading].off_by) >= kDoesNotFit) continue;
    least = there.misfit;
    best = slip;
  }
  return best;
}

std::vector<Misfit> misfits_of(const Plan& listed, const Posterior& posterior) {
  std::vector<Misfit> out;
  for (std::size_t i = 0; i < posterior.readings.size(); ++i) {
    const double off_by = posterior.readings[i].off_by;
    if (std::abs(off_by) >= kDoesNotFit) out.push_back({i, off_by, {}});
  }
  std::stable_sort(out.begin(), out.end(), [](const Misfit& a, const Misfit& b) {
    return std::abs(a.off_by) > std::abs(b.off_by);
  });
  for (std::size_t i = 0; i < std::min(out.size(), kMostExplained); ++i) {
    out[i].slip = slip_behind(listed, posterior, out[i].reading);
  }
  return out;
}

}  // namespace

Audit audit_of(const Plan& listed, const Posterior& posterior) {
  Audit out;
  out.listed = balance_of(prepare_stay(listed));
  out.corrected = balance_of(prepare_stay(corrected(listed, posterior)));
  Posterior before = posterior;
  before.mean.assign(before.guesses.size(), 0.0);
  for (std::size_t i = 0; i < before.guesses.size(); ++i) {
    before.covariance[i].assign(before.guesses.size(), 0.0);
    before.covariance[i][i] = 1.0;
  }
  out.listed.spread_wh = spread(before.covariance, slopes_of_balance(listed, before));
  const std::vector<double> slopes = slopes_of_balance(listed, posterior);
  out.corrected.spread_wh = spread(posterior.covariance, slopes);
  out.misfits = misfits_of(listed, posterior);
  out.next = readings_to_take(listed, posterior, slopes);
  return out;
}

}  // namespace dullspell
