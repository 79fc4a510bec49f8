#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "engine/decisions/calendar_survey.hpp"
#include "engine/decisions/risk_summary.hpp"
#include "engine/plan/plan.hpp"
#include "weather/place_catalogue.hpp"

namespace dullspell {

struct SurveyedPlace {
  const PlaceSummary* place = nullptr;
  RiskSummary risk;
  std::size_t given = 0;  ///< its place among those that were asked about
  double comes_in = 0.0;  ///< panels and vehicle over what is used, on an average day; 0..
};

struct LeftOutPlace {
  const PlaceSummary* place = nullptr;
  std::string why;
};

struct PlaceSurvey {
  /// Least risk first, the generator left at home; among equals the one where most comes in.
  std::vector<SurveyedPlace> ranked;
  std::vector<LeftOutPlace> left_out;  ///< in the order in which they were given
};

/// The place with its months; throws InputError where they cannot be read. Several threads may ask.
using PlaceSource = std::function<Place(const PlaceSummary&)>;

/// Sites of a catalogue as plans use them, and spots that are no site by what is known around them.
PlaceSource sites_of(const PlaceCatalogue& catalogue);
Place blended_place(const PlaceSummary& spot);

/// Stays that settle most places.
constexpr std::uint64_t kFirstLookStays = 2048;

/// The same stay at each of `places`, all camps moved there and panels mirrored beyond the equator.
/// Places that a first look settles, well away from the accepted risk, get no more; the first
/// `detailed` of the ranking get all stays and climate intervals. The plan must not be under way,
/// nor know days. All places see the same draws; neither threads nor the instruction set change the
/// result. A place is left out where its months cannot be read.
PlaceSurvey survey_places(const Plan& plan, const PlaceSource& place_of,
                          const std::vector<const PlaceSummary*>& places,
                          const OutcomeOptions& options, std::size_t detailed,
                          const Progress& progress = {});

}  // namespace dullspell
