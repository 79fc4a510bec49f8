#include "reports/fit_document.hpp"

#include <fmt/format.h>

#include "reports/hindcast_verdict.hpp"
#include "reports/places_document.hpp"

namespace dullspell {
namespace {

std::string with_error(const Estimate& found) {
  return fmt::format("{:.3f} ± {:.3f}", found.value, *found.standard_error);
}

Table errors_table(const Place& place, Units units) {
  Table table{"errors",
              "Standard errors, from leaving out one year at a time",
              {{"month", Column::Align::left},
               {"clearness"},
               {"spread", Column::Align::right, 1},
               {"mean", Column::Align::right, 2},
               {"range", Column::Align::right, 3}},
              {}};
  for (std::size_t m = 0; m < 12; ++m) {
    const MonthStatistics& month = place.months[m];
    const auto step = [&](const Estimate& found) {
      return "± " + temperature_step(*found.standard_error, units, 2);
    };
    table.rows.push_back(
        {{month_name(static_cast<int>(m)), with_error(month.k_mean), with_error(*month.k_sd),
          month.temp_mean_c ? step(*month.temp_mean_c) : "–",
          month.temp_mean_c ? step(month.temp_range_c) : "–"}});
  }
  table.legend = fmt::format("persistence of the sky {}, year share {}",
                             with_error(place.months[0].k_persistence),
                             with_error(place.months[0].k_year_share));
  return table;
}

std::string rests_on(const PlaceFit& fit) {
  const auto missing = static_cast<std::uint64_t>(fit.days_without_value) +
                       static_cast<std::uint64_t>(fit.days_impossible);
  const std::string years =
      fit.place.record == RecordKind::typical_year ? "a typical year"
      : fit.years == 1                             ? fmt::format("one year ({})", fit.first_year)
                       : fmt::format("{} years ({}–{})", fit.years, fit.first_year, fit.last_year);
  return fmt::format("Rests on {} days of {}; {} without irradiation.",
                     grouped(static_cast<std::uint64_t>(fit.days_used)), years, grouped(missing));
}

}  // namespace

std::string trust_statement(const PlaceFit& fit) {
  constexpr int kLong = 15, kFair = 8;
  if (fit.place.record == RecordKind::typical_year) {
    return "How far to trust it: a typical year is one year put together from months that lie near "
           "the middle. How years differ is a default here, and a month's mean clearness may be "
           "off by 0.03: where the risk is 20 %, that is easily 12 or 30 %. A record of ten years "
           "would halve the doubt.";
  }
  if (fit.one_year) {
    return "How far to trust it: one year cannot show how years differ, and its months may be odd "
           "ones: a month's mean clearness may be off by 0.04. Use it where nothing longer is at "
           "hand.";
  }
  if (fit.years < kFair) {
    return fmt::format(
        "How far to trust it: {} years show roughly how years differ. Means and spread are "
        "measured; the dullest tenth of the days rests on few weeks.",
        fit.years);
  }
  return fmt::format(
      "How far to trust it: {} years are {}; means, spread and the dull days are measured, and the "
      "standard errors above say how well.{}",
      fit.years, fit.years >= kLong ? "a long record" : "a fair record",
      fit.years >= kLong ? "" : " A spell that comes once in twenty years may not be in it.");
}

Document fit_document(const PlaceFit& fit, const WeatherRecord& record, Units units) {
  Document out = place_document(fit.place, units);
  if (fit.place.states_errors())
    out.parts.push_back({.blocks = {{errors_table(fit.place, units)}}});
  out.footer = rests_on(fit);
  for (const RecordFinding& finding : record.findings) {
    out.fine_print.push_back(finding_text(finding));
  }
  out.fine_print.push_back(trust_statement(fit));
  return out;
}

}  // namespace dullspell
