#include "reports/hindcast_data.hpp"

#include "reports/data_parts.hpp"
#include "reports/hindcast_verdict.hpp"

namespace dullspell {

Data past_years_data(const PastReport& past, const PreparedPlan& prepared) {
  const HindcastResult& result = past.result;
  Data days = Data::list(), years = Data::list();
  for (std::size_t d = 0; d < result.flat_by_day.size(); ++d) {
    days.push_back({{"day", prepared.first_day + static_cast<int>(d) + 1},
                    {"date", iso_date(prepared.dates[d])},
                    {"flat_by_day", share(result.flat_by_day[d])}});
  }
  for (const PastYear& year : result.years) {
    Data first = nullptr;
    if (year.first_flat_day) first = prepared.first_day + *year.first_flat_day + 1;
    years.push_back({{"year", year.year},
                     {"periods", year.periods},
                     {"flat", year.flat},
                     {"flat_along", result.flat_along ? Data(year.flat_along) : Data()},
                     {"shortfall_wh", year.shortfall_wh},
                     {"first_flat_day", first}});
  }
  Data findings = Data::list();
  for (const RecordFinding& finding : past.record.findings) {
    findings.push_back({{"what", finding.what}, {"count", finding.count}, {"line", finding.line}});
  }
  return {{"record", record_name(past.record)},
          {"file", past.record.file},
          {"typical_year", past.record.typical_year},
          {"window_days", result.window_days},
          {"periods", result.flat.periods},
          {"periods_left_out", result.periods_left_out},
          {"days_without_temperature", result.days_without_temperature},
          {"flat", share(result.flat)},
          {"flat_along", result.flat_along ? share(*result.flat_along) : Data()},
          {"generator_hours", result.generator_h ? spread(*result.generator_h) : Data()},
          {"days", days},
          {"years", years},
          {"findings", findings}};
}

namespace {

Data model_data(const HindcastReport& report) {
  const StudyResult& model = report.predicted;
  Data days = Data::list();
  for (const DayRisk& day : model.home.days) {
    days.push_back({{"day", day.day},
                    {"date", iso_date(day.date)},
                    {"flat_by_day", share(day.flat_by_day, day.flat_by_day_climate)}});
  }
  Data along;
  if (model.generator) {
    along = share(model.generator->risk.flat, model.generator->risk.flat_climate);
  }
  return {{"seed", model.seed},
          {"stays", model.stays},
          {"flat", share(model.home.flat, model.home.flat_climate)},
          {"flat_along", std::move(along)},
          {"days", std::move(days)}};
}

}  // namespace

Data hindcast_head(const HindcastReport& report, std::string_view program) {
  return {
      {"format", "dullspell.hindcast/1"}, {"program", program}, {"plan_title", report.plan.title}};
}

Data hindcast_results(const HindcastReport& report) {
  return {{"past_years", past_years_data(report.past, report.prepared)},
          {"model", model_data(report)},
          {"agreement", agreement_text(report)}};
}

Data hindcast_chart_data(const HindcastReport& report) {
  Data model = model_data(report);
  if (tells_generator(report)) {
    model["generator_hours"] = spread(report.predicted.generator->hours);
  }
  return {{"model", std::move(model)}, {"accept_risk", report.plan.accept_risk}};
}

}  // namespace dullspell
