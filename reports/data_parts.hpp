#pragma once

#include <optional>

#include "engine/kit/fuel.hpp"
#include "engine/statistics/year_shares.hpp"
#include "engine/study/study.hpp"
#include "reports/data.hpp"

namespace dullspell {

/// No limit is nothing: notations for programs have no infinity.
Data limit(double watts);

/// {p, low, high}; with the climate interval besides, nothing where there is none.
Data share(const Proportion& share);
Data share(const Proportion& share, const std::optional<Interval>& climate);
Data share(const YearsShare& share);

Data quantiles(const ChargeQuantiles& quantiles);
Data spread(const Spread& spread);

/// Adds `fuel_kg` where fuel is bought by weight.
void add_fuel_kg(Data& out, const Spread& fuel_l, Fuel kind);

}  // namespace dullspell
