#include "reports/calendar_report.hpp"

#include <algorithm>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "reports/cautions.hpp"
#include "reports/number_text.hpp"
#include "reports/risk_summary_parts.hpp"
#include "reports/text_report.hpp"

namespace dullspell {
namespace {

using Weeks = std::vector<CalendarWeek>;

const Proportion& at_home(const CalendarWeek& week) {
  return week.risk.flat;
}

const Proportion& along(const CalendarWeek& week) {
  return week.risk.generator->flat;
}

template <class Test>
std::vector<bool> each(const Weeks& weeks, Test test) {
  std::vector<bool> out;
  for (const CalendarWeek& week : weeks) out.push_back(test(week));
  return out;
}

template <class Share>
std::vector<bool> holding(const CalendarReport& report, Share share) {
  return each(report.weeks, [&](const CalendarWeek& week) {
    return standing(share(week), report.plan.accept_risk) == RiskStanding::within;
  });
}

std::size_t count(const std::vector<bool>& holds) {
  return static_cast<std::size_t>(std::count(holds.begin(), holds.end(), true));
}

// "Fri 21 May" without its weekday, which all weeks share.
std::string day_name(Date date) {
  return short_date(date).substr(4);
}

std::string weeks_text(std::size_t weeks) {
  return fmt::format("{} week{}", weeks, weeks == 1 ? "" : "s");
}

std::string run_text(const Weeks& weeks, const RingRun& run) {
  if (run.count == 1) return fmt::format("around {}", day_name(weeks[run.first].arrive));
  return fmt::format("between {} and {} ({})", day_name(weeks[run.first].arrive),
                     day_name(weeks[run.last].arrive), weeks_text(run.count));
}

// "when you arrive between 15 Apr and 2 Sep (20 weeks)".
std::string season_text(const Weeks& weeks, const std::vector<bool>& holds) {
  constexpr std::size_t kNamed = 3;
  const std::size_t all = count(holds);
  if (all == 0) return "in no week of the year";
  if (all == weeks.size()) return "in every week of the year";
  std::vector<RingRun> runs = runs_of_ring(holds);
  std::stable_sort(runs.begin(), runs.end(),
                   [](const RingRun& a, const RingRun& b) { return a.count > b.count; });
  std::size_t unnamed = 0;
  for (std::size_t i = kNamed; i < runs.size(); ++i) unnamed += runs[i].count;
  runs.resize(std::min(runs.size(), kNamed));
  std::sort(runs.begin(), runs.end(),
            [](const RingRun& a, const RingRun& b) { return a.first < b.first; });
  std::string out = "when you arrive ";
  for (const RingRun& run : runs) {
    out += fmt::format("{}{}", &run == &runs.front() ? "" : ", or ", run_text(weeks, run));
  }
  return out + (unnamed > 0 ? fmt::format(", or in {} more", weeks_text(unnamed)) : "");
}

// The week or weeks with the least or the greatest count.
std::string extreme_text(const Weeks& weeks, const char* word, std::uint64_t wanted) {
  const auto is_wanted = [&](const CalendarWeek& w) { return w.risk.flat.count == wanted; };
  const auto first = std::find_if(weeks.begin(), weeks.end(), is_wanted);
  const auto ties = std::count_if(weeks.begin(), weeks.end(), is_wanted);
  const std::string share = in_words(first->risk.flat);
  if (ties > 1) return fmt::format("the {} {} weeks: flat in {} each", word, ties, share);
  return fmt::format("the {} week is that of {}: flat in {}", word, day_name(first->arrive), share);
}

std::string extremes(const Weeks& weeks) {
  const auto [least, greatest] = std::minmax_element(
      weeks.begin(), weeks.end(),
      [](const auto& a, const auto& b) { return a.risk.flat.count < b.risk.flat.count; });
  if (least->risk.flat.count == greatest->risk.flat.count) {
    return fmt::format(" All weeks are alike: flat in {}.", in_words(least->risk.flat));
  }
  std::string worst = extreme_text(weeks, "worst", greatest->risk.flat.count);
  worst.front() = 'T';
  return fmt::format(" {}; {}.", worst, extreme_text(weeks, "best", least->risk.flat.count));
}

template <class Share>
std::string rest_text(const CalendarReport& report, const std::vector<bool>& holds, Share share) {
  const std::size_t rest = holds.size() - count(holds);
  if (rest == 0 || rest == holds.size()) return "";
  const std::size_t close = count(each(report.weeks, [&](const CalendarWeek& week) {
    return standing(share(week), report.plan.accept_risk) == RiskStanding::too_close;
  }));
  return fmt::format(
      "; {} the other {}{}", rest == close ? "too close to call in" : "not in", weeks_text(rest),
      close == 0 || rest == close ? "" : fmt::format(", {} of them too close to call", close));
}

std::string sure_text(const CalendarReport& report, const std::vector<bool>& holds) {
  const std::vector<bool> sure = each(report.weeks, [&](const CalendarWeek& week) {
    return week.risk.flat_climate && week.risk.flat_climate->high < report.plan.accept_risk;
  });
  if (sure == holds) return "";
  return fmt::format(" Even counting what the weather record cannot tell, it holds {}.",
                     season_text(report.weeks, sure));
}

void write_weeks(std::ostream& out, const CalendarReport& report) {
  const bool generator = report.plan.generator.has_value();
  const auto row = [&](char mark, std::string_view arrive, std::string_view holds,
                       std::string_view flat, std::string_view sampling, std::string_view climate,
                       std::string_view bar, std::string_view along_columns) {
    std::string line =
        fmt::format("{} {}{}{}  {}{}{}{}", mark, left_aligned(arrive, 10), right_aligned(holds, 6),
                    right_aligned(flat, 7), left_aligned(sampling, 15), left_aligned(climate, 15),
                    left_aligned(bar, 10), along_columns);
    line.erase(line.find_last_not_of(' ') + 1);
    fmt::print(out, "{}\n", line);
  };
  const auto along_columns = [](std::string_view even_so, std::string_view mean,
                                std::string_view p90) {
    return right_aligned(even_so, 10) + right_aligned(mean, 7) + right_aligned(p90, 8);
  };
  fmt::print(out, "\nBy week of arrival{}\n", generator ? ", generator left at home" : "");
  row(' ', "arrive", "holds", "flat", "sampling", "climate", "",
      generator ? along_columns("with gen", "hours", "1 in 10") : "");
  for (const CalendarWeek& week : report.weeks) {
    const RiskSummary& risk = week.risk;
    row(week.arrive == report.plan.arrive ? '>' : ' ', short_date(week.arrive),
        holds_word(standing(risk.flat, report.plan.accept_risk)), percent(risk.flat),
        percent_interval(risk.flat), climate_cell(risk.flat_climate), share_bar(risk.flat.p),
        risk.generator ? along_columns(percent(risk.generator->flat),
                                       fmt::format("{:.1f}", risk.generator->hours_mean),
                                       fmt::format("{:.1f}", risk.generator->hours_p90))
                       : "");
  }
  std::string legend = fmt::format(
      "> the plan's own week. holds: whether the risk is within the {} that you accept. sampling: "
      "95 % interval for this number of stays; climate: the same with what the place's record "
      "cannot tell. Bars: ten blocks are all stays.",
      accepted_text(report.plan.accept_risk));
  if (generator) {
    double widest = 0.0;
    for (const CalendarWeek& week : report.weeks) {
      widest = std::max(widest, along(week).interval.half_width());
    }
    legend += fmt::format(
        " With the generator along: stays that run flat even so ({}), and the hours it runs by its "
        "rule, on average and in one stay of ten.",
        widest_along_text(widest));
  }
  fmt::print(out, "{}", wrapped(legend, 92, 2));
}

std::vector<std::string> notes_of(const CalendarReport& report) {
  std::vector<std::string> notes = report.plan.notes;
  const bool snow =
      std::any_of(report.plan.camps.begin(), report.plan.camps.end(), [](const Camp& camp) {
        return std::any_of(
            camp.place.months.begin(), camp.place.months.end(),
            [](const auto& month) { return month.temp_mean_c.value_or(15.0) < 1.0; });
      });
  for (auto& note : survey_notes(snow && !report.plan.panels.empty())) notes.push_back(note);
  notes.push_back(
      "All weeks see the same draws of weather, each by its own season's statistics: they differ "
      "by less chance than their intervals suggest.");
  if (report.plan.summer_time) {
    notes.push_back(
        "summer_time = true is kept all year: where clocks go back, hours stated in the plan lie "
        "an hour earlier by the sun in winter.");
  }
  for (auto& note : place_notes(report.plan, report.units)) notes.push_back(std::move(note));
  return notes;
}

Json season_json(const Weeks& weeks, const std::vector<bool>& holds) {
  Json out = Json::array();
  for (const RingRun& run : runs_of_ring(holds)) {
    out.push_back({{"first_arrival", iso_date(weeks[run.first].arrive)},
                   {"last_arrival", iso_date(weeks[run.last].arrive)},
                   {"weeks", run.count}});
  }
  return out;
}

}  // namespace

std::string calendar_verdict(const CalendarReport& report) {
  const bool generator = report.plan.generator.has_value();
  const std::vector<bool> holds = holding(report, at_home);
  std::string text = fmt::format(
      "{} {}{}.", generator ? "Without its generator this stay holds" : "This stay holds",
      season_text(report.weeks, holds), rest_text(report, holds, at_home));
  text += fmt::format(" You accept {}.", accepted_text(report.plan.accept_risk));
  const auto own = std::find_if(report.weeks.begin(), report.weeks.end(), [&](const auto& week) {
    return week.arrive == report.plan.arrive;
  });
  text += fmt::format(" In the plan's own week it runs flat in {} ({}).", in_words(own->risk.flat),
                      percent_interval(own->risk.flat));
  text += extremes(report.weeks);
  text += sure_text(report, holds);
  if (generator) {
    const std::vector<bool> with = holding(report, along);
    text += fmt::format(" With the generator along, run by its rule, it holds {}{}.",
                        season_text(report.weeks, with), rest_text(report, with, along));
  }
  return text;
}

void write_calendar_text(std::ostream& out, const CalendarReport& report, TextStyle style) {
  TextWriter writer(out, style);
  write_plan_summary(writer, report.plan, prepare(report.plan));
  fmt::print(out, "\n{}", wrapped(calendar_verdict(report)));
  write_weeks(out, report);
  writer.list("What the figures rest on", notes_of(report));
  writer.list("Cautions", report_cautions(report.plan));
  fmt::print(out, "\n{}\n", survey_footer(report.options));
}

void write_calendar_json(std::ostream& out, const CalendarReport& report,
                         std::string_view program) {
  Json json = survey_head_json("dullspell.calendar/1", program, report.options, report.plan);
  json["verdict"] = calendar_verdict(report);
  json["season"] = season_json(report.weeks, holding(report, at_home));
  json["season_with_generator"] =
      report.plan.generator ? season_json(report.weeks, holding(report, along)) : Json(nullptr);
  json["weeks"] = Json::array();
  for (const CalendarWeek& week : report.weeks) {
    Json entry = {{"arrive", iso_date(week.arrive)}};
    entry.update(risk_summary_json(week.risk, report.plan.accept_risk));
    json["weeks"].push_back(std::move(entry));
  }
  json["notes"] = notes_of(report);
  json["cautions"] = report_cautions(report.plan);
  write_json(out, json);
}

void write_calendar_csv(std::ostream& out, const CalendarReport& report) {
  fmt::print(out, "arrive{}\n", risk_summary_columns());
  for (const CalendarWeek& week : report.weeks) {
    fmt::print(out, "{}{}\n", iso_date(week.arrive),
               risk_summary_cells(week.risk, report.plan.accept_risk));
  }
}

}  // namespace dullspell
