#pragma once

#include <cstddef>
#include <iosfwd>
#include <string_view>

#include "reports/data.hpp"
#include "reports/where_report.hpp"

namespace dullspell {

/// The result of `dullspell where` for programs, format "dullspell.where/1", before the verdict and
/// after it: every place, least risk first.
Data where_head(const WhereReport& report, std::string_view program);
Data where_results(const WhereReport& report);

/// What charts draw of those results: where the first places lie, and fewer of them in full.
Data where_chart_data(const WhereReport& report, const Data& results, std::size_t on_map,
                      std::size_t in_full);

/// A line a place, least risk first.
void write_where_csv(std::ostream& out, const WhereReport& report);

/// The same without ranks, in the order in which the places were given, so that parts of a survey
/// put together are the whole one; the head goes with the first.
void write_where_part(std::ostream& out, const WhereReport& report, bool with_head);

/// A FeatureCollection of points (RFC 7946), a place each, least risk first, with members rank, id,
/// name, p, low, high and those of the JSON report.
void write_where_geojson(std::ostream& out, const WhereReport& report);

}  // namespace dullspell
