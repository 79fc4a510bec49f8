#pragma once

#include <string>

#include "reports/document.hpp"
#include "reports/number_text.hpp"
#include "weather/place_fit.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// What a fit found: the months with their standard errors, what they rest on, what was done to the
/// record, and how far to trust the place.
Document fit_document(const PlaceFit& fit, const WeatherRecord& record,
                      Units units = Units::metric);

/// A plain statement of how far to trust a fitted place.
std::string trust_statement(const PlaceFit& fit);

}  // namespace dullspell
