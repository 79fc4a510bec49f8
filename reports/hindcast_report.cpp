#include "reports/hindcast_report.hpp"

#include <algorithm>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "reports/number_text.hpp"
#include "reports/text_report.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kWidth = 92;

std::string record_name(const WeatherRecord& record) {
  return record.name.empty() ? record.file : record.name;
}

std::string years_text(const HindcastResult& past) {
  const int first = past.years.front().year, last = past.years.back().year;
  return first == last ? fmt::format("{}", first) : fmt::format("{}–{}", first, last);
}

std::string window_text(const HindcastResult& past) {
  if (past.window_days == 0) return "begun on the plan's date";
  return fmt::format("begun up to {} days before or after the plan's date", past.window_days);
}

// Years carry the doubt, not periods: no more digits than tell a rare thing from none.
std::string percent(const YearsShare& share) {
  return share.count > 0 && share.p < 0.01 ? fmt::format("{:.1f} %", 100.0 * share.p)
                                           : whole_percent(share.p);
}

// Worst first: most periods flat, then most energy missing.
std::vector<PastYear> by_harm(std::vector<PastYear> years) {
  std::stable_sort(years.begin(), years.end(), [](const PastYear& a, const PastYear& b) {
    const double share_a = static_cast<double>(a.flat) / a.periods;
    const double share_b = static_cast<double>(b.flat) / b.periods;
    return share_a != share_b ? share_a > share_b : a.shortfall_wh > b.shortfall_wh;
  });
  return years;
}

std::string agreement(const HindcastReport& report) {
  if (report.past.record.typical_year) {
    return "A typical year is no past year: this says next to nothing.";
  }
  const Interval& measured = report.past.result.flat.interval;
  const Interval predicted =
      report.predicted.home.flat_climate.value_or(report.predicted.home.flat.interval);
  if (predicted.low <= measured.high && measured.low <= predicted.high) {
    return "The two agree within what either can tell.";
  }
  return fmt::format(
      "The two disagree: past years were {} than the model says. The plan's place may be wrong for "
      "the camp, or the record for either; trust the nearer and longer of the two.",
      measured.high < predicted.low ? "kinder" : "harsher");
}

void write_days(std::ostream& out, const HindcastReport& report) {
  const auto row = [&](std::string_view date, std::string_view past, std::string_view interval,
                       std::string_view model, std::string_view climate) {
    fmt::print(out, "  {}{}  {}{}  {}\n", left_aligned(date, 12), right_aligned(past, 12),
               left_aligned(interval, 16), right_aligned(model, 12), climate);
  };
  fmt::print(out, "\nFlat by then{}\n", report.plan.generator ? ", generator left at home" : "");
  row("date", "past years", "95 % interval", "the model", "climate interval");
  for (std::size_t d = 0; d < report.prepared.dates.size(); ++d) {
    const YearsShare& past = report.past.result.flat_by_day[d];
    const DayRisk& model = report.predicted.home.days[d];
    row(short_date(model.date), percent(past), percent_interval(past.interval),
        percent(model.flat_by_day),
        model.flat_by_day_climate ? percent_interval(*model.flat_by_day_climate) : "–");
  }
}

void write_years(std::ostream& out, const HindcastReport& report) {
  constexpr std::size_t kShown = 5;
  const HindcastResult& past = report.past.result;
  const auto never = std::count_if(past.years.begin(), past.years.end(),
                                   [](const PastYear& year) { return year.flat == 0; });
  fmt::print(out, "\nWorst years\n");
  std::size_t shown = 0;
  if (past.flat.count == 0) fmt::print(out, "  none\n");
  for (const PastYear& year : by_harm(past.years)) {
    if (year.flat == 0 || shown++ == kShown) break;
    fmt::print(out,
               "  {}  flat in {} of {} periods, at the earliest on {}; {} missing on average\n",
               year.year, year.flat, year.periods,
               short_date(report.prepared.dates[static_cast<std::size_t>(*year.first_flat_day)]),
               energy(year.shortfall_wh));
  }
  fmt::print(out, "  In {} of {} years the battery never ran flat.\n", never, past.years.size());
}

void write_generator(std::ostream& out, const HindcastReport& report) {
  const HindcastResult& past = report.past.result;
  if (!past.flat_along || !report.predicted.generator) return;
  const GeneratorResult& model = *report.predicted.generator;
  fmt::print(out, "\nGenerator along\n");
  const auto row = [&](std::string_view name, std::string_view a, std::string_view b) {
    fmt::print(out, "  {}{}{}\n", left_aligned(name, 40), right_aligned(a, 20),
               right_aligned(b, 20));
  };
  row("", "past years", "the model");
  row("flat even so",
      fmt::format("{} ({})", percent(*past.flat_along),
                  percent_interval(past.flat_along->interval)),
      fmt::format("{} ({})", percent(model.risk.flat), percent_interval(model.risk.flat)));
  row("hours it runs, middle case", fmt::format("{:.1f}", past.generator_h->p50),
      fmt::format("{:.1f}", model.hours.p50));
  row("hours it runs, 1 in 10", fmt::format("{:.1f}", past.generator_h->p90),
      fmt::format("{:.1f}", model.hours.p90));
}

