#include "reports/audit_document.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "reports/audit_data.hpp"
#include "reports/audit_tables.hpp"
#include "reports/cautions.hpp"
#include "reports/plan_summary.hpp"
#include "reports/reading_text.hpp"
#include "reports/run_tables.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

std::string left_text(const DailyBalance& balance) {
  return fmt::format("{} Wh {}",
                     grouped(static_cast<std::uint64_t>(std::round(std::abs(balance.left_wh())))),
                     balance.left_wh() < 0.0 ? "short" : "over");
}

std::string balance_text(const DailyBalance& balance) {
  return fmt::format("{} (± {:.0f})", left_text(balance), balance.spread_wh);
}

std::string misfit_text(const AuditReport& report) {
  if (report.audit.misfits.empty()) return "";
  const Misfit& worst = report.audit.misfits.front();
  const Reading& reading = report.listed.readings[worst.reading];
  std::string out = fmt::format("Check reading {} first ({}): it does not fit the rest",
                                worst.reading + 1, reading_name(reading, report.listed));
  if (worst.slip) out += "; " + slip_text(*worst.slip, reading);
  return out + ". ";
}

bool is_read(const AuditReport& report) {
  return !report.listed.readings.empty();
}

// All readings worth taking are told, not the next one alone.
bool is_checklist(const AuditReport& report) {
  return report.checklist || !is_read(report);
}

std::string flat_text(const Proportion& flat) {
  return fmt::format("{} ({})", percent(flat), percent_interval(flat));
}

std::string at_home_text(const AuditReport& report) {
  return report.listed.generator ? ", " + generator_unused(report.listed) : std::string();
}

std::string audit_verdict(const AuditReport& report) {
  const std::string by_list = flat_text(report.listed_flat);
  const std::string flat = "of stays run flat" + beyond_text(report.listed);
  const std::string home = at_home_text(report);
  const std::string day = "an average day ends " + balance_text(report.audit.listed);
  if (!is_read(report)) {
    return fmt::format(
        "{} By the list {} {}{}, and {}. Readings narrow that.",
        report.audit.next.empty() ? "No readings yet." : "No readings yet: take those below.",
        by_list, flat, home, day);
  }
  return fmt::format("{}By the list {} {}, by the display {}{}. By the list {}, by the display {}.",
                     misfit_text(report), by_list, flat, flat_text(report.corrected_flat), home,
                     day, balance_text(report.audit.corrected));
}

// Without readings what the list says is all there is.
KeyFigure key_figure(const AuditReport& report, std::string says, std::string listed,
                     std::string corrected) {
  if (!is_read(report)) return {std::move(says), {{std::move(listed)}}};
  return {std::move(says),
          {{std::move(listed), "by the list"}, {std::move(corrected), "by the display"}}};
}

std::vector<KeyFigure> key_figures(const AuditReport& report) {
  const DailyBalance& listed = report.audit.listed;
  const DailyBalance& corrected = report.audit.corrected;
  const auto spread = [](const DailyBalance& balance) {
    return fmt::format("± {:.0f} Wh", balance.spread_wh);
  };
  return {key_figure(report, "stays in 100 that run flat" + at_home_text(report),
                     of_hundred(report.listed_flat), of_hundred(report.corrected_flat)),
          key_figure(report, "an average day", left_text(listed), left_text(corrected)),
          key_figure(report, "how far off that may be", spread(listed), spread(corrected))};
}

std::vector<Step> audit_steps(const AuditReport& report) {
  std::vector<Step> out;
  for (const Misfit& misfit : report.audit.misfits) {
    const Reading& reading = report.listed.readings[misfit.reading];
    out.push_back({fmt::format("Check reading {}: off by {} standard errors{}.", misfit.reading + 1,
                               signed_number(misfit.off_by, 1),
                               misfit.slip ? "; " + slip_text(*misfit.slip, reading) : "")});
  }
  if (!report.written.empty() && report.written != "-") {
    out.push_back({Prose("Go on with ") + Prose::name(report.written) +
                   ": the plan with the corrected figures in it, their doubt in [guesses]."});
  }
  const auto& next = report.audit.next;
  if (next.empty()) {
    out.push_back({"No further reading would narrow the answer much."});
    return out;
  }
  const bool all = is_checklist(report);
  Step step{all ? "Read these, in this order; each goes into a table [[reading]] of the plan:"
                : "The next reading worth taking:"};
  for (std::size_t i = 0; i < (all ? next.size() : 1); ++i) {
    step.items.emplace_back(
        fmt::format("{}{} After it, {} of today's doubt about the daily balance is left.",
                    all ? fmt::format("{}: ", number_to_take(report, i)) : "",
                    how_to_take(next[i].reading, report.listed), whole_percent(next[i].left)));
  }
  out.push_back(std::move(step));
  return out;
}

