#include "reports/calendar_verdict.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "engine/plan/plan_clock.hpp"
#include "reports/cautions.hpp"
#include "reports/note_text.hpp"
#include "reports/number_text.hpp"
#include "reports/risk_summary_parts.hpp"

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

// Whose risk is asked about.
using Share = const Proportion& (*)(const CalendarWeek&);

std::vector<bool> standing_so(const CalendarReport& report, Share share, RiskStanding wanted) {
  return each(report.weeks, [&](const CalendarWeek& week) {
    return standing(share(week), report.plan.accept_risk) == wanted;
  });
}

std::size_t count(const std::vector<bool>& holds) {
  return static_cast<std::size_t>(std::count(holds.begin(), holds.end(), true));
}

std::string weeks_text(std::size_t weeks) {
  return fmt::format("{} week{}", weeks, weeks == 1 ? "" : "s");
}

std::string run_text(const Weeks& weeks, const RingRun& run) {
  if (run.count == 1) return fmt::format("around {}", day_name(weeks[run.first].arrive));
  return fmt::format("between {} and {} ({})", day_name(weeks[run.first].arrive),
                     day_name(weeks[run.last].arrive), weeks_text(run.count));
}

// Neighboring weeks that are judged as one, so that an odd month of a place's record does not make
// the worst week of a year.
constexpr std::size_t kPooled = 5;

struct PooledWeeks {
  Date middle{};
  Proportion flat{};
  Interval climate{};
};

PooledWeeks pooled_around(const Weeks& weeks, std::size_t middle) {
  PooledWeeks out{weeks[middle].arrive, {}, {0.0, 0.0}};
  std::uint64_t count = 0, trials = 0;
  for (std::size_t i = 0; i < kPooled; ++i) {
    const RiskSummary& risk = weeks[(middle + weeks.size() + i - kPooled / 2) % weeks.size()].risk;
    count += risk.flat.count;
    trials += risk.flat.trials;
    // Neighbors rest on the same months: their climates err together.
    const Interval climate = risk.flat_climate.value_or(risk.flat.interval);
    out.climate.low += climate.low / kPooled;
    out.climate.high += climate.high / kPooled;
  }
  out.flat = Proportion(count, trials);
  return out;
}

// Of weeks that are all alike, the one in the middle of their longest stretch.
PooledWeeks middle_of_those(const std::vector<PooledWeeks>& pooled, std::uint64_t count) {
  std::vector<bool> so;
  for (const PooledWeeks& weeks : pooled) so.push_back(weeks.flat.count == count);
  const std::vector<RingRun> runs = runs_of_ring(so);
  const auto longest = std::max_element(
      runs.begin(), runs.end(), [](const auto& a, const auto& b) { return a.count < b.count; });
  return pooled[(longest->first + longest->count / 2) % pooled.size()];
}

std::string pooled_text(const PooledWeeks& weeks) {
  return fmt::format("around {}: flat in {} of stays ({})", day_name(weeks.middle),
                     percent(weeks.flat), percent_interval(weeks.climate));
}

std::string extremes(const Weeks& weeks) {
  std::vector<PooledWeeks> pooled;
  for (std::size_t i = 0; i < weeks.size(); ++i) pooled.push_back(pooled_around(weeks, i));
  const auto [least, greatest] =
      std::minmax_element(pooled.begin(), pooled.end(),
                          [](const auto& a, const auto& b) { return a.flat.count < b.flat.count; });
  if (least->flat.count == greatest->flat.count) {
    return fmt::format(" All weeks are alike: flat in {}.", in_words(weeks.front().risk.flat));
  }
  return fmt::format(
      " The worst five weeks are those {}; the best those {}. In brackets: allowing for gaps in "
      "the "
      "weather record.",
      pooled_text(middle_of_those(pooled, greatest->flat.count)),
      pooled_text(middle_of_those(pooled, least->flat.count)));
}

std::string rest_text(const CalendarReport& report, const std::vector<bool>& holds, Share share) {
  const std::size_t rest = holds.size() - count(holds);
  if (rest == 0 || rest == holds.size()) return "";
  const std::size_t close = count(standing_so(report, share, RiskStanding::too_close));
  if (close == 0) return fmt::format("; not in the other {}", weeks_text(rest));
  if (rest == close)
    return fmt::format("; in the other {} it is too close to call", weeks_text(rest));
  return fmt::format("; not in {}, and in {} it is too close to call", weeks_text(rest - close),
                     weeks_text(close));
}

