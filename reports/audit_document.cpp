#include "reports/audit_document.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "reports/audit_data.hpp"
#include "reports/cautions.hpp"
#include "reports/plan_summary.hpp"
#include "reports/reading_text.hpp"
#include "reports/run_tables.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

std::string balance_text(const DailyBalance& balance) {
  return fmt::format("{} Wh {} (± {:.0f})",
                     grouped(static_cast<std::uint64_t>(std::round(std::abs(balance.left_wh())))),
                     balance.left_wh() < 0.0 ? "short" : "over", balance.spread_wh);
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

std::string at_home_text(const AuditReport& report) {
  return report.listed.generator ? ", generator left at home" : "";
}

std::string audit_verdict(const AuditReport& report) {
  if (report.listed.readings.empty()) {
    return fmt::format(
        "No readings yet. By the list {} of stays run flat{}, and an average day is {}: how far "
        "off "
        "that may be is what readings narrow.",
        percent(report.listed_flat), at_home_text(report), balance_text(report.audit.listed));
  }
  return fmt::format(
      "{}By the list {} of stays run flat, by the display {} ({}){}. An average day is {} by "
      "the list, {} by the display.",
      misfit_text(report), percent(report.listed_flat), percent(report.corrected_flat),
      percent_interval(report.corrected_flat),
      report.listed.generator ? ", generator left at home" : "", balance_text(report.audit.listed),
      balance_text(report.audit.corrected));
}

Table readings_table(const AuditReport& report) {
  Table table{"readings",
              "What the display shows, and what was expected",
              {{"reading", Align::left},
               {"by the list"},
               {"on the display"},
               {"corrected"},
               {"off by", Align::right, 1}},
              {}};
  for (std::size_t i = 0; i < report.listed.readings.size(); ++i) {
    const Reading& reading = report.listed.readings[i];
    const ReadingFit& fit = report.posterior.readings[i];
    const auto value = [&](double v) {
      const std::string to = reading_value(reading.kind, v);
      return reading.kind == ReadingKind::charge ? whole_percent(reading.charge_from) + " → " + to
                                                 : to;
    };
    table.rows.push_back(
        {{fmt::format("{}: {}", i + 1, reading_name(reading, report.listed)), value(fit.listed),
          value(reading.shown), value(fit.corrected), fmt::format("{:+.1f}", fit.off_by)}});
  }
  table.legend =
      "Off by: from what the list and all other readings expect, in standard errors; beyond 3 "
      "something is wrong.";
  return table;
}

std::string figure(const Guess& guess, double value) {
  const std::string number = figure_number(value, guess.unit);
  return guess.unit.empty() ? number : number + " " + guess.unit;
}

Table figures_table(const AuditReport& report) {
  Table table{"figures",
              "The plan's figures, corrected",
              {{"guess", Align::left},
               {"key", Align::left, 1},
               {"stated"},
               {"corrected"},
               {"its doubt", Align::right, 2}},
              {}};
  for (std::size_t i = 0; i < report.posterior.guesses.size(); ++i) {
    const Guess& guess = report.posterior.guesses[i];
    const auto doubt = [&](double share_left) {
      return guess.is_share ? fmt::format("± {}", whole_percent(guess.spread * share_left))
                            : fmt::format("± {:.2f}", guess.spread * share_left);
    };
    const double left = report.posterior.left(i);
    table.rows.push_back(
        {{guess.name, guess.key, figure(guess, guess.value(report.listed)),
          figure(guess, guess.value(report.corrected)),
          left > 0.995 ? doubt(1.0) : fmt::format("{} → {}", doubt(1.0), doubt(left))}});
  }
  table.legend =
      "The other commands go by the corrected figures as long as the readings stand in the plan.";
  return table;
}

std::vector<Step> audit_steps(const AuditReport& report) {
  std::vector<Step> out;
  for (const Misfit& misfit : report.audit.misfits) {
    const Reading& reading = report.listed.readings[misfit.reading];
    out.push_back(
        {fmt::format("Check reading {}: off by {:+.1f} standard errors{}.", misfit.reading + 1,
                     misfit.off_by, misfit.slip ? "; " + slip_text(*misfit.slip, reading) : "")});
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
  const bool all = report.checklist || report.listed.readings.empty();
  Step step{all ? "Read these, in this order; each goes into a table [[reading]] of the plan:"
                : "The next reading worth taking:"};
  for (std::size_t i = 0; i < (all ? next.size() : 1); ++i) {
    step.items.emplace_back(fmt::format("{} Leaves {} of today's doubt of the daily balance.",
                                        how_to_take(next[i].reading, report.listed),
                                        whole_percent(next[i].left)));
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

}  // namespace

Document audit_document(const AuditReport& report, std::string_view program) {
  Document out;
  out.program = program;
  out.title = report.listed.title;
  out.summary = plan_summary(report.listed, {});
  out.verdict = audit_verdict(report);
  out.tone = tone_of(report.corrected_flat, report.listed.accept_risk);
  out.steps = audit_steps(report);
  if (!report.listed.readings.empty()) {
    out.parts.push_back({.blocks = {{readings_table(report)}}});
    out.parts.push_back({.blocks = {{figures_table(report)}}});
  }
  out.notes = {
      "Readings are held against the plan's hours by the uses that it lists, the figures of "
      "[guesses] being how far off each may be. A display counts as right within 2 %, whole "
      "percents as rounded; a clear sky as steady within 4 %, a mixed one within 25 %."};
  for (std::string& note : log_notes(report)) out.notes.push_back(std::move(note));
  if (!report.posterior.converged) {
    out.notes.emplace_back(
        "The correction did not settle: readings may contradict each other. Do not rely on it.");
  }
  out.cautions = report_cautions(report.listed);
  out.footer = study_footer(report.stays, report.seed);
  out.head = audit_head(report, program);
  out.results = audit_results(report);
  return out;
}

}  // namespace dullspell
