#include "reports/pages/levers_page.hpp"

#include <limits>

#include <fmt/format.h>

#include "reports/difference_text.hpp"
#include "reports/levers_tables.hpp"
#include "reports/pages/page.hpp"
#include "reports/pages/page_files.hpp"
#include "reports/text_report.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

PagePart points_part(const LeversReport& report) {
  Table table = levers_table(report, std::numeric_limits<std::size_t>::max());
  return {"What each change does",
          "Bars: how many fewer (left) or more (right) of 100 stays run flat with the change, on "
          "the same draws: full where it helps, hatched where so many stays show no clear "
          "difference, dotted where it makes things worse. Thin marks: 95 % interval of sampling; "
          "broad pale bands: the same with what the weather record cannot tell (climate).",
          std::move(table),
          "",
          true,
          false,
          true};
}

PagePart after_part(const LeversReport& report) {
  Table table = risks_after_table(report);
  return {table.title,
          "Bars: share of stays that run flat with the change, all else as it is. Thin marks: 95 % "
          "interval of sampling. Dashes: the risk that you accept.",
          std::move(table), "", true};
}

std::string change_item(const LeverEffect& effect) {
  return fmt::format("{}: {} flat, {}.", html_name(effect.lever.change),
                     html_text(percent(effect.flat)),
                     html_text(fmt::format("{} points ({})", signed_points(effect.difference),
                                           signed_points_interval(effect.difference))));
}

// Those that help most.
std::string first_changes(const LeversReport& report) {
  constexpr std::size_t kNamed = 3;
  std::size_t named = 0;
  std::string out;
  for (const LeverEffect* effect : grouped_effects(report)) {
    if (named == kNamed || help_of(*effect) != Help::helps) break;
    out += fmt::format("<li>{}</li>\n", change_item(*effect));
    ++named;
  }
  return out;
}

std::vector<std::string> next_steps(const LeversReport& report) {
  const double accepted = report.plan.accept_risk;
  const Proportion& flat = report.study.base.home.flat;
  std::vector<std::string> steps;
  const bool holds = standing(flat, accepted) == RiskStanding::within;
  if (holds) {
    steps.push_back(fmt::format(
        "Change nothing unless you like to: the plan keeps within the {} that you accept.",
        accepted_text(accepted)));
  }
  const auto& generator = report.study.base.generator;
  if (generator && !holds) {
    steps.push_back(html_text(
        fmt::format("Bring the generator: with it, run by its rule, the plan runs flat in {}.",
                    in_words(generator->risk.flat))));
  }
  if (const std::string first = first_changes(report); !first.empty()) {
    steps.push_back(
        fmt::format("{} with what you can best do without. What takes the most off:\n<ul>\n{}</ul>",
                    generator || holds ? "To need less, begin" : "Begin", first));
  }
  steps.push_back(
      "For several changes at once: put them into a copy of the plan and run <code>dullspell "
      "compare</code> on both. Their points do not add up.");
  if (!holds) {
    steps.push_back(
        "<code>dullspell size</code> says how large a battery it takes without any "
        "of them.");
  }
  return steps;
}

}  // namespace

void write_levers_page(std::ostream& out, const LeversReport& report, std::string_view program) {
  const StudyResult& base = report.study.base;
  Page page;
  page.title = report.plan.title;
  page.summary = plan_summary(report.plan, report.prepared, report.units);
  page.verdict = levers_verdict(report);
  page.steps_html = next_steps(report);
  page.parts = {points_part(report), after_part(report)};
  page.notes = levers_notes(report);
  page.cautions = levers_cautions(report);
  page.footer = page_footer(program, base.stays, base.seed, base.instruction_set);
  page.script = levers_script();
  page.data = to_six_digits(levers_json(report, program));
  write_page(out, page);
}

}  // namespace dullspell
