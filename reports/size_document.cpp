#include "reports/size_document.hpp"

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/plan_summary.hpp"
#include "reports/size_data.hpp"
#include "reports/size_tables.hpp"
#include "reports/size_verdict.hpp"

namespace dullspell {
namespace {

// A page begins with what to buy; the verdict's first sentence also says how well that is known.
std::string page_headline(const SizeStudy& study) {
  if (!study.answer.least || stated_meets(study)) return "";
  const std::string least = least_text(study.answer);
  return sizes_battery(study) ? fmt::format("The battery needs {} on its label.", least)
                              : fmt::format("It needs panels of {}.", least);
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

void add_size_steps(std::vector<Step>& steps, const SizeStudy& study) {
  const LeastSize& answer = study.answer;
  const SizeRisk& stated = answer.stated;
  double brought = stated.size;
  if (stated_meets(study)) {
    steps.push_back(
        {fmt::format("Keep the plan's {} of {}, and its loads and hours: the figures "
                     "hold for them only.",
                     kit_name(study), size_text(answer.of, stated.size))});
    if (study.next_common && study.next_common->size < stated.size) {
      steps.push_back(
          {fmt::format("If weight or price matters, less would do. {}", next_common_step(study))});
    }
  } else {
    steps.push_back({fmt::format("Bring {} of {} or more{}.",
                                 sizes_battery(study) ? "a battery" : "panels", least_text(answer),
                                 sizes_battery(study) ? " on its label, as healthy as the plan's"
                                                      : ", mounted as the plan's")});
    brought = answer.least->size;
    if (study.next_common) {
      steps.push_back({"Buy by what is sold: " + next_common_step(study)});
      brought = study.next_common->size;
    }
  }
  if (answer.climate && answer.climate->high > brought) {
    steps.push_back({fmt::format(
        "The weather record leaves open that it takes up to {}. Bring that if a flat battery "
        "would end the stay; else look at the forecast before you leave.",
        climate_high_text(answer))});
  }
}

void add_option_steps(std::vector<Step>& steps, const Plan& plan, const SizeStudy& study,
                      Units units) {
  if (study.options.empty()) return;
  const auto best = best_options(plan, study, units);
  if (best.empty()) steps.push_back({options_sentence(plan, study, units)});
  for (const BestOption& b : best) {
    steps.push_back(
        {fmt::format("Of the options, the {} that {}lasts is ", b.kind, b.sure ? "" : "probably ") +
         Prose::name(b.option.option.name) + fmt::format(" ({}).", b.figure)});
  }
}

void add_help_steps(std::vector<Step>& steps, const Plan& plan, const SizeStudy& study) {
  steps.push_back({fmt::format("Do not buy larger {}: no size does.",
                               sizes_battery(study) ? "batteries" : "panels")});
  Step helps{"What would help:"};
  for (const auto& help : size_helps(plan, study)) helps.items.push_back(help);
  steps.push_back(std::move(helps));
}

std::vector<Step> size_steps(const Plan& plan, const SizeStudy& study, Units units) {
  std::vector<Step> steps;
  if (study.answer.least) {
    add_size_steps(steps, study);
  } else {
    add_help_steps(steps, plan, study);
  }
  add_option_steps(steps, plan, study, units);
  if (!study.frontier.empty()) {
    steps.push_back(
        {"Weigh panels against battery: their table below says what each size of panels leaves "
         "for the battery to do."});
  }
  if (plan.generator && !study.question.with_generator && !stated_meets(study)) {
    steps.push_back(
        {"Or bring the generator: with `--with-generator` this command judges sizes with it "
         "along."});
  }
  if (!stated_meets(study)) {
    steps.push_back(
        {"Or need less: `dullspell levers` says which single change takes the most risk off."});
  }
  return steps;
}

// In a text the sizes come after the frontier.
Part risk_part(const SizeStudy& study) {
  const std::string kit = kit_name(study);
  const std::string least =
      study.answer.least
          ? fmt::format(
                " Upright line: the least {} that will do; dark band: its 95 % interval of "
                "sampling; pale band: the same with what the weather record cannot tell "
                "(climate).",
                kit)
          : "";
  Part part{.heading = "Risk by size of the " + kit,
            .how_to_read = fmt::format(
                "Dots: every size that was tried, on a scale that doubles at equal steps; "
                "thin marks: 95 % interval of sampling. Dashes: the risk that you accept. "
                "Square: the plan's own {}.{}",
                kit, least),
            .size = ChartSize::wide,
            .blocks = {{tried_table(study), Shown::on_page}}};
  if (!study.rows.empty()) part.blocks.push_back({sizes_table(study), Shown::on_page});
  return part;
}

Part frontier_part(const SizeStudy& study) {
  return {.heading = "Panels against battery",
          .how_to_read =
              "Dots: the least battery for so many panels; thin marks: 95 % interval of sampling; "
              "broad pale bands: the same with what the weather record cannot tell (climate).",
          .size = ChartSize::wide,
          .table = ChartTable::shown,
          .blocks = {{frontier_table(study)}}};
}

Part options_part(const Plan& plan, const SizeStudy& study, Units units) {
  return {.heading = "Options",
          .how_to_read =
              "Bars: share of stays that run flat with each option. Thin marks: 95 % interval of "
              "sampling; broad pale bands: the same with what the weather record cannot tell "
              "(climate). Dashes: the risk that you accept.",
          .size = ChartSize::wide,
          .table = ChartTable::shown,
          .blocks = {{options_table(plan, study, units)}, {options_sentence(plan, study, units)}}};
}

}  // namespace

Document size_document(const Plan& plan, const SizeStudy& study, std::string_view program,
                       Units units) {
  Document out;
  out.program = program;
  out.title = plan.title;
  out.summary = plan_summary(plan, study.prepared.known);
  out.verdict = size_verdict(plan, study);
  out.tone = size_tone(study);
  out.page_headline = page_headline(study);
  out.steps = size_steps(plan, study, units);
  out.parts = {risk_part(study)};
  if (!study.frontier.empty()) out.parts.push_back(frontier_part(study));
  if (!study.rows.empty()) {
    out.parts.push_back({.blocks = {{sizes_table(study), Shown::in_text}}});
  }
  if (!study.options.empty()) out.parts.push_back(options_part(plan, study, units));
  out.notes = size_notes(study, units);
  out.cautions = report_cautions(study.plan);
  out.footer = study_footer(study.run.stays, study.run.seed);
  out.charts = Charts::size;
  out.head = size_head(plan, study, program);
  out.results = size_results(study);
  return out;
}

}  // namespace dullspell
