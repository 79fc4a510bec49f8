#include "reports/json_report.hpp"

#include <cmath>
#include <ostream>

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/hindcast_report.hpp"
#include "reports/json_parts.hpp"
#include "reports/plan_json.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

Json days_json(const TrackRisk& risk) {
  Json out = Json::array();
  for (const DayRisk& day : risk.days) {
    out.push_back(
        {{"day", day.day},
         {"date", iso_date(day.date)},
         {"flat_on_day", share(day.flat_on_day)},
         {"flat_by_day", share(day.flat_by_day, day.flat_by_day_climate)},
         {"morning_low_soc", day.morning_low ? quantiles(*day.morning_low) : Json(nullptr)}});
  }
  return out;
}

Json hours_json(const RunReport& report) {
  Json out = Json::array();
  for (const HourCharge& hour : report.result.home.hours) {
    const HourSlot& slot = report.prepared.hours[hour.hour];
    const Segment& segment = report.prepared.segments[static_cast<std::size_t>(slot.segment)];
    const auto date = report.prepared.dates[static_cast<std::size_t>(slot.day)];
    // A night belongs to the date on which it begins: the first night is 1.
    const int day = report.prepared.first_day + slot.day;
    const int night = slot.hour_of_day < 12 ? day : day + 1;
    out.push_back({{"time", fmt::format("{}T{:02}:00:00", iso_date(date), slot.hour_of_day)},
                   {"camp", segment.camp + 1},
                   {"night", night},
                   {"sun_up", slot.sun_up},
                   {"soc", quantiles(hour.charge)}});
  }
  return out;
}

Json stay_json(const TrackRisk& risk) {
  return {{"flat", share(risk.flat, risk.flat_climate)},
          {"flat_hours_share", risk.flat_hours_share},
          {"shortfall_share", risk.shortfall_share},
          {"shortfall_wh", risk.shortfall_wh},
          {"demand_wh", risk.demand_wh},
          {"given_up_wh", risk.given_up_wh},
          {"spilled_wh", risk.spilled_wh},
          {"flat_hour_of_day",
           risk.flat_hours_share > 0.0 ? Json(risk.flat_hour_of_day) : Json(nullptr)}};
}

Json generator_json(const StudyResult& result) {
  if (!result.generator) return nullptr;
  const GeneratorResult& g = *result.generator;
  Json histogram = Json::array();
  for (std::size_t i = 0; i < g.hours_histogram.size(); ++i) {
    histogram.push_back({{"upto_h", i}, {"share", g.hours_histogram[i]}});
  }
  Json least = g.least_hours ? spread(*g.least_hours) : Json(nullptr);
  return {{"flat", share(g.risk.flat, g.risk.flat_climate)},
          {"hours", spread(g.hours)},
          {"fuel_l", spread(g.fuel_l)},
          {"starts", spread(g.starts)},
          {"hours_histogram", histogram},
          {"least_hours", least},
          {"not_enough", share(g.not_enough)},
          {"days", days_json(g.risk)},
          {"stay", stay_json(g.risk)}};
}

Json budget_json(const Budget& budget) {
  Json lines = Json::array();
  for (const auto& line : budget.lines) {
    const char* kind = line.kind == BudgetLine::Kind::load      ? "load"
                       : line.kind == BudgetLine::Kind::furnace ? "furnace"
                       : line.kind == BudgetLine::Kind::fridge  ? "fridge"
                                                                : "loss";
    lines.push_back({{"name", line.name}, {"kind", kind}, {"wh_per_day", line.wh_per_day}});
  }
  return lines;
}

Json camps_json(const Budget& budget) {
  Json out = Json::array();
  for (const CampBalance& camp : budget.camps) {
    out.push_back({{"camp", camp.camp + 1},
                   {"days", camp.days},
                   {"draw", camp.draw_wh_per_day},
                   {"panels", camp.panels_wh_per_day},
                   {"vehicle", camp.vehicle_wh_per_day}});
  }
  return out;
}

Json guesses_json(const GuessDoubt& doubt) {
  Json parts = Json::array();
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

Json run_json(const RunReport& report, std::string_view program) {
  const StudyResult& result = report.result;
  Json json = {{"format", "dullspell.run/1"},
               {"program", program},
               {"seed", result.seed},
               {"stays", result.stays},
               {"instruction_set", to_string(result.instruction_set)},
               {"precision", or_null(result.precision)},
               {"plan", plan_json(report.plan, report.prepared)},
               {"places", places_json(report.plan)}};
  json["verdict"] = verdict(report);
  json["days"] = days_json(result.home);
  json["hours"] = hours_json(report);
  json["stay"] = stay_json(result.home);
  json["generator"] = generator_json(result);
  json["energy_wh_per_day"] = {{"draw", report.budget.draw_wh_per_day},
                               {"panels", report.budget.panels_wh_per_day},
                               {"panels_dull_day", report.budget.panels_dull_wh_per_day},
                               {"panels_clear_day", report.budget.panels_clear_wh_per_day},
                               {"shade_takes", report.budget.shade_wh_per_day},
                               {"panels_drawn", result.panels_wh_per_day},
                               {"vehicle", report.budget.vehicle_wh_per_day},
                               {"battery_usable_wh", report.budget.usable_wh},
                               {"days_of_autonomy", report.budget.days_of_autonomy},
                               {"camps", camps_json(report.budget)}};
  json["budget"] = budget_json(report.budget);
  json["past_years"] = report.past ? past_years_json(*report.past, report.prepared) : Json(nullptr);
  json["guesses"] = report.guesses ? guesses_json(*report.guesses) : Json(nullptr);
  json["notes"] = report_notes(report);
  json["cautions"] = report_cautions(report.plan);
  return json;
}

void write_json_report(std::ostream& out, const RunReport& report, std::string_view program) {
  write_json(out, run_json(report, program));
}

}  // namespace dullspell
