#include "reports/levers_document.hpp"

#include <fmt/format.h>

#include "reports/difference_text.hpp"
#include "reports/levers_data.hpp"
#include "reports/levers_tables.hpp"
#include "reports/levers_verdict.hpp"
#include "reports/plan_summary.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

Part points_part(const LeversReport& report) {
  return {.heading = "What each change does",
          .how_to_read =
              "Bars: how many fewer (left) or more (right) of 100 stays run flat with the change, "
              "on the same simulated weather: full where it helps, hatched where so many stays "
              "show no clear "
              "difference, dotted where it makes things worse. Thin marks: 95 % interval of "
              "sampling; broad pale bands: the same with what the weather record cannot tell "
              "(climate).",
          .size = ChartSize::wide,
          .table = ChartTable::shown,
          .blocks = {{levers_table(report, report.top), Shown::in_text},
                     {levers_table(report, report.study.effects.size()), Shown::on_page}}};
}

Part after_part(const LeversReport& report) {
  const Table table = risks_after_table(report);
  return {.heading = table.title,
          .how_to_read =
              "Bars: share of stays that run flat with the change, all else as it is. Thin marks: "
              "95 % interval of sampling. Dashes: the risk that you accept.",
          .size = ChartSize::wide,
          .blocks = {{table, Shown::on_page}}};
}

// Those that help most.
std::vector<Prose> first_changes(const LeversReport& report) {
  constexpr std::size_t kNamed = 3;
  std::vector<Prose> out;
  for (const LeverEffect* effect : grouped_effects(report)) {
    if (out.size() == kNamed || help_of(*effect) != Help::helps) break;
    if (!effect->difference.is_clear()) {
      out.push_back(Prose::name(effect->lever.change) +
                    fmt::format(": {:.1f} hours flat in place of {:.1f}.", effect->flat_h,
                                report.study.base.home.flat_h.mean));
      continue;
    }
    out.push_back(Prose::name(effect->lever.change) +
                  fmt::format(": {} flat, {} points ({}).", percent(effect->flat),
                              signed_points(effect->difference),
                              signed_points_interval(effect->difference)));
  }
  return out;
}

std::vector<Step> levers_steps(const LeversReport& report) {
  const double accepted = report.plan.accept_risk;
  std::vector<Step> steps;
  const bool holds = standing(report.study.base.home.flat, accepted) == RiskStanding::within;
  if (holds) {
    steps.push_back({fmt::format(
        "Change nothing unless you like to: the plan keeps within the {} that you accept.",
        accepted_text(accepted))});
  }
  const auto& generator = report.study.base.generator;
  if (generator && !holds) {
    steps.push_back(
        {fmt::format("{} the generator: with it, run as planned, the plan runs flat in {}.",
                     report.plan.now ? "Run" : "Bring", in_words(generator->risk.flat))});
  }
  if (std::vector<Prose> first = first_changes(report); !first.empty()) {
    steps.push_back({fmt::format("{} with what you can best do without. What takes the most off:",
                                 generator || holds ? "To need less, begin" : "Begin"),
                     std::move(first)});
  }
  steps.push_back(
      {"For several changes at once: put them into a copy of the plan and run `dullspell compare` "
       "on both. Their points do not add up."});
  if (!holds) {
    steps.push_back({"`dullspell size` says how large a battery it takes without any of them."});
  }
  return steps;
}

}  // namespace

Document levers_document(const LeversReport& report, std::string_view program) {
  const StudyResult& base = report.study.base;
  Document out;
  out.program = program;
  out.title = report.plan.title;
  out.summary = plan_summary(report.plan, report.prepared.known);
  out.verdict = levers_verdict(report);
  out.steps = levers_steps(report);
  out.parts = {points_part(report), after_part(report)};
  out.notes = levers_notes(report);
  out.cautions = levers_cautions(report);
  out.footer = study_footer(base.stays, base.seed);
  out.charts = Charts::levers;
  out.head = levers_data(report, program);
  return out;
}

}  // namespace dullspell
