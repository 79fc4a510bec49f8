#include "engine/guesses/audit.hpp"

#include <algorithm>
#include <cmath>

#include <Eigen/Core>

#include "engine/study/budget.hpp"

namespace dullspell {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kWorthTaking = 0.97;      // what a reading may leave of the spread before it
constexpr std::size_t kMostExplained = 3;  // misfits for which a slip is looked for
constexpr double kMayBeWrong = 2.0;        // standard errors that are worth a look for a slip
constexpr double kNearlyFits = 0.25;       // of how far off it was, once a slip is taken out
constexpr double kExplains = 4.0;          // gain of the likelihood's logarithm

DailyBalance balance_of(const PreparedPlan& prepared) {
  const Budget budget = expected_budget(prepared);
  DailyBalance out;
  out.in_wh = budget.panels_wh_per_day + budget.vehicle_wh_per_day;
  out.out_wh = budget.draw_wh_per_day;
  return out;
}

// How the balance depends on each guess, Wh a deviation.
VectorXd slopes_of_balance(const Plan& listed, const Posterior& posterior) {
  const PreparedPlan stated = prepare_stay(listed);
  VectorXd out(static_cast<Eigen::Index>(posterior.guesses.size()));
  for (std::size_t i = 0; i < posterior.guesses.size(); ++i) {
    out[static_cast<Eigen::Index>(i)] =
        slope_along(posterior.expected(), posterior.guesses, i, [&](const std::vector<double>& z) {
          return balance_of(expected_as(off_by(listed, posterior.guesses, z), stated)).left_wh();
        });
  }
  return out;
}

VectorXd vector_of(const std::vector<double>& values) {
  return Eigen::Map<const VectorXd>(values.data(), static_cast<Eigen::Index>(values.size()));
}

MatrixXd covariance_of(const Posterior& posterior) {
  const auto count = static_cast<Eigen::Index>(posterior.guesses.size());
  return Eigen::Map<const MatrixXd>(posterior.covariance.data(), count, count);
}

// The covariance once a reading of those slopes and that error is taken.
MatrixXd after(const MatrixXd& covariance, const ReadingSlope& slope) {
  const VectorXd per_deviate = vector_of(slope.per_deviate);
  const VectorXd with = covariance * per_deviate;
  const double variance = with.dot(per_deviate) + slope.error * slope.error;
  return covariance - with * with.transpose() / variance;
}

double spread(const MatrixXd& covariance, const VectorXd& slopes) {
  return std::sqrt(std::max(0.0, slopes.dot(covariance * slopes)));
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
    if (!load.never_stops() && load.name != name) out.push_back(load.name);
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
    if (load.never_stops() || load.watts <= 0.0) continue;
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
                                            const VectorXd& slopes) {
  std::vector<ReadingToTake> out;
  MatrixXd covariance = covariance_of(posterior);
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

// A reading as it would be without a slip; nothing where that slip cannot be.
std::optional<Reading> without(Slip slip, Reading reading, const Plan& plan) {
  constexpr int kHalfDay_min = 720;
  const bool of_panels = is_of_panels(reading.kind);
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

bool fits(const Posterior& posterior, std::size_t reading) {
  return std::abs(posterior.readings[reading].off_by) < kDoesNotFit;
}

bool all_fit(const Posterior& posterior) {
  for (std::size_t i = 0; i < posterior.readings.size(); ++i) {
    if (!fits(posterior, i)) return false;
  }
  return true;
}

bool told(const std::vector<Misfit>& misfits, std::size_t reading) {
  return std::any_of(misfits.begin(), misfits.end(),
                     [=](const Misfit& misfit) { return misfit.reading == reading; });
}

// A slip of one reading, and the readings without it.
struct Explanation {
  std::optional<Slip> slip;
  std::size_t reading = 0;
  std::vector<Reading> mended;
  double misfit = 0.0;
};

// Takes the place of `best` where a slip of that reading explains more.
void explain(Explanation& best, Plan plan, const Posterior& posterior, std::size_t reading) {
  const double before = std::abs(posterior.readings[reading].off_by);
  const Reading stated = plan.readings[reading];
  for (const Slip slip : {Slip::ends_swapped, Slip::other_side_of_inverter, Slip::kilowatt_hours,
                          Slip::other_shade, Slip::half_a_day}) {
    const auto mended = without(slip, stated, plan);
    if (!mended) continue;
    plan.readings[reading] = *mended;
    const Posterior there = posterior_of(plan, ToldBy::slopes);
    const double off_by = std::abs(there.readings[reading].off_by);
    if (there.misfit >= best.misfit || off_by >= std::max(kDoesNotFit, kNearlyFits * before)) {
      continue;
    }
    best = {slip, reading, plan.readings, there.misfit};
  }
}

// Slips first, each taken out before the next is looked for: a gross one makes others look wrong.
std::vector<Misfit> misfits_of(const Plan& listed, const Posterior& posterior) {
  std::vector<Misfit> out;
  Plan plan = listed;
  Posterior here = posterior;
  while (!all_fit(here) && out.size() < kMostExplained) {
    Explanation best;
    best.misfit = here.misfit - kExplains;
    for (std::size_t i = 0; i < plan.readings.size(); ++i) {
      const bool may_be = std::abs(here.readings[i].off_by) >= kMayBeWrong;
      // A log has no pen that slips.
      if (may_be && !told(out, i) && !plan.readings[i].logged) explain(best, plan, here, i);
    }
    if (!best.slip) break;
    out.push_back({best.reading, posterior.readings[best.reading].off_by, best.slip});
    plan.readings = std::move(best.mended);
    here = posterior_of(plan, ToldBy::slopes);
  }
  // The first was chosen beside slips that were still there.
  for (std::size_t i = 0; out.size() > 1 && i < out.size(); ++i) {
    Plan tried = plan;
    tried.readings[out[i].reading] = listed.readings[out[i].reading];
    Explanation best;
    best.misfit = here.misfit;
    explain(best, tried, posterior, out[i].reading);
    if (!best.slip) continue;
    out[i].slip = best.slip;
    plan.readings = std::move(best.mended);
    here = posterior_of(plan, ToldBy::slopes);
  }
  if (!out.empty()) here = posterior_of(plan);
  const auto slips = static_cast<std::ptrdiff_t>(out.size());
  for (std::size_t i = 0; i < here.readings.size(); ++i) {
    if (!fits(here, i) && !told(out, i)) out.push_back({i, here.readings[i].off_by, {}});
  }
  std::stable_sort(out.begin() + slips, out.end(), [](const Misfit& a, const Misfit& b) {
    return std::abs(a.off_by) > std::abs(b.off_by);
  });
  return out;
}

}  // namespace

Audit audit_of(const Plan& listed, const Posterior& posterior) {
  Audit out;
  out.listed = balance_of(prepare_stay(listed));
  out.corrected = balance_of(prepare_stay(corrected(listed, posterior)));
  const auto guesses = static_cast<Eigen::Index>(posterior.guesses.size());
  const MatrixXd unit = MatrixXd::Identity(guesses, guesses);
  const Posterior before{posterior.guesses,
                         std::vector<double>(posterior.guesses.size(), 0.0),
                         std::vector<double>(unit.data(), unit.data() + unit.size()),
                         {}};
  out.listed.spread_wh = spread(unit, slopes_of_balance(listed, before));
  const VectorXd slopes = slopes_of_balance(listed, posterior);
  out.corrected.spread_wh = spread(covariance_of(posterior), slopes);
  out.misfits = misfits_of(listed, posterior);
  out.next = readings_to_take(listed, posterior, slopes);
  return out;
}

}  // namespace dullspell
