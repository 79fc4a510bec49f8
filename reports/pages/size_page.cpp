#include "reports/pages/size_page.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/pages/page.hpp"
#include "reports/pages/page_files.hpp"
#include "reports/size_report.hpp"
#include "reports/size_tables.hpp"
#include "reports/text_report.hpp"

namespace dullspell {
namespace {

bool stated_meets(const SizeStudy& study) {
  return study.answer.stated.flat.count <= study.allowed;
}

// The page begins with what to buy; the text's first sentence also says how well that is known.
std::string page_verdict(const Plan& plan, const SizeStudy& study) {
  const std::string verdict = size_verdict(plan, study);
  if (!study.answer.least || stated_meets(study)) return verdict;
  const std::string least = least_text(study.answer);
  return (sizes_battery(study) ? fmt::format("The battery needs {} on its label. ", least)
                               : fmt::format("It needs panels of {}. ", least)) +
         verdict;
}

std::string kit_name(const SizeStudy& study) {
  return sizes_battery(study) ? "battery" : "panels";
}

// A least size that the weather record may ask for, rounded up.
std::string climate_high_text(const LeastSize& answer) {
  LeastSize high = answer;
  high.least->size = answer.climate->high;
  high.sampling = *answer.climate;
  return least_text(high);
}

std::string next_common_step(const SizeStudy& study) {
  const SizeRisk& next = *study.next_common;
  return fmt::format("{} is the next common size: with it the battery runs flat in {} ({}).",
                     common_text(study, next.size), in_words(next.flat),
                     percent_interval(next.flat));
}

void add_size_steps(std::vector<std::string>& steps, const SizeStudy& study) {
  const LeastSize& answer = study.answer;
  const SizeRisk& stated = answer.stated;
  const std::string kit = kit_name(study);
  double brought = stated.size;
  if (stated_meets(study)) {
    steps.push_back(
        fmt::format("Keep the plan's {} of {}, and its loads and hours: the figures "
                    "hold for them only.",
                    kit, size_text(answer.of, stated.size)));
    if (study.next_common && study.next_common->size < stated.size) {
      steps.push_back(
          fmt::format("If weight or price matters, less would do. {}", next_common_step(study)));
    }
  } else {
    steps.push_back(fmt::format("Bring {} of {} or more{}.",
                                sizes_battery(study) ? "a battery" : "panels", least_text(answer),
                                sizes_battery(study) ? " on its label, as healthy as the plan's"
                                                     : ", mounted as the plan's"));
    brought = answer.least->size;
    if (study.next_common) {
      steps.push_back("Buy by what is sold: " + next_common_step(study));
      brought = study.next_common->size;
    }
  }
  if (answer.climate && answer.climate->high > brought) {
    steps.push_back(fmt::format(
        "The weather record leaves open that it takes up to {}. Bring that if a flat battery "
        "would end the stay; else look at the forecast before you leave.",
        climate_high_text(answer)));
  }
}

void add_option_steps(std::vector<std::string>& steps, const Plan& plan, const SizeStudy& study,
                      Units units) {
  if (study.options.empty()) return;
  const auto best = best_options(plan, study, units);
  if (best.empty()) steps.push_back(html_text(options_sentence(plan, study, units)));
  for (const BestOption& b : best) {
    steps.push_back(fmt::format("Of the options, the {} that {}lasts is {} ({}).", b.kind,
                                b.sure ? "" : "probably ", html_name(b.option.option.name),
                                html_text(b.figure)));
  }
}

std::vector<std::string> next_steps(const Plan& plan, const SizeStudy& study, Units units) {
  std::vector<std::string> steps;
  if (study.answer.least) {
    add_size_steps(steps, study);
  } else {
    steps.push_back(fmt::format("Do not buy larger {}: no size does.",
                                sizes_battery(study) ? "batteries" : "panels"));
    std::string helps;
    for (const auto& help : size_helps(plan, study)) {
      helps += fmt::format("<li>{}</li>\n", html_text(help));
    }
    steps.push_back(fmt::format("What would help:\n<ul>\n{}</ul>", helps));
  }
  add_option_steps(steps, plan, study, units);
  if (!study.frontier.empty()) {
    steps.push_back(
        "Weigh panels against battery: their table below says what each size of panels leaves "
        "for the battery to do.");
  }
  if (!stated_meets(study)) {
    steps.push_back(
        "Or need less: <code>dullspell levers</code> says which single change takes "
        "the most risk off.");
  }
  return steps;
}

PagePart risk_part(const SizeStudy& study) {
  const std::string kit = kit_name(study);
  const std::string least =
      study.answer.least
          ? fmt::format(
                " Upright line: the least {} that will do; dark band: its 95 % interval of "
                "sampling; pale band: the same with what the weather record cannot tell "
                "(climate).",
                kit)
          : "";
  Table tried = tried_table(study);
  return {"Risk by size of the " + kit,
          fmt::format("Dots: every size that was tried, on a scale that doubles at equal steps; "
                      "thin marks: 95 % interval of sampling. Dashes: the risk that you accept. "
                      "Square: the plan's own {}.{}",
                      kit, least),
          std::move(tried), study.rows.empty() ? "" : html_table(sizes_table(study)), true};
}

PagePart frontier_part(const SizeStudy& study) {
  return {
      "Panels against battery",
      "Dots: the least battery for so many panels; thin marks: 95 % interval of sampling; broad "
      "pale bands: the same with what the weather record cannot tell (climate).",
      frontier_table(study),
      "",
      true,
      false,
      true};
}

PagePart options_part(const Plan& plan, const SizeStudy& study, Units units) {
  return {"Options",
          "Bars: share of stays that run flat with each option. Thin marks: 95 % interval of "
          "sampling; broad pale bands: the same with what the weather record cannot tell "
          "(climate). Dashes: the risk that you accept.",
          options_table(plan, study, units),
          html_paragraph(options_sentence(plan, study, units)),
          true,
          false,
          true};
}

}  // namespace

void write_size_page(std::ostream& out, const Plan& plan, const SizeStudy& study,
                     std::string_view program, Units units) {
  Page page;
  page.title = plan.title;
  page.summary = plan_summary(plan, prepare(plan), units);
  page.tone = size_tone(study);
  page.verdict = page_verdict(plan, study);
  page.steps_html = next_steps(plan, study, units);
  page.parts = {risk_part(study)};
  if (!study.frontier.empty()) page.parts.push_back(frontier_part(study));
  if (!study.options.empty()) page.parts.push_back(options_part(plan, study, units));
  page.notes = size_notes(study, units);
  page.cautions = report_cautions(study.plan);
  page.footer = page_footer(program, study.run.stays, study.run.seed, study.run.instruction_set);
  page.script = size_script();
  page.data = to_six_digits(size_json(plan, study, program, units));
  write_page(out, page);
}

}  // namespace dullspell
