#pragma once

#include <cstddef>
#include <iosfwd>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/decisions/place_survey.hpp"
#include "reports/number_text.hpp"
#include "reports/text_writer.hpp"
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

/// For people.
void write_where_text(std::ostream& out, const WhereReport& report, TextStyle style = {});

/// Format "dullspell.where/1": every place, least risk first.
void write_where_json(std::ostream& out, const WhereReport& report, std::string_view program);

/// A line a place, least risk first.
void write_where_csv(std::ostream& out, const WhereReport& report);

/// A FeatureCollection of points (RFC 7946), a place each, least risk first, with members rank, id,
/// name, p, low, high and those of the JSON report.
void write_where_geojson(std::ostream& out, const WhereReport& report);

}  // namespace dullspell
