#pragma once

#include <cstddef>
#include <limits>

#include "reports/table.hpp"
#include "reports/where_report.hpp"

namespace dullspell {

/// The best of the places, as many as are to be shown and at most `most`.
Table best_places_table(const WhereReport& report,
                        std::size_t most = std::numeric_limits<std::size_t>::max());

/// At most so many places in few columns, by how they stand.
Table map_table(const WhereReport& report, std::size_t most);

/// Half-width of the widest sampling interval among the first places, generator along.
double widest_along(const WhereReport& report, std::size_t most);

}  // namespace dullspell
