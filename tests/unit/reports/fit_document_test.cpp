#include "reports/fit_document.hpp"

#include <sstream>

#include <catch2/catch.hpp>

#include "reports/text_renderer.hpp"
#include "tests/support/any_width.hpp"
#include "tests/support/test_place.hpp"

using namespace dullspell;
using Catch::Matchers::Contains;

namespace {

PlaceFit fit_of(int years, RecordKind kind = RecordKind::measured) {
  PlaceFit fit;
  fit.place = place_with_spread(kContrastingMeans, 0.15);
  fit.place.record = kind;
  fit.years = years;
  fit.first_year = 2000;
  fit.last_year = 2000 + years - 1;
  fit.days_used = 365 * years;
  fit.one_year = years == 1 || kind == RecordKind::typical_year;
  if (!fit.one_year) {
    for (MonthStatistics& month : fit.place.months) {
      month.k_mean.standard_error = 0.0123;
      month.k_sd->standard_error = 0.0;
      month.k_persistence.standard_error = 0.0;
      month.k_year_share.standard_error = 0.0;
    }
  }
  return fit;
}

std::string report_of(const PlaceFit& fit, const WeatherRecord& record = {}) {
  std::ostringstream out;
  write_text(out, fit_document(fit, record));
  return out.str();
}

}  // namespace

TEST_CASE("how far to trust a place follows its years and kind") {
  CHECK_THAT(trust_statement(fit_of(25)), Contains("25 years are a long record"));
  CHECK_THAT(trust_statement(fit_of(10)), Contains("10 years are a fair record"));
  CHECK_THAT(trust_statement(fit_of(10)), Contains("once in twenty years may not be in it"));
  CHECK_THAT(trust_statement(fit_of(4)), Contains("4 years show roughly how years differ"));
  CHECK_THAT(trust_statement(fit_of(1)), Contains("one year cannot show how years differ"));
  CHECK_THAT(trust_statement(fit_of(1, RecordKind::typical_year)),
             Contains("a typical year is one year put together"));
}

TEST_CASE("a fit reports its months, their errors, what they rest on and what was found") {
  WeatherRecord record;
  record.findings.push_back({"days with a clearness above 1: left out", 3, 12});
  const std::string text = report_of(fit_of(25), record);
  CHECK_THAT(text, Contains("0.280 ± 0.012"));
  CHECK_THAT(text, Contains("Rests on 9,125 days of 25 years (2000–2024)"));
  CHECK_THAT(text, Contains("3 days with a clearness above 1: left out (first in line 12)"));
}

TEST_CASE("a fit without errors of its own prints none, and a typical year no years") {
  const std::string text = report_of(fit_of(1, RecordKind::typical_year));
  CHECK_THAT(text, !Contains("±"));
  CHECK_THAT(text, Contains("days of a typical year"));
}

TEST_CASE("a fit fits any window, in the reader's units") {
  PlaceFit fit = fit_of(25);
  for (MonthStatistics& month : fit.place.months) month.temp_mean_c = {10.0, 0.5};
  test::check_any_width(
      [&](std::ostream& out, TextStyle style) { write_text(out, fit_document(fit, {}), style); },
      {"0.280 ± 0.012"});
  std::ostringstream metric, us;
  write_text(metric, fit_document(fit, {}));
  write_text(us, fit_document(fit, {}, Units::us));
  CHECK_THAT(metric.str(), Contains("10.0 °C") && Contains("± 0.50 K"));
  // 1.8 degrees Fahrenheit to one Celsius, 32 at its zero.
  CHECK_THAT(us.str(), Contains("50.0 °F") && Contains("± 0.90 °F"));
}
