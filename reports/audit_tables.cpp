#include "reports/audit_tables.hpp"

#include <fmt/format.h>

#include "reports/number_text.hpp"
#include "reports/reading_text.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

std::string with_unit(const Guess& guess, const std::string& number) {
  return guess.unit.empty() ? number : number + " " + guess.unit;
}

std::string figure(const Guess& guess, double value) {
  return with_unit(guess, figure_number(value, guess.unit));
}

std::string figure_range(const Guess& guess, const Interval& range) {
  return with_unit(
      guess, figure_number(range.low, guess.unit) + "–" + figure_number(range.high, guess.unit));
}

}  // namespace

Table readings_table(const AuditReport& report) {
  Table table{"readings",
              "What the display shows, and what was expected",
              {{"reading", Align::left},
               {"by the list"},
               {"on the display"},
               {"corrected", Align::right, 2},
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
          value(reading.shown), value(fit.corrected), signed_number(fit.off_by, 1)}});
  }
  table.legend =
      "Off by: from what the list and all other readings expect, in standard errors; beyond 3 "
      "something is wrong.";
  return table;
}

Table figures_table(const AuditReport& report) {
  const bool corrected = !report.listed.readings.empty();
  Table table{"figures",
              corrected ? "The plan's figures, corrected" : "Guesses of the plan",
              {{"guess", Align::left}, {"key", Align::left, 2}, {"stated"}},
              {}};
  if (corrected) {
    table.columns.insert(
        table.columns.end(),
        {{"range before", Align::right, 1}, {"corrected"}, {"range now", Align::right, 1}});
    table.legend =
        "Range: it holds the figure in 95 of 100 cases. The other commands go by the corrected "
        "figures as long as the readings stand in the plan.";
  } else {
    table.columns.push_back({"range", Align::right, 1});
    table.legend =
        "Range: it holds the figure in 95 of 100 cases, by what [guesses] in the plan says or else "
        "what is usual: `dullspell keys guesses`.";
  }
  for (std::size_t i = 0; i < report.posterior.guesses.size(); ++i) {
    const Guess& guess = report.posterior.guesses[i];
    const GuessRanges ranges = ranges_of(report, i);
    TableRow row{{guess.name, guess.key, figure(guess, guess.value(report.listed)),
                  figure_range(guess, ranges.before)}};
    if (corrected) {
      row.cells.push_back(figure(guess, guess.value(report.corrected)));
      row.cells.push_back(figure_range(guess, ranges.now));
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

std::size_t number_to_take(const AuditReport& report, std::size_t next) {
  return report.listed.readings.size() + next + 1;
}

Table checklist_table(const AuditReport& report, Shown shown) {
  const auto room = [&](std::size_t width, const std::string& unit) {
    if (shown == Shown::on_page) return unit;
    return std::string(width, '_') + (unit.empty() ? "" : " " + unit);
  };
  Table table{
      "checklist",
      "To fill in at the display",
      {{"look", Align::left}, {"date"}, {"time"}, {"display shows"}, {"goes into", Align::left, 1}},
      {}};
  for (std::size_t i = 0; i < report.audit.next.size(); ++i) {
    for (const Look& look : looks_of(report.audit.next[i].reading, report.listed)) {
      table.rows.push_back({{fmt::format("{}: {}", number_to_take(report, i), look.name),
                             room(8, ""), room(6, ""), room(6, look.unit), look.keys}});
    }
  }
  table.legend =
      "Write date and time down too: they count as much as the figure. Where energy is read twice, "
      "the difference goes into the plan.";
  return table;
}

}  // namespace dullspell
