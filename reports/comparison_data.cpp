#include "reports/comparison_data.hpp"

#include <ostream>

#include "reports/comparison_tables.hpp"
#include "reports/csv_writer.hpp"
#include "reports/data_parts.hpp"
#include "reports/difference_text.hpp"
#include "reports/plan_data.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

Data generator_data(const ComparedPlan& plan) {
  if (!plan.result.generator) return nullptr;
  const GeneratorResult& g = *plan.result.generator;
  Data out{{"flat", share(g.risk.flat, g.risk.flat_climate)},
           {"hours", spread(g.hours)},
           {"fuel_l", spread(g.fuel_l)},
           {"starts", spread(g.starts)}};
  add_fuel_kg(out, g.fuel_l, plan.plan.generator->fuel);
  return out;
}

Data against_data(const ComparedPlan& first, const ComparedPlan& second) {
  const PlanDifference d = plan_difference(first.outcomes, second.outcomes);
  const auto climate = difference_climate(first, second);
  const auto paired = [&](const PairedDifference& p, Interval DifferenceClimate::*which) {
    Data out = difference_data(p);
    out["climate_low"] = climate ? Data(((*climate).*which).low) : Data();
    out["climate_high"] = climate ? Data(((*climate).*which).high) : Data();
    out["stays_to_tell"] = p.is_clear() ? Data() : or_null(stays_to_tell(p, first.outcomes.stays));
    return out;
  };
  return {{"flat_home", paired(d.home, &DifferenceClimate::home)},
          {"flat_as_planned", paired(d.planned.value_or(d.home), &DifferenceClimate::planned)},
          {"generator_h", d.generator_h ? difference_data(*d.generator_h) : Data()}};
}

Data plan_members(const std::vector<ComparedPlan>& plans, std::size_t i) {
  const ComparedPlan& p = plans[i];
  return {{"letter", plan_letter(i)},
          {"plan", plan_data(p.plan, p.prepared)},
          {"flat_home", share(p.result.home.flat, p.result.home.flat_climate)},
          {"generator", generator_data(p)},
          {"draw_wh_per_day", p.budget.draw_wh_per_day},
          {"panels_wh_per_day", p.budget.panels_wh_per_day},
          {"battery_usable_wh", p.budget.usable_wh},
          {"days_of_autonomy", p.budget.days_of_autonomy},
          {"against_first", i > 0 ? against_data(plans.front(), p) : Data()}};
}

}  // namespace

Data comparison_data(const std::vector<ComparedPlan>& plans, std::string_view program) {
  const StudyResult& result = plans.front().result;
  Data each = Data::list();
  for (std::size_t i = 0; i < plans.size(); ++i) each.push_back(plan_members(plans, i));
  return {{"format", "dullspell.compare/1"},
          {"program", program},
          {"seed", result.seed},
          {"stays", result.stays},
          {"instruction_set", to_string(result.instruction_set)},
          {"plans", std::move(each)}};
}

void write_comparison_csv(std::ostream& out, const std::vector<ComparedPlan>& plans) {
  CsvWriter csv(out,
                "plan,file,title,flat_home,flat_home_low,flat_home_high,flat_as_planned,"
                "flat_as_planned_low,flat_as_planned_high,generator_h_mean,generator_h_p50,"
                "generator_h_p90,fuel_l_mean,fuel_l_p50,fuel_l_p90,days_of_autonomy,"
                "flat_home_difference,flat_home_difference_low,flat_home_difference_high,"
                "flat_as_planned_difference,flat_as_planned_difference_low,"
                "flat_as_planned_difference_high,generator_h_difference,"
                "generator_h_difference_low,generator_h_difference_high");
  const auto with_interval = [&](double value, const Interval& interval) {
    csv.cells(value, interval.low, interval.high);
  };
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const ComparedPlan& p = plans[i];
    const Proportion &home = p.result.home.flat, &planned = risk_as_planned(p.result).flat;
    csv.cells(plan_letter(i), p.plan.file, p.plan.title);
    with_interval(home.p, home.interval);
    with_interval(planned.p, planned.interval);
    if (const auto& g = p.result.generator) {
      csv.cells(g->hours.mean, g->hours.p50, g->hours.p90, g->fuel_l.mean, g->fuel_l.p50,
                g->fuel_l.p90);
    } else {
      csv.empty(6);
    }
    csv.cells(p.budget.days_of_autonomy);
    if (i > 0) {
      const PlanDifference d = plan_difference(plans.front().outcomes, p.outcomes);
      const PairedDifference& as_planned = d.planned ? *d.planned : d.home;
      with_interval(d.home.difference, d.home.interval);
      with_interval(as_planned.difference, as_planned.interval);
      if (d.generator_h) {
        with_interval(d.generator_h->difference, d.generator_h->interval);
      } else {
        csv.empty(3);
      }
    } else {
      csv.empty(9);
    }
    csv.end_row();
  }
}

}  // namespace dullspell
