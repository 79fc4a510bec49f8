#include "reports/hindcast_tables.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "reports/hindcast_verdict.hpp"
#include "reports/number_text.hpp"
#include "reports/run_tables.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

// Worst first: most periods flat, then most energy missing.
std::vector<PastYear> by_harm(std::vector<PastYear> years) {
  std::stable_sort(years.begin(), years.end(), [](const PastYear& a, const PastYear& b) {
    const double share_a = static_cast<double>(a.flat) / a.periods;
    const double share_b = static_cast<double>(b.flat) / b.periods;
    return share_a != share_b ? share_a > share_b : a.shortfall_wh > b.shortfall_wh;
  });
  return years;
}

}  // namespace

Table past_days_table(const HindcastReport& report) {
  Table table{
      "days",
      fmt::format("Flat by then{}", report.plan.generator ? ", generator left at home" : ""),
      {{"date", Align::left},
       {"past years"},
       {"95 % interval", Align::left},
       {"the model", Align::right, 1},
       {"climate interval", Align::left, 2}},
      {}};
  table.bars_legend = "Bars: past years, and in light how far their interval reaches.";
  for (std::size_t d = 0; d < report.prepared.dates.size(); ++d) {
    const YearsShare& past = report.past.result.flat_by_day[d];
    const DayRisk& model = report.predicted.home.days[d];
    table.rows.push_back({{short_date(model.date), percent(past), percent_interval(past.interval),
                           percent(model.flat_by_day), climate_cell(model.flat_by_day_climate)},
                          ShareBar{past.p, past.interval.high}});
  }
  return table;
}

std::vector<PastYear> worst_years(const HindcastResult& past, std::size_t most) {
  std::vector<PastYear> years = by_harm(past.years);
  std::erase_if(years, [](const PastYear& year) { return year.flat == 0; });
  years.resize(std::min(years.size(), most));
  return years;
}

Table years_table(const HindcastReport& report, const std::vector<PastYear>& years) {
  Table table{"years",
              "Year by year",
              {{"year", Align::left},
               {"periods flat"},
               {"of them", Align::right, 1},
               {"share", Align::right, 3},
               {"at the earliest", Align::left, 2},
               {"missing on average", Align::right, 4}},
              {}};
  for (const PastYear& year : years) {
    const double share = static_cast<double>(year.flat) / year.periods;
    const auto& first = year.first_flat_day;
    table.rows.push_back(
        {{fmt::format("{}", year.year), fmt::format("{}", year.flat),
          fmt::format("of {}", year.periods), whole_percent(share),
          first ? short_date(report.prepared.dates[static_cast<std::size_t>(*first)]) : "–",
          energy(year.shortfall_wh)},
         ShareBar{share, share}});
  }
  return table;
}

Table past_generator_table(const HindcastReport& report) {
  const HindcastResult& past = report.past.result;
  const GeneratorResult& model = *report.predicted.generator;
  const auto hours = [](double h) { return fmt::format("{:.1f}", h); };
  return {"along",
          "Generator along",
          {{"what", Align::left}, {"past years"}, {"the model", Align::right, 1}},
          {{{"flat even so", percent(*past.flat_along), percent(model.risk.flat)}},
           {{"its 95 % interval", percent_interval(past.flat_along->interval),
             percent_interval(model.risk.flat)}},
           {{"its climate interval", "–", climate_cell(model.risk.flat_climate)}},
           {{"hours it runs, on average", hours(past.generator_h->mean), hours(model.hours.mean)}},
           {{"hours it runs, typical stay", hours(past.generator_h->p50), hours(model.hours.p50)}},
           {{"hours it runs, 1 in 10", hours(past.generator_h->p90), hours(model.hours.p90)}}}};
}

}  // namespace dullspell
