#include "reports/comparison_tables.hpp"

#include <algorithm>
#include <optional>
#include <tuple>

#include <fmt/format.h>

#include "reports/difference_text.hpp"
#include "reports/run_tables.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

std::string tells(const PairedDifference& d) {
  if (!d.is_clear()) return "no clear difference";
  return d.difference < 0.0 ? "safer" : "riskier";
}

}  // namespace

std::string plan_letter(std::size_t plan) {
  return std::string(1, static_cast<char>('A' + plan));
}

bool any_generator(const std::vector<ComparedPlan>& plans) {
  return std::any_of(plans.begin(), plans.end(),
                     [](const ComparedPlan& plan) { return plan.result.generator.has_value(); });
}

const TrackRisk& risk_of(const ComparedPlan& plan, View view) {
  return view == View::home ? plan.result.home : risk_as_planned(plan.result);
}

PairedDifference difference_of(const ComparedPlan& first, const ComparedPlan& second, View view) {
  const PlanDifference all = plan_difference(first.outcomes, second.outcomes);
  return view == View::planned ? all.planned.value_or(all.home) : all.home;
}

std::size_t safest_plan(const std::vector<ComparedPlan>& plans, View view) {
  const auto fewer = [&](const ComparedPlan& a, const ComparedPlan& b) {
    const TrackRisk &one = risk_of(a, view), &other = risk_of(b, view);
    return std::tie(one.flat.count, one.flat_h.mean) <
           std::tie(other.flat.count, other.flat_h.mean);
  };
  return static_cast<std::size_t>(std::min_element(plans.begin(), plans.end(), fewer) -
                                  plans.begin());
}

Table risks_table(const std::vector<ComparedPlan>& plans, View view) {
  Table table{view == View::home ? "home" : "planned",
              !any_generator(plans) ? "Running flat"
              : view == View::home  ? "Running flat, generators left at home"
                                    : "Running flat as written, generators along",
              {{"plan", Align::left},
               {"flat"},
               {"sampling", Align::left},
               {"climate", Align::left, 4},
               {"against\u00A0A", Align::right, 3},
               {"points, 95\u00A0%", Align::left, 2},
               {"verdict", Align::left, 1},
               {"hours flat", Align::right, 1}},
              {},
              "hours flat: mean of a stay."};
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const TrackRisk& risk = risk_of(plans[i], view);
    TableRow row{
        {plan_letter(i), percent(risk.flat), percent_interval(risk.flat),
         climate_cell(risk.flat_climate), "–", "", "", fmt::format("{:.1f}", risk.flat_h.mean)},
        ShareBar{risk.flat.p, risk.flat_climate.value_or(risk.flat.interval).high},
        tone_of(risk.flat, plans[i].plan.accept_risk)};
    if (i > 0) {
      const PairedDifference d = difference_of(plans.front(), plans[i], view);
      row.cells[4] = signed_points(d);
      row.cells[5] = signed_points_interval(d);
      row.cells[6] = tells(d);
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

Table differences_table(const std::vector<ComparedPlan>& plans) {
  Table table{"differences", "Against A, in points", {{"plan", Align::left}}, {}};
  std::vector<View> views{View::home};
  if (any_generator(plans)) views.push_back(View::planned);
  for (const View view : views) {
    const bool home = view == View::home;
    table.columns.insert(table.columns.end(), {{views.size() == 1 ? "points"
                                                : home            ? "at home"
                                                                  : "as written"},
                                               {"95\u00A0%", Align::left},
                                               {"climate", Align::left},
                                               {"verdict", Align::left}});
  }
  for (std::size_t i = 1; i < plans.size(); ++i) {
    TableRow row{{plan_letter(i)}};
    const auto climate = difference_climate(plans.front(), plans[i]);
    for (const View view : views) {
      const PairedDifference d = difference_of(plans.front(), plans[i], view);
      const auto which =
          view == View::home ? &DifferenceClimate::home : &DifferenceClimate::planned;
      row.cells.insert(row.cells.end(),
                       {signed_points(d), signed_points_interval(d),
                        climate ? signed_points_range((*climate).*which) : "–", tells(d)});
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

namespace {

// The unit of all generators' fuel; nothing where some is bought by weight and some by volume.
std::optional<std::string> unit_of_fuels(const std::vector<ComparedPlan>& plans, Units units) {
  std::optional<std::string> unit;
  for (const ComparedPlan& plan : plans) {
    if (!plan.result.generator) continue;
    const std::string own = fuel_unit(plan.plan.generator->fuel, units);
    if (unit && *unit != own) return std::nullopt;
    unit = own;
  }
  return unit;
}

}  // namespace

Table generators_table(const std::vector<ComparedPlan>& plans, Units units) {
  const std::optional<std::string> one_unit = unit_of_fuels(plans, units);
  Table table{"generators",
              "Generator along, run as planned",
              {{"plan", Align::left},
               {"h\u00A0typical"},
               {"1\u00A0in\u00A010"},
               {fmt::format("{}\u00A0typical", one_unit.value_or("fuel")), Align::right, 1},
               {"1\u00A0in\u00A010", Align::right, 2},
               {"h against\u00A0A", Align::right, 4},
               {"against\u00A0A, 95\u00A0%", Align::left, 3}},
              {}};
  const auto number = [](double v) { return fmt::format("{:.1f}", v); };
  for (std::size_t i = 0; i < plans.size(); ++i) {
    if (!plans[i].result.generator) {
      table.rows.push_back({{plan_letter(i), "none"}});
      continue;
    }
    const GeneratorResult& g = *plans[i].result.generator;
    const Fuel kind = plans[i].plan.generator->fuel;
    const auto fuel_cell = [&](double litres) {
      return one_unit ? fuel_number(litres, kind, units) : fuel(litres, kind, units);
    };
    const auto d = plan_difference(plans.front().outcomes, plans[i].outcomes).generator_h;
    const bool other = i > 0 && d;
    table.rows.push_back(
        {{plan_letter(i), number(g.hours.p50), number(g.hours.p90), fuel_cell(g.fuel_l.p50),
          fuel_cell(g.fuel_l.p90), other ? signed_hours(*d) : "–",
          other ? signed_hours_interval(*d) : ""}});
  }
  return table;
}

Table balances_table(const std::vector<ComparedPlan>& plans) {
  Table table{"balances",
              "An average day",
              {{"plan", Align::left},
               {"nights", Align::right, 3},
               {"uses"},
               {"panels give"},
               {"battery holds", Align::right, 1},
               {"days of autonomy", Align::right, 2}},
              {}};
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const Budget& b = plans[i].budget;
    table.rows.push_back({{plan_letter(i), fmt::format("{}", plans[i].plan.nights()),
                           energy(b.draw_wh_per_day), energy(b.panels_wh_per_day),
                           energy(b.usable_wh), fmt::format("{:.1f}", b.days_of_autonomy)}});
  }
  return table;
}

}  // namespace dullspell