// What is odd about the log.
std::vector<std::string> log_notes(const AuditReport& report) {
  std::vector<std::string> out;
  if (!report.log_findings) return out;
  const LogFindings& log = *report.log_findings;
  const auto& readings = report.listed.readings;
  const auto taken = static_cast<std::size_t>(
      std::count_if(readings.begin(), readings.end(), [](const Reading& r) { return r.logged; }));
  out.push_back(fmt::format("The log {}: {} from {} to {} give {}.", report.log,
                            counted(log.rows, "row"), time_text(log.first), time_text(log.last),
                            counted(taken, "reading")));
  if (log.cut) {
    out.push_back(fmt::format("Only the log's last {} days are used.", kMostLogged_days));
  }
  if (log.gaps.count > 0) {
    out.push_back(
        fmt::format("The log has {}, the longest of {:.1f} h; the first ends in line {}. What was "
                    "drawn or came "
                    "in meanwhile is left out.",
                    counted(static_cast<std::uint64_t>(log.gaps.count), "gap"),
                    log.longest_gap_min / 60.0, log.gaps.line));
  }
  if (log.backwards.count > 0) {
    out.push_back(fmt::format(
        "The log's clock goes backwards {}, first in line {}: nothing is read across that.",
        counted(static_cast<std::uint64_t>(log.backwards.count), "time"), log.backwards.line));
  }
  if (log.whole_percents) {
    out.emplace_back("The log has whole percents: each counts as right within half a percent.");
  }
  if (log.panels_unjudged) {
    out.emplace_back(
        "The panels' watts in the log are not used: without the charge beside them nobody can tell "
        "when a full battery turned the panels down.");
  }
  return out;
}

// To print, and to fill in by hand.
Part checklist_part(const AuditReport& report) {
  const Table table = checklist_table(report, Shown::in_text);
  return {.text_heading = table.title,
          .place = PartPlace::under_steps,
          .blocks = {{table, Shown::in_text},
                     {checklist_table(report, Shown::on_page), Shown::on_page},
                     {table.legend, Shown::on_page}}};
}

Part readings_part(const AuditReport& report) {
  const Table table = readings_table(report);
  return {.heading = table.title,
          .how_to_read =
              "Bars: how much more (right) or less (left) the display shows than the list and all "
              "other readings make expect, in standard errors. Two readings in three are within 1; "
              "beyond 3 (dashes) something is wrong with the reading or the list.",
          .size = ChartSize::wide,
          .table = ChartTable::shown,
          .blocks = {{table}}};
}

Part figures_part(const AuditReport& report) {
  const Table table = figures_table(report);
  if (!is_read(report)) {
    return {.heading = "How far off the list may be",
            .size = ChartSize::none,
            .blocks = {{table}, {table.legend, Shown::on_page}}};
  }
  return {.heading = table.title,
          .how_to_read =
              "Bars: by how much each figure is corrected up (right) or down (left), in percent of "
              "what the plan states; canopy and the battery's health in points of 100. Broad pale "
              "bands: where it lay in 95 of 100 cases before the readings; thin marks: where it "
              "lies in 95 of 100 now.",
          .size = ChartSize::wide,
          .table = ChartTable::shown,
          .blocks = {{table}}};
}

std::vector<std::string> audit_notes(const AuditReport& report) {
  std::vector<std::string> notes = {
      "What a reading should show follows from what the plan says is in use at that time and from "
      "the sun of that date. How far off the plan's figures may be stands in its [guesses].",
      "A display is taken to be right within 2 %, of a change of charge within 5 %, and to round; "
      "sunshine at one moment to be within 4 % of that hour's average under a clear sky, 15 % "
      "under a dull one, 25 % under a mixed or "
      "unknown one: common practice, no source.",
      "± is one standard deviation: the truth lies within it two times in three. Intervals of "
      "stays hold sampling alone: `dullspell run` says what the weather record leaves open."};
  for (std::string& note : log_notes(report)) notes.push_back(std::move(note));
  if (!report.posterior.converged) {
    notes.emplace_back(
        "The correction did not settle: readings may contradict each other. Do not rely on it.");
  }
  return notes;
}

}  // namespace

Document audit_document(const AuditReport& report, std::string_view program) {
  Document out;
  out.program = program;
  out.title = report.listed.title;
  out.summary = plan_summary(report.listed, {});
  out.verdict = audit_verdict(report);
  // Figures that a reading contradicts are not to be relied on.
  if (report.audit.misfits.empty()) {
    out.tone = tone_of(report.corrected_flat, report.listed.accept_risk);
  }
  out.figures = key_figures(report);
  out.steps = audit_steps(report);
  if (is_checklist(report) && !report.audit.next.empty()) {
    out.parts.push_back(checklist_part(report));
  }
  if (is_read(report)) out.parts.push_back(readings_part(report));
  if (!report.posterior.guesses.empty()) out.parts.push_back(figures_part(report));
  out.notes = audit_notes(report);
  out.cautions = report_cautions(report.listed);
  out.footer = study_footer(report.stays, report.seed);
  out.charts = Charts::audit;
  out.head = audit_head(report, program);
  out.results = audit_results(report);
  out.chart_data = audit_chart_data(report);
  return out;
}

}  // namespace dullspell
