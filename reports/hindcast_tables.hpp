#pragma once

#include <cstddef>
#include <vector>

#include "reports/hindcast_report.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// The tables of `dullspell hindcast`.

/// Risk by date, generator left at home.
Table past_days_table(const HindcastReport& report);

/// The years with flat periods, most of them first, then by the energy that is missing.
std::vector<PastYear> worst_years(const HindcastResult& past, std::size_t most);
Table years_table(const HindcastReport& report, const std::vector<PastYear>& years);

/// What past years and the model tell of the generator, where both do.
Table past_generator_table(const HindcastReport& report);

}  // namespace dullspell
