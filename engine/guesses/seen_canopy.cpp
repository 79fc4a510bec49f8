#include "engine/guesses/seen_canopy.hpp"

#include <cmath>
#include <functional>
#include <optional>

#include "engine/guesses/posterior.hpp"
#include "engine/guesses/reading_model.hpp"
#include "engine/plan/plan_edit.hpp"

namespace dullspell {
namespace {

// What the plan's own readings leave of the doubt of the harvest.
double harvest_doubt_left(const Plan& plan) {
  if (!plan.correction) return 1.0;
  const Posterior& posterior = plan.correction->posterior;
  for (std::size_t i = 0; i < posterior.guesses.size(); ++i) {
    if (posterior.guesses[i].about == GuessAbout::harvest) return posterior.left(i);
  }
  return 1.0;
}

// The thickest canopy at which at least so much is shown; nothing if less is shown without any.
// Thicker crowns never show more.
std::optional<double> thickest(const std::function<double(double)>& shown, double watts) {
  if (shown(0.0) < watts) return std::nullopt;
  if (shown(kMostCanopy) >= watts) return kMostCanopy;
  double from = 0.0, to = kMostCanopy;
  constexpr int kHalvings = 16;  // to 1.5e-5
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = 0.5 * (from + to);
    (shown(middle) >= watts ? from : to) = middle;
  }
  return from;
}

}  // namespace

Reading panel_glance(std::size_t camp, const LocalTime& at, const KnownSky& sky, double watts) {
  Reading out;
  out.kind = ReadingKind::panels_w;
  out.from = out.to = at;
  out.shown = watts;
  out.camp = camp;
  out.sky = sky;
  return out;
}

double panel_doubt_w(const Plan& plan, const Reading& reading) {
  Plan stated = plan;
  stated.readings.clear();
  const Posterior before = posterior_of(stated);
  const ReadingSlope slope = slope_of(stated, before, reading);
  double harvest_w = 0.0;
  for (std::size_t i = 0; i < before.guesses.size(); ++i) {
    if (before.guesses[i].about == GuessAbout::harvest) harvest_w = slope.per_deviate[i];
  }
  return std::hypot(slope.error, harvest_w * harvest_doubt_left(plan));
}

SeenCanopy seen_canopy(const Plan& plan, const Reading& reading) {
  Reading in_open = reading;
  in_open.in_the_open = true;
  const ReadingModel model(plan, reading);
  const auto shown = [&](double canopy) {
    return model.shown(with_canopy(plan, reading.camp, canopy));
  };
  SeenCanopy out;
  out.here_w = model.shown(plan);
  out.open_w = ReadingModel(plan, in_open).shown(plan);
  const auto canopy = thickest(shown, reading.shown);
  out.canopy = canopy.value_or(0.0);
  if (!canopy) out.fit = SeenFit::above_open;
  if (shown(kMostCanopy) > reading.shown) out.fit = SeenFit::below_thickest;
  out.doubt_w = panel_doubt_w(with_canopy(plan, reading.camp, out.canopy), reading);
  out.least = thickest(shown, reading.shown + out.doubt_w).value_or(0.0);
  out.most = thickest(shown, reading.shown - out.doubt_w).value_or(0.0);
  return out;
}

}  // namespace dullspell
