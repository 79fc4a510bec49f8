#include "reports/pages/compare_page.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "reports/comparison_report.hpp"
#include "reports/comparison_tables.hpp"
#include "reports/pages/page.hpp"
#include "reports/pages/page_files.hpp"
#include "reports/text_report.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Plans = std::vector<ComparedPlan>;

const std::string& name_of(const ComparedPlan& plan) {
  return plan.plan.title.empty() ? plan.plan.file : plan.plan.title;
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

std::string best_step(const Plans& plans, View view) {
  const std::size_t best = safest_plan(plans, view);
  const std::string when = !any_generator(plans) ? ""
                           : view == View::home  ? "If generators stay at home: "
                                                 : "With each plan's generator along: ";
  const std::string level = level_with(plans, best, view);
  const char* take = when.empty() ? "Take" : "take";
  const std::string text = level.empty()
                               ? fmt::format("{}{} {}, {}.", when, take, plan_letter(best),
                                             html_name(name_of(plans[best])))
                               : fmt::format(
                                     "{}{} what is cheapest, lightest or easiest of {} and {}: so "
                                     "many stays cannot tell them apart.",
                                     when, take, level, plan_letter(best));
  const double accepted = plans[best].plan.accept_risk;
  const Proportion& flat = risk_of(plans[best], view).flat;
  const RiskStanding stands = standing(flat, accepted);
  if (stands == RiskStanding::within) return text;
  return text + fmt::format(" Even {} runs flat in {}, {} the {} that it accepts.",
                            plan_letter(best), in_words(flat),
                            stands == RiskStanding::exceeded ? "more than" : "too close to",
                            accepted_text(accepted));
}

std::vector<std::string> next_steps(const Plans& plans) {
  std::vector<std::string> steps{best_step(plans, View::home)};
  if (any_generator(plans)) steps.push_back(best_step(plans, View::planned));
  steps.push_back(
      "Weigh the points against price, weight and trouble: the tables say what each plan uses, "
      "gets and holds.");
  steps.push_back(
      "For the days and hours of one plan: <code>dullspell run PLAN --html FILE</code>.");
  return steps;
}

PagePart risk_part(const Plans& plans, View view) {
  Table table = risks_table(plans, view);
  constexpr std::size_t kOwn = 4;  // the differences have a chart and a table of their own
  table.columns.resize(kOwn);
  return {table.title,
          "Bars: share of stays that run flat. Thin marks: 95 % interval of sampling; broad pale "
          "bands: the same with what the weather record cannot tell (climate). Short dashes: the "
          "risk that each plan accepts.",
          std::move(table),
          "",
          !any_generator(plans),
          false,
          true};
}

PagePart differences_part(const Plans& plans) {
  Table table = differences_table(plans);
  return {table.title,
          "Bars: how many more (right) or fewer (left) of 100 stays run flat than with A, on the "
          "same draws. Thin marks: 95 % interval of sampling; where it holds 0, so many stays show "
          "no clear difference. Broad pale bands: the same with what the weather record cannot "
          "tell (climate), where dates and places are A's.",
          std::move(table),
          "",
          true,
          false,
          true};
}

PagePart generators_part(const Plans& plans, Units units) {
  return {"Generator along, by its rule",
          "Hours that the generator runs: in the middle stay, and in one stay of ten.",
          generators_table(plans, units),
          "",
          true,
          false,
          true};
}

std::string summaries_html(const Plans& plans, Units units) {
  std::string out = "<div class=\"beside\">\n";
  for (std::size_t i = 0; i < plans.size(); ++i) {
    out +=
        fmt::format("<div><h4>{}: {}</h4>\n<ul>\n", plan_letter(i), html_name(name_of(plans[i])));
    out += fmt::format("<li>{}</li>\n", html_name(plans[i].plan.file));
    for (const auto& line : plan_summary(plans[i].plan, plans[i].prepared, units)) {
      out += fmt::format("<li>{}</li>\n", html_name(line));
    }
    out += "</ul></div>\n";
  }
  return out + "</div>\n";
}

PagePart balances_part(const Plans& plans, Units units) {
  return {"An average day, and the plans",
          "What each plan uses and what its panels give on an average day, and what its full "
          "battery holds, in Wh.",
          balances_table(plans),
          summaries_html(plans, units),
          true,
          false,
          true};
}

}  // namespace

void write_compare_page(std::ostream& out, const Plans& plans, std::string_view program,
                        Units units) {
  Page page;
  page.title = fmt::format("{} plans on the same weather", plans.size());
  for (std::size_t i = 0; i < plans.size(); ++i) {
    page.summary.push_back(fmt::format("{}: {}", plan_letter(i), name_of(plans[i])));
  }
  page.verdict = comparison_verdict(plans);
  page.steps_html = next_steps(plans);
  page.parts = {risk_part(plans, View::home)};
  if (any_generator(plans)) page.parts.push_back(risk_part(plans, View::planned));
  page.parts.push_back(differences_part(plans));
  if (any_generator(plans)) page.parts.push_back(generators_part(plans, units));
  page.parts.push_back(balances_part(plans, units));
  page.notes = comparison_notes(plans, units);
  page.cautions = comparison_cautions(plans);
  const StudyResult& result = plans.front().result;
  page.footer = page_footer(program, result.stays, result.seed, result.instruction_set);
  page.script = compare_script();
  page.data = to_six_digits(comparison_json(plans, program, units));
  write_page(out, page);
}

}  // namespace dullspell
