#include "engine/decisions/place_survey.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <span>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "engine/plan/plan_edit.hpp"
#include "engine/study/budget.hpp"
#include "engine/study/parallel.hpp"
#include "engine/study/prepare.hpp"
#include "weather/input/input_error.hpp"
#include "weather/place_blend.hpp"

namespace dullspell {
namespace {

// A camper turns the panels to the sun of the other hemisphere.
PreparedPlan prepared_at(const Plan& plan, const Place& place) {
  Plan there = at_place(plan, place);
  const bool southern = place.where.latitude_deg < 0.0;
  if (southern != (plan.camps.front().where.latitude_deg < 0.0)) {
    there = mirrored_panels(std::move(there));
  }
  return prepare(there);
}

double share_that_comes_in(const PreparedPlan& prepared) {
  const Budget budget = expected_budget(prepared);
  return budget.draw_wh_per_day > 0.0
             ? (budget.panels_wh_per_day + budget.vehicle_wh_per_day) / budget.draw_wh_per_day
             : 0.0;
}

// What becomes of one place: its risk, or why there is none.
struct Found {
  std::optional<SurveyedPlace> surveyed;
  std::string why_not;
};

// None, and why, where its months cannot be read.
std::optional<Place> readable_place(const PlaceSource& place_of, const PlaceSummary& place,
                                    std::string& why_not) {
  try {
    return place_of(place);
  } catch (const InputError& error) {
    const std::string text = error.what();
    why_not = text.substr(0, text.find('\n'));
    return std::nullopt;
  }
}

// Not next to the accepted risk, whatever the sampling.
bool is_settled(const Proportion& flat, double accepted) {
  constexpr double kHalfWidths = 2.0;
  return std::abs(flat.p - accepted) > kHalfWidths * flat.interval.half_width();
}

bool is_settled(const RiskSummary& risk, double accepted) {
  return is_settled(risk.flat, accepted) &&
         (!risk.generator || is_settled(risk.generator->flat, accepted));
}

void rank(std::span<SurveyedPlace> places) {
  std::stable_sort(places.begin(), places.end(),
                   [](const SurveyedPlace& a, const SurveyedPlace& b) {
                     const auto key = [](const SurveyedPlace& p) {
                       return std::make_tuple(p.risk.flat.p, p.risk.flat_h, -p.comes_in);
                     };
                     return key(a) < key(b);
                   });
}

}  // namespace

PlaceSource sites_of(const PlaceCatalogue& catalogue) {
  return [&catalogue](const PlaceSummary& place) {
    return PlaceBlend::built_in().as_used(catalogue.place(place.id).value());
  };
}

Place blended_place(const PlaceSummary& spot) {
  Place place = PlaceBlend::built_in().named(spot.name, spot.where, spot.elevation_m);
  place.id = spot.id;
  return place;
}

PlaceSurvey survey_places(const Plan& plan, const PlaceSource& place_of,
                          const std::vector<const PlaceSummary*>& places,
                          const OutcomeOptions& options, std::size_t detailed,
                          const Progress& progress) {
  OutcomeOptions whole = options;
  whole.threads = 1;
  OutcomeOptions first_look = whole;
  first_look.stays = std::min(options.stays, kFirstLookStays);
  std::vector<Found> found(places.size());
  PartsDone done(progress, "places", places.size());
  for_each_range(places.size(), 1, options.threads, [&](std::size_t i, std::size_t) {
    const PlaceSummary& place = *places[i];
    if (const auto there = readable_place(place_of, place, found[i].why_not)) {
      const PreparedPlan prepared = prepared_at(plan, *there);
      RiskSummary risk = risk_summary(prepared, first_look);
      if (!is_settled(risk, plan.accept_risk)) risk = risk_summary(prepared, whole);
      found[i].surveyed = SurveyedPlace{&place, risk, i, share_that_comes_in(prepared)};
    }
    done.add();
  });

  PlaceSurvey out;
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (found[i].surveyed) {
      out.ranked.push_back(*found[i].surveyed);
    } else {
      out.left_out.push_back({places[i], std::move(found[i].why_not)});
    }
  }
  rank(out.ranked);
  const std::size_t shown = std::min(detailed, out.ranked.size());
  PartsDone detailed_done(progress, "places under other climates", shown);
  for_each_range(shown, 1, options.threads, [&](std::size_t i, std::size_t) {
    SurveyedPlace& place = out.ranked[i];
    const PreparedPlan prepared = prepared_at(plan, place_of(*place.place));
    if (place.risk.flat.trials < whole.stays) place.risk = risk_summary(prepared, whole);
    add_climate_intervals(place.risk, prepared, whole);
    detailed_done.add();
  });
  rank(std::span(out.ranked).first(shown));
  return out;
}

}  // namespace dullspell
