#include "reports/comparison_document.hpp"

#include <fmt/format.h>

#include "reports/comparison_data.hpp"
#include "reports/comparison_tables.hpp"
#include "reports/comparison_verdict.hpp"
#include "reports/plan_summary.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Plans = std::vector<ComparedPlan>;

PlanSummary summary_of(const Plans& plans, std::size_t i) {
  const Plan& plan = plans[i].plan;
  return {plan_letter(i), plan.file, plan.title, plan_summary(plan, plans[i].prepared.known)};
}

// The letters of the plans that so many stays cannot tell from one of them: "A, C".
std::string level_with(const Plans& plans, std::size_t best, View view) {
  std::string letters;
  for (std::size_t i = 0; i < plans.size(); ++i) {
    if (i == best || difference_of(plans[i], plans[best], view).is_clear()) continue;
    letters += (letters.empty() ? "" : ", ") + plan_letter(i);
  }
  return letters;
}

Step best_step(const Plans& plans, View view) {
  const std::size_t best = safest_plan(plans, view);
  const Plan& plan = plans[best].plan;
  const std::string when = !any_generator(plans) ? ""
                           : view == View::home  ? "If generators stay at home: "
                                                 : "With each plan's generator along: ";
  const std::string level = level_with(plans, best, view);
  Prose text = when + (when.empty() ? "Take " : "take ");
  if (level.empty()) {
    text += plan_letter(best) + ", ";
    text += Prose::name(plan.title.empty() ? plan.file : plan.title) + ".";
  } else {
    text += fmt::format(
        "what is cheapest, lightest or easiest of {} and {}: so many stays cannot tell them apart.",
        level, plan_letter(best));
  }
  const Proportion& flat = risk_of(plans[best], view).flat;
  const RiskStanding stands = standing(flat, plan.accept_risk);
  if (stands != RiskStanding::within) {
    text +=
        fmt::format(" Even {} runs flat in {}, {} the {} that it accepts.", plan_letter(best),
                    in_words(flat), stands == RiskStanding::exceeded ? "more than" : "too close to",
                    accepted_text(plan.accept_risk));
  }
  return {text};
}

std::vector<Step> comparison_steps(const Plans& plans) {
  std::vector<Step> steps{best_step(plans, View::home)};
  if (any_generator(plans)) steps.push_back(best_step(plans, View::planned));
  steps.push_back(
      {"Weigh the points against price, weight and trouble: the tables say what each plan uses, "
       "gets and holds."});
  steps.push_back({"For the days and hours of one plan: `dullspell run PLAN --html FILE`."});
  return steps;
}

// On a page the differences have a chart and a table of their own.
Part risk_part(const Plans& plans, View view) {
  constexpr std::size_t kOwn = 4;
  const Table table = risks_table(plans, view);
  Table own = table;
  own.columns.resize(kOwn);
  return {.heading = table.title,
          .how_to_read =
              "Bars: share of stays that run flat. Thin marks: 95 % interval of sampling; broad "
              "pale bands: the same with what the weather record cannot tell (climate). Short "
              "dashes: the risk that each plan accepts.",
          .size = any_generator(plans) ? ChartSize::usual : ChartSize::wide,
          .table = ChartTable::shown,
          .blocks = {{table, Shown::in_text}, {own, Shown::on_page}}};
}

Part differences_part(const Plans& plans) {
  const Table table = differences_table(plans);
  return {.heading = table.title,
          .how_to_read =
              "Bars: how many more (right) or fewer (left) of 100 stays run flat than with A, on "
              "the same simulated weather. Thin marks: 95 % interval of sampling; where it holds "
              "0, so many "
              "stays show no clear difference. Broad pale bands: the same with what the weather "
              "record cannot tell (climate), where dates and places are A's.",
          .size = ChartSize::wide,
          .table = ChartTable::shown,
          .blocks = {{table, Shown::on_page}}};
}

Part generators_part(const Plans& plans, Units units) {
  return {
      .heading = "Generator along, run as planned",
      .how_to_read = "Hours that the generator runs: in a typical stay, and in one stay of ten.",
      .size = ChartSize::wide,
      .table = ChartTable::shown,
      .blocks = {{generators_table(plans, units)}}};
}

Part balances_part(const Plans& plans) {
  return {.heading = "An average day, and the plans",
          .how_to_read =
              "What each plan uses and what its panels give on an average day, and what its full "
              "battery holds, in Wh.",
          .size = ChartSize::wide,
          .table = ChartTable::shown,
          .blocks = {{balances_table(plans)}, {PlanSummaries{}, Shown::on_page}}};
}

}  // namespace

Document comparison_document(const std::vector<ComparedPlan>& plans, std::string_view program,
                             Units units) {
  const StudyResult& result = plans.front().result;
  Document out;
  out.program = program;
  out.title = fmt::format("{} plans on the same weather", plans.size());
  for (std::size_t i = 0; i < plans.size(); ++i) {
    out.plans.push_back(summary_of(plans, i));
    out.summary.push_back(fmt::format("{}: {}", plan_letter(i), out.plans.back().name()));
  }
  out.verdict = comparison_verdict(plans);
  out.steps = comparison_steps(plans);
  out.parts = {risk_part(plans, View::home)};
  if (any_generator(plans)) out.parts.push_back(risk_part(plans, View::planned));
  out.parts.push_back(differences_part(plans));
  if (any_generator(plans)) out.parts.push_back(generators_part(plans, units));
  out.parts.push_back(balances_part(plans));
  out.notes = comparison_notes(plans, units);
  out.cautions = comparison_cautions(plans);
  out.footer = study_footer(result.stays, result.seed);
  out.charts = Charts::compare;
  out.head = comparison_data(plans, program);
  return out;
}

}  // namespace dullspell
