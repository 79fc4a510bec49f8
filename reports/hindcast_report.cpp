#include "reports/hindcast_report.hpp"

#include <algorithm>
#include <ostream>

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/number_text.hpp"
#include "reports/run_tables.hpp"
#include "reports/text_report.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

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

const Interval& model_interval(const HindcastReport& report) {
  const TrackRisk& model = report.predicted.home;
  return model.flat_climate ? *model.flat_climate : model.flat.interval;
}

std::string agreement(const HindcastReport& report) {
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
  text += fmt::format("). {} You accept {}.", agreement(report),
                      accepted_text(report.plan.accept_risk));
  text += fmt::format(" The record ({}{}) holds {} of {} periods flat, {}.",
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

Table past_days_table(const HindcastReport& report) {
  Table table{
      "days",
      fmt::format("Flat by then{}", report.plan.generator ? ", generator left at home" : ""),
      {{"date", Align::left},
       {"past years"},
       {"95 % interval", Align::left},
       {"the model", Align::right, 1},
       {"climate interval", Align::left, 2}},
      {}};
  table.bars_legend = "Bars: past years, and in light how far their interval reaches.";
  for (std::size_t d = 0; d < report.prepared.dates.size(); ++d) {
    const YearsShare& past = report.past.result.flat_by_day[d];
    const DayRisk& model = report.predicted.home.days[d];
    table.rows.push_back({{short_date(model.date), percent(past), percent_interval(past.interval),
                           percent(model.flat_by_day), climate_cell(model.flat_by_day_climate)},
                          ShareBar{past.p, past.interval.high}});
  }
  return table;
}

std::vector<PastYear> worst_years(const HindcastResult& past, std::size_t most) {
  std::vector<PastYear> years = by_harm(past.years);
  std::erase_if(years, [](const PastYear& year) { return year.flat == 0; });
  years.resize(std::min(years.size(), most));
  return years;
}

Table years_table(const HindcastReport& report, const std::vector<PastYear>& years) {
  Table table{"years",
              "Year by year",
              {{"year", Align::left},
               {"periods flat"},
               {"of them", Align::right, 1},
               {"share", Align::right, 3},
               {"at the earliest", Align::left, 2},
               {"missing on average", Align::right, 4}},
              {}};
  for (const PastYear& year : years) {
    const double share = static_cast<double>(year.flat) / year.periods;
    const auto& first = year.first_flat_day;
    table.rows.push_back(
        {{fmt::format("{}", year.year), fmt::format("{}", year.flat),
          fmt::format("of {}", year.periods), whole_percent(share),
          first ? short_date(report.prepared.dates[static_cast<std::size_t>(*first)]) : "–",
          energy(year.shortfall_wh)},
         ShareBar{share, share}});
  }
  return table;
}

std::string years_never_flat(const HindcastResult& past) {
  const auto never = std::count_if(past.years.begin(), past.years.end(),
                                   [](const PastYear& year) { return year.flat == 0; });
  return fmt::format("In {} of {} the battery never ran flat.", never,
                     counted(past.years.size(), "year"));
}

Table past_generator_table(const HindcastReport& report) {
  const HindcastResult& past = report.past.result;
  const GeneratorResult& model = *report.predicted.generator;
  const auto hours = [](double h) { return fmt::format("{:.1f}", h); };
  return {"along",
          "Generator along",
          {{"what", Align::left}, {"past years"}, {"the model", Align::right, 1}},
          {{{"flat even so", percent(*past.flat_along), percent(model.risk.flat)}},
           {{"its 95 % interval", percent_interval(past.flat_along->interval),
             percent_interval(model.risk.flat)}},
           {{"its climate interval", "–", climate_cell(model.risk.flat_climate)}},
           {{"hours it runs, on average", hours(past.generator_h->mean), hours(model.hours.mean)}},
           {{"hours it runs, middle case", hours(past.generator_h->p50), hours(model.hours.p50)}},
           {{"hours it runs, 1 in 10", hours(past.generator_h->p90), hours(model.hours.p90)}}}};
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

std::string hindcast_footer(const HindcastReport& report) {
  const YearsShare& past = report.past.result.flat;
  return fmt::format("{} of {} against {} stays, seed {}. Intervals are 95 %.",
                     counted(past.periods, "period"), counted(past.years, "year"),
                     grouped(report.predicted.stays), report.predicted.seed);
}

void write_hindcast_text(std::ostream& out, const HindcastReport& report, TextStyle style) {
  TextWriter writer(out, style);
  const HindcastResult& past = report.past.result;
  write_plan_summary(writer, report.plan, report.prepared, report.units);
  writer.verdict(hindcast_verdict(report), hindcast_tone(report));
  writer.table(past_days_table(report));
  constexpr std::size_t kShown = 5;
  Table years = years_table(report, worst_years(past, kShown));
  if (!years.rows.empty()) {
    years.title = "Worst years";
    writer.table(years);
    writer.paragraph(years_never_flat(past), 2);
  } else {
    writer.heading(years_never_flat(past));
  }
  if (tells_generator(report)) writer.table(past_generator_table(report));
  writer.list("What the figures rest on", hindcast_notes(report));
  writer.list("Cautions", report_cautions(report.plan));
  writer.footer(hindcast_footer(report));
}

Json hindcast_json(const HindcastReport& report, std::string_view program) {
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
  return {{"format", "dullspell.hindcast/1"},
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
          {"notes", hindcast_notes(report)}};
}

void write_hindcast_json(std::ostream& out, const HindcastReport& report,
                         std::string_view program) {
  write_json(out, hindcast_json(report, program));
}

}  // namespace dullspell
