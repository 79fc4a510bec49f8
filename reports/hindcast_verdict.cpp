#include "reports/hindcast_verdict.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "reports/number_text.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

std::string years_text(const HindcastResult& past) {
  const int first = past.years.front().year, last = past.years.back().year;
  return first == last ? fmt::format("{}", first) : fmt::format("{}–{}", first, last);
}

std::string window_text(const HindcastResult& past) {
  if (past.window_days == 0) return "begun on the plan's date";
  return fmt::format("begun up to {} days before or after the plan's date", past.window_days);
}

const Interval& model_interval(const HindcastReport& report) {
  const TrackRisk& model = report.predicted.home;
  return model.flat_climate ? *model.flat_climate : model.flat.interval;
}

}  // namespace

std::string record_name(const WeatherRecord& record) {
  return record.name.empty() ? record.file : record.name;
}

std::string percent(const YearsShare& share) {
  return share.count > 0 && share.p < 0.01 ? fmt::format("{:.1f} %", 100.0 * share.p)
                                           : whole_percent(share.p);
}

std::string finding_text(const RecordFinding& finding) {
  return fmt::format("In the record: {} {}{}.", grouped(static_cast<std::uint64_t>(finding.count)),
                     finding.what,
                     finding.line > 0 ? fmt::format(" (first in line {})", finding.line) : "");
}

std::string agreement_text(const HindcastReport& report) {
  if (report.past.record.typical_year) {
    return "A typical year is no past year: this says next to nothing.";
  }
  constexpr int kFew = 3;
  if (report.past.result.flat.years < kFew && agree(report)) {
    return "So few years say next to nothing of the model.";
  }
  if (agree(report)) return "The two agree within what either can tell.";
  return fmt::format(
      "The two disagree: past years were {} than the model says. The plan's place may be wrong for "
      "the camp, or the record for either; trust the nearer and longer of the two.",
      report.past.result.flat.interval.high < model_interval(report).low ? "kinder" : "harsher");
}

std::string past_years_sentence(const PastReport& past) {
  const HindcastResult& result = past.result;
  return fmt::format(
      "{} ({}{}) the same stay{} would have run flat in {} of cases ({}): {} of {} periods {}.",
      past.record.typical_year ? "On the days of a typical year" : "In past years",
      record_name(past.record), past.record.typical_year ? "" : ", " + years_text(result),
      result.flat_along ? " without the generator" : "", percent(result.flat),
      percent_interval(result.flat.interval), grouped(result.flat.count),
      grouped(result.flat.periods), window_text(result));
}

bool agree(const HindcastReport& report) {
  const Interval& measured = report.past.result.flat.interval;
  const Interval& predicted = model_interval(report);
  return predicted.low <= measured.high && measured.low <= predicted.high;
}

std::string hindcast_verdict(const HindcastReport& report) {
  const HindcastResult& past = report.past.result;
  const TrackRisk& model = report.predicted.home;
  const bool typical = report.past.record.typical_year;
  std::string text = fmt::format(
      "{} this stay{} would have run flat in {} of cases ({}); the model says {} (sampling {}",
      typical ? "On the days of a typical year" : "In past years",
      past.flat_along ? " without the generator" : "", percent(past.flat),
      percent_interval(past.flat.interval), percent(model.flat), percent_interval(model.flat));
  if (model.flat_climate)
    text += fmt::format(", climate {}", percent_interval(*model.flat_climate));
  text += fmt::format("). {} You accept {}.", agreement_text(report),
                      accepted_text(report.plan.accept_risk));
  text += fmt::format(" In the record ({}{}) the battery ran flat in {} of {} periods, {}.",
                      record_name(report.past.record), typical ? "" : ", " + years_text(past),
                      grouped(past.flat.count), grouped(past.flat.periods), window_text(past));
  if (!report.past.record.where) {
    text +=
        fmt::format(" It does not say where it was measured: is it {}'s? Say so by --record-at.",
                    report.plan.camps.front().place.name);
  }
  return text;
}

Tone hindcast_tone(const HindcastReport& report) {
  const Interval& flat = report.past.result.flat.interval;
  const double accepted = report.plan.accept_risk;
  if (report.past.record.typical_year) return Tone::plain;
  if (flat.high < accepted) return Tone::holds;
  return flat.low > accepted ? Tone::fails : Tone::close;
}

std::string years_never_flat(const HindcastResult& past) {
  const auto never = std::count_if(past.years.begin(), past.years.end(),
                                   [](const PastYear& year) { return year.flat == 0; });
  return fmt::format("In {} of {} the battery never ran flat.", never,
                     counted(past.years.size(), "year"));
}

bool tells_generator(const HindcastReport& report) {
  return report.past.result.flat_along && report.predicted.generator;
}

std::vector<std::string> hindcast_notes(const HindcastReport& report) {
  const WeatherRecord& record = report.past.record;
  const HindcastResult& past = report.past.result;
  std::vector<std::string> notes;
  notes.push_back(fmt::format(
      "Record: {}, {} days; {} of {} ({}), {}. Periods overlap and share "
      "their year's weather, so the interval counts years.",
      record_name(record), grouped(record.days.size()), counted(past.flat.periods, "period"),
      counted(past.flat.years, "year"), years_text(past), window_text(past)));
  if (record.typical_year) {
    notes.push_back(
        "The record is a typical year: months of different years put together. It did "
        "not happen so, and hides unusual years.");
  }
  notes.push_back(
      "Past days give clearness and temperature; the sun's path is that of the plan's "
      "own dates.");
  const Place& place = report.plan.camps.front().place;
  if (place.record == RecordKind::measured && !record.typical_year) {
    notes.push_back(
        "If the plan's place was fitted to these very years, their agreement shows that weather is "
        "drawn as the years were, not that years to come will be like them.");
  }
  if (!record.where) {
    notes.push_back(
        "The record does not say where it was measured: it is taken to be at the plan's "
        "place (--record-at LAT,LON says otherwise).");
  }
  if (report.plan.camps.size() > 1) {
    notes.push_back("All camps of the plan get the weather of this one record.");
  }
  const auto away_km =
      record.where ? distances_to_camps_km(report.plan, *record.where) : std::vector<double>{};
  for (std::size_t camp = 0; camp < away_km.size(); ++camp) {
    if (away_km[camp] < 1.0) continue;
    notes.push_back(fmt::format("The record was measured {} from the {} camp.",
                                distance(away_km[camp], report.units),
                                ordinal(static_cast<int>(camp) + 1)));
  }
  if (past.periods_left_out > 0) {
    notes.push_back(fmt::format("{} periods left out: the record has gaps in them.",
                                grouped(static_cast<std::uint64_t>(past.periods_left_out))));
  }
  if (past.days_without_temperature > 0) {
    notes.push_back(
        fmt::format("{} days of these periods have no temperature in the record: they "
                    "get the plan's expected one.",
                    grouped(static_cast<std::uint64_t>(past.days_without_temperature))));
  }
  for (const RecordFinding& finding : record.findings) notes.push_back(finding_text(finding));
  return notes;
}

std::string hindcast_footer(const HindcastReport& report) {
  const YearsShare& past = report.past.result.flat;
  return fmt::format("{} of {} against {} stays, seed {}. Intervals are 95 %.",
                     counted(past.periods, "period"), counted(past.years, "year"),
                     grouped(report.predicted.stays), report.predicted.seed);
}

}  // namespace dullspell
