#pragma once

#include <iosfwd>
#include <optional>

#include <nlohmann/json.hpp>

#include "engine/study.hpp"
#include "engine/year_shares.hpp"

namespace dullspell {

using Json = nlohmann::ordered_json;

template <class T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

/// JSON has no infinity: no limit is null.
Json limit(double watts);

/// {p, low, high}; with the climate interval besides, null where there is none.
Json share(const Proportion& share);
Json share(const Proportion& share, const std::optional<Interval>& climate);
Json share(const YearsShare& share);

Json quantiles(const ChargeQuantiles& quantiles);
Json spread(const Spread& spread);

/// Indented, with a line end. Bytes that are not UTF-8, which a file name may bring, are replaced.
void write_json(std::ostream& out, const Json& json);

}  // namespace dullspell
