#pragma once

#include <iosfwd>
#include <string>

#include "reports/number_text.hpp"
#include "reports/text_writer.hpp"
#include "weather/place_fit.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// What a fit found, for people: the months with their standard errors, what they rest on, what was
/// done to the record, and how far to trust the place.
void write_fit_report(std::ostream& out, const PlaceFit& fit, const WeatherRecord& record,
                      Units units = Units::metric, TextStyle style = {});

/// A plain statement of how far to trust a fitted place.
std::string trust_statement(const PlaceFit& fit);

}  // namespace dullspell