std::string sure_text(const CalendarReport& report, const std::vector<bool>& holds) {
  const std::vector<bool> sure = each(report.weeks, [&](const CalendarWeek& week) {
    return week.risk.flat_climate && week.risk.flat_climate->high < report.plan.accept_risk;
  });
  if (sure == holds) return "";
  if (count(sure) == 0) {
    return count(holds) == 0 ? ""
                             : " Allowing for gaps in the weather record, no week is sure to "
                               "work.";
  }
  return fmt::format(" Allowing for gaps in the weather record, it is sure to work {}.",
                     season_text(report.weeks, sure));
}

}  // namespace

std::string day_name(Date date) {
  return short_date(date).substr(4);
}

std::vector<bool> weeks_that_hold(const CalendarReport& report, Kit kit) {
  return standing_so(report, kit == Kit::at_home ? at_home : along, RiskStanding::within);
}

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

Tone calendar_tone(const CalendarReport& report) {
  const std::size_t holding = count(weeks_that_hold(report, Kit::at_home));
  if (holding == report.weeks.size()) return Tone::holds;
  if (holding > 0) return Tone::plain;
  const bool close = count(standing_so(report, at_home, RiskStanding::too_close)) > 0;
  return close ? Tone::close : Tone::fails;
}

std::string calendar_verdict(const CalendarReport& report) {
  const bool generator = report.plan.generator.has_value();
  const std::vector<bool> holds = weeks_that_hold(report, Kit::at_home);
  std::string text = fmt::format(
      "{} {}{}.", generator ? "Without its generator this stay works" : "This stay works",
      season_text(report.weeks, holds), rest_text(report, holds, at_home));
  text += fmt::format(" You accept {}.", accepted_text(report.plan.accept_risk));
  const Proportion& own = report.weeks[own_week(report)].risk.flat;
  text += fmt::format(" In the plan's own week it runs flat in {} ({}).", in_words(own),
                      percent_interval(own));
  text += extremes(report.weeks);
  text += sure_text(report, holds);
  if (generator) {
    const std::vector<bool> with = weeks_that_hold(report, Kit::generator_along);
    text += fmt::format(" With the generator along, run as planned, it works {}{}.",
                        season_text(report.weeks, with), rest_text(report, with, along));
  }
  return text;
}

std::size_t own_week(const CalendarReport& report) {
  const auto own = std::find_if(report.weeks.begin(), report.weeks.end(), [&](const auto& week) {
    return week.arrive == report.plan.arrive;
  });
  return static_cast<std::size_t>(own - report.weeks.begin());
}

std::string week_cell(const CalendarReport& report, const CalendarWeek& week) {
  return day_name(week.arrive) + (week.arrive == report.plan.arrive ? " *" : "");
}

std::vector<std::string> calendar_notes(const CalendarReport& report) {
  std::vector<std::string> notes = plan_note_texts(report.plan);
  const bool cold =
      std::any_of(report.plan.camps.begin(), report.plan.camps.end(), [](const Camp& camp) {
        return std::any_of(
            camp.place.months.begin(), camp.place.months.end(),
            [](const auto& month) { return month.temp_mean_c.value_or(15.0).value < 3.0; });
      });
  const Snow snow = cold && !report.plan.panels.empty() ? Snow::possible : Snow::never;
  for (auto& note : survey_notes(snow)) notes.push_back(std::move(note));
  notes.push_back(
      "All weeks see the same simulated weather, each by its own season's statistics: they differ "
      "by less chance than their intervals suggest.");
  const Camp& first = report.plan.camps.front();
  if (!report.plan.summer_time_stated) {
    const TimeZone* zone = zone_of(first);
    if (zone != nullptr && zone->summer.is_kept() && !first.utc_offset_stated) {
      notes.push_back(
          "Hours are by the clock of each week's arrival: where the first camp keeps summer time, "
          "they lie an hour earlier by the sun while it lasts.");
    }
  } else if (report.plan.summer_time) {
    notes.push_back(
        "summer_time = true is kept all year: where clocks go back, hours stated in the plan lie "
        "an hour earlier by the sun in winter.");
  }
  for (auto& note : place_notes(report.plan, report.units)) notes.push_back(std::move(note));
  return notes;
}

}  // namespace dullspell
