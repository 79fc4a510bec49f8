#include "reports/run_data.hpp"

#include "reports/data_parts.hpp"
#include "reports/hindcast_data.hpp"
#include "reports/plan_data.hpp"
#include "reports/run_tables.hpp"

namespace dullspell {
namespace {

Data days_data(const TrackRisk& risk) {
  Data out = Data::list();
  for (const DayRisk& day : risk.days) {
    out.push_back({{"day", day.day},
                   {"date", iso_date(day.date)},
                   {"flat_on_day", share(day.flat_on_day)},
                   {"flat_by_day", share(day.flat_by_day, day.flat_by_day_climate)},
                   {"morning_low_soc", day.morning_low ? quantiles(*day.morning_low) : Data()}});
  }
  return out;
}

Data hours_data(const RunReport& report) {
  Data out = Data::list();
  for (std::size_t i = 0; i < report.result.home.hours.size(); ++i) {
    const HourCharge& hour = report.result.home.hours[i];
    const HourSlot& slot = report.prepared.hours[hour.hour];
    const Segment& segment = report.prepared.segments[slot.segment];
    const auto date = report.prepared.dates[slot.day];
    // A night belongs to the date on which it begins: the first night is 1.
    const int day = report.prepared.first_day + slot.day.value;
    const int night = slot.hour_of_day < 12 ? day : day + 1;
    out.push_back({{"time", iso_time({date, 60 * slot.hour_of_day})},
                   {"camp", segment.camp.value + 1},
                   {"night", night},
                   {"sun_up", slot.sun_up},
                   {"soc", quantiles(hour.charge)},
                   {"soc_along", report.result.generator
                                     ? quantiles(report.result.generator->risk.hours[i].charge)
                                     : Data()}});
  }
  return out;
}

Data stay_data(const TrackRisk& risk) {
  return {{"flat", share(risk.flat, risk.flat_climate)},
          {"flat_h", spread(risk.flat_h)},
          {"flat_nights", spread(risk.flat_nights)},
          {"missing_wh", spread(risk.missing_wh)},
          {"flat_hours_share", risk.flat_hours_share},
          {"shortfall_share", risk.shortfall_share},
          {"shortfall_wh", risk.shortfall_wh},
          {"demand_wh", risk.demand_wh},
          {"given_up_wh", risk.given_up_wh},
          {"spilled_wh", risk.spilled_wh},
          {"flat_hour_of_day", risk.flat_hours_share > 0.0 ? Data(risk.flat_hour_of_day) : Data()}};
}

Data generator_data(const RunReport& report) {
  const StudyResult& result = report.result;
  if (!result.generator) return nullptr;
  const GeneratorResult& g = *result.generator;
  Data histogram = Data::list();
  for (std::size_t i = 0; i < g.hours_histogram.size(); ++i) {
    histogram.push_back({{"upto_h", i}, {"share", g.hours_histogram[i]}});
  }
  Data least = g.least_hours ? spread(*g.least_hours) : Data();
  Data out{{"flat", share(g.risk.flat, g.risk.flat_climate)},
           {"hours", spread(g.hours)},
           {"fuel_l", spread(g.fuel_l)},
           {"starts", spread(g.starts)},
           {"hours_histogram", histogram},
           {"least_hours", least},
           {"not_enough", share(g.not_enough)},
           {"days", days_data(g.risk)},
           {"stay", stay_data(g.risk)}};
  add_fuel_kg(out, g.fuel_l, report.plan.generator->fuel);
  return out;
}

Data budget_data(const Budget& budget) {
  Data lines = Data::list();
  for (const auto& line : budget.lines) {
    const char* kind = line.kind == BudgetLine::Kind::load      ? "load"
                       : line.kind == BudgetLine::Kind::furnace ? "furnace"
                       : line.kind == BudgetLine::Kind::fridge  ? "fridge"
                                                                : "loss";
    lines.push_back({{"name", line.name}, {"kind", kind}, {"wh_per_day", line.wh_per_day}});
  }
  return lines;
}

Data camps_data(const Budget& budget) {
  Data out = Data::list();
  for (const CampBalance& camp : budget.camps) {
    out.push_back({{"camp", camp.camp.value + 1},
                   {"days", camp.days},
                   {"draw", camp.draw_wh_per_day},
                   {"panels", camp.panels_wh_per_day},
                   {"vehicle", camp.vehicle_wh_per_day}});
  }
  return out;
}

Data forecast_data(const Budget& budget) {
  Data out = Data::list();
  for (const ForecastBalance& day : budget.forecast) {
    out.push_back({{"date", iso_date(day.date)},
                   {"panels", day.panels_wh},
                   {"panels_low", day.panels_low_wh},
                   {"panels_high", day.panels_high_wh},
                   {"vehicle", day.vehicle_wh},
                   {"draw", day.draw_wh}});
  }
  return out;
}

Data energy_data(const RunReport& report) {
  const Budget& budget = report.budget;
  return {{"draw", budget.draw_wh_per_day},
          {"panels", budget.panels_wh_per_day},
          {"panels_dull_day", budget.panels_dull_wh_per_day},
          {"panels_clear_day", budget.panels_clear_wh_per_day},
          {"shade_takes", budget.shade_wh_per_day},
          {"panels_drawn", report.result.panels_wh_per_day},
          {"vehicle", budget.vehicle_wh_per_day},
          {"battery_usable_wh", budget.usable_wh},
          {"days_of_autonomy", budget.days_of_autonomy},
          {"camps", camps_data(budget)},
          {"forecast", forecast_data(budget)}};
}

Data guesses_data(const GuessDoubt& doubt) {
  Data parts = Data::list();
  for (const auto& part : doubt.parts) {
    parts.push_back({{"name", part.name},
                     {"spread", part.spread},
                     {"spread_is", part.is_share ? "share" : "added"},
                     {"share_of_doubt", part.share}});
  }
  return {{"runs", doubt.runs},
          {"stays_each", doubt.stays_each},
          {"flat", {{"mean", doubt.flat_mean}, {"low", doubt.flat.low}, {"high", doubt.flat.high}}},
          {"parts", parts},
          {"rest", doubt.rest}};
}

}  // namespace

Data run_head(const RunReport& report, std::string_view program) {
  const StudyResult& result = report.result;
  return {{"format", "dullspell.run/1"},
          {"program", program},
          {"seed", result.seed},
          {"stays", result.stays},
          {"instruction_set", to_string(result.instruction_set)},
          {"precision", or_null(result.precision)},
          {"plan", plan_data(report.plan, report.prepared)},
          {"places", places_data(report.plan)}};
}

Data run_results(const RunReport& report) {
  const StudyResult& result = report.result;
  return {{"days", days_data(result.home)},
          {"hours", hours_data(report)},
          {"stay", stay_data(result.home)},
          {"generator", generator_data(report)},
          {"energy_wh_per_day", energy_data(report)},
          {"budget", budget_data(report.budget)},
          {"past_years", report.past ? past_years_data(*report.past, report.prepared) : Data()},
          {"guesses", report.guesses ? guesses_data(*report.guesses) : Data()}};
}

Data run_chart_data(const RunReport& report, const Data& results) {
  const std::size_t count = report.result.home.hours.size(), step = hours_apart(count);
  Data hours = Data::list();
  for (std::size_t i = 0; i < count; i += step) {
    Data hour = results.at("hours").at(i);
    hour.erase("camp");
    hour.erase("night");
    hours.push_back(std::move(hour));
  }
  Data out = {{"hours", std::move(hours)}, {"hours_apart", step}};
  if (report.result.generator) {
    Data along = results.at("generator");
    along["hours_histogram"].keep(hours_used(*report.result.generator));
    out["generator"] = std::move(along);
  }
  return out;
}

}  // namespace dullspell
