#pragma once

#include <cstddef>
#include <iosfwd>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/decisions/place_survey.hpp"
#include "reports/json_parts.hpp"
#include "reports/number_text.hpp"
#include "reports/table.hpp"
#include "reports/text_writer.hpp"
#include "reports/verdict.hpp"
#include "weather/place_filter.hpp"

namespace dullspell {

/// Everything that a report of `dullspell where` is made from.
struct WhereReport {
  const Plan& plan;
  const RiskSummary& as_planned;  ///< at the plan's own camps
  const PlaceFilter& filter;
  const PlaceSurvey& survey;
  std::size_t top;  ///< places to show to people
  const OutcomeOptions& options;
  Units units = Units::metric;  ///< of its texts
};

/// At how many places the plan holds, in sentences that a camper would say.
std::string where_verdict(const WhereReport& report);
/// Plain where it holds at some places only.
Tone where_tone(const WhereReport& report);

/// "1 place", "1,234 places".
std::string places_text(std::size_t places);

/// How many places stand so, the generator left at home.
std::size_t places_standing(const WhereReport& report, RiskStanding wanted);

/// The best of the places, as many as are to be shown and at most `most`.
Table best_places_table(const WhereReport& report,
                        std::size_t most = std::numeric_limits<std::size_t>::max());

std::vector<std::string> where_notes(const WhereReport& report);

/// For people.
void write_where_text(std::ostream& out, const WhereReport& report, TextStyle style = {});

/// Format "dullspell.where/1": every place, least risk first.
Json where_json(const WhereReport& report, std::string_view program);
void write_where_json(std::ostream& out, const WhereReport& report, std::string_view program);

/// A line a place, least risk first.
void write_where_csv(std::ostream& out, const WhereReport& report);

/// A FeatureCollection of points (RFC 7946), a place each, least risk first, with members rank, id,
/// name, p, low, high and those of the JSON report.
void write_where_geojson(std::ostream& out, const WhereReport& report);

}  // namespace dullspell