std::vector<std::string> notes_of(const HindcastReport& report) {
  const WeatherRecord& record = report.past.record;
  const HindcastResult& past = report.past.result;
  std::vector<std::string> notes;
  notes.push_back(
      fmt::format("Record: {}, {} days; {} periods of {} years ({}), {}. Periods overlap and share "
                  "their year's weather, so the interval counts years.",
                  record_name(record), grouped(record.days.size()), grouped(past.flat.periods),
                  past.flat.years, years_text(past), window_text(past)));
  if (record.typical_year) {
    notes.push_back(
        "The record is a typical year: months of different years put together. It did "
        "not happen so, and leaves the odd years out.");
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
  const double distance =
      record.where ? distance_km(*record.where, report.plan.camps.front().where) : 0.0;
  if (distance >= 1.0) {
    notes.push_back(
        fmt::format("The record was measured {:.0f} km from the first camp.", distance));
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

}  // namespace

std::string finding_text(const RecordFinding& finding) {
  return fmt::format("In the record: {} {}{}.", grouped(static_cast<std::uint64_t>(finding.count)),
                     finding.what,
                     finding.line > 0 ? fmt::format(" (first in line {})", finding.line) : "");
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

Json past_years_json(const PastReport& past, const PreparedPlan& prepared) {
  const HindcastResult& result = past.result;
  Json days = Json::array(), years = Json::array();
  for (std::size_t d = 0; d < result.flat_by_day.size(); ++d) {
    days.push_back({{"day", prepared.first_day + static_cast<int>(d) + 1},
                    {"date", iso_date(prepared.dates[d])},
                    {"flat_by_day", share(result.flat_by_day[d])}});
  }
  for (const PastYear& year : result.years) {
    Json first = nullptr;
    if (year.first_flat_day) first = prepared.first_day + *year.first_flat_day + 1;
    years.push_back({{"year", year.year},
                     {"periods", year.periods},
                     {"flat", year.flat},
                     {"flat_along", result.flat_along ? Json(year.flat_along) : Json(nullptr)},
                     {"shortfall_wh", year.shortfall_wh},
                     {"first_flat_day", first}});
  }
  Json findings = Json::array();
  for (const RecordFinding& finding : past.record.findings) {
    findings.push_back({{"what", finding.what}, {"count", finding.count}, {"line", finding.line}});
  }
  return {{"record", record_name(past.record)},
          {"file", past.record.file},
          {"typical_year", past.record.typical_year},
          {"window_days", result.window_days},
          {"periods", result.flat.periods},
          {"periods_left_out", result.periods_left_out},
          {"days_without_temperature", result.days_without_temperature},
          {"flat", share(result.flat)},
          {"flat_along", result.flat_along ? share(*result.flat_along) : Json(nullptr)},
          {"generator_hours", result.generator_h ? spread(*result.generator_h) : Json(nullptr)},
          {"days", days},
          {"years", years},
          {"findings", findings}};
}

void write_hindcast_text(std::ostream& out, const HindcastReport& report, TextStyle style) {
  TextWriter writer(out, style);
  const HindcastResult& past = report.past.result;
  write_plan_summary(writer, report.plan, report.prepared);
  const Proportion& model = report.predicted.home.flat;
  std::string text = past_years_sentence(report.past);
  text += fmt::format(" The model says {} (sampling {}", percent(model), percent_interval(model));
  if (report.predicted.home.flat_climate) {
    text += fmt::format(", climate {}", percent_interval(*report.predicted.home.flat_climate));
  }
  text += "). " + agreement(report);
  fmt::print(out, "\n{}", wrapped(text, kWidth));
  write_days(out, report);
  write_years(out, report);
  write_generator(out, report);
  writer.list("What the figures rest on", notes_of(report));
  fmt::print(out, "\n{} periods of {} years against {} stays, seed {}. Intervals are 95 %.\n",
             grouped(past.flat.periods), past.flat.years, grouped(report.predicted.stays),
             report.predicted.seed);
}

void write_hindcast_json(std::ostream& out, const HindcastReport& report,
                         std::string_view program) {
  const StudyResult& predicted = report.predicted;
  Json days = Json::array();
  for (const DayRisk& day : predicted.home.days) {
    days.push_back({{"day", day.day},
                    {"date", iso_date(day.date)},
                    {"flat_by_day", share(day.flat_by_day, day.flat_by_day_climate)}});
  }
  const Json along = predicted.generator ? share(predicted.generator->risk.flat,
                                                 predicted.generator->risk.flat_climate)
                                         : Json(nullptr);
  write_json(out, {{"format", "dullspell.hindcast/1"},
                   {"program", program},
                   {"plan_title", report.plan.title},
                   {"past_years", past_years_json(report.past, report.prepared)},
                   {"model",
                    {{"seed", predicted.seed},
                     {"stays", predicted.stays},
                     {"flat", share(predicted.home.flat, predicted.home.flat_climate)},
                     {"flat_along", along},
                     {"days", days}}},
                   {"agreement", agreement(report)},
                   {"notes", notes_of(report)}});
}

}  // namespace dullspell
