#include "reports/shade_verdict.hpp"

#include <cmath>

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/note_text.hpp"
#include "reports/reading_text.hpp"
#include "reports/shade_tables.hpp"

namespace dullspell {
namespace {

std::string watts(double value) {
  return reading_value(ReadingKind::panels_w, value);
}

std::string clear_day_text(const Plan& plan, const ShadeTable& shade) {
  const Camp& camp = plan.camps[shade.camp];
  const std::string date = short_date(shade.date);
  const bool several = plan.camps.size() > 1;
  const std::string where =
      several ? fmt::format("At camp {} ({}) ", shade.camp + 1, camp.place.name) : "";
  if (shade.hours.empty()) {
    return where + fmt::format("{} sun does not rise on {}.", several ? "the" : "The", date);
  }
  const auto best = static_cast<std::size_t>(shade.best_hour);
  const ShadedDay& clear = shade.day(SkyWord::clear);
  const std::string begin =
      where + fmt::format("{} {} is clear the display should show {} from {} to {}",
                          several ? "if" : "If", date, watts(clear.here.watts[best]),
                          clock_text(60 * shade.best_hour), clock_text(60 * (shade.best_hour + 1)));
  if (!is_shaded(camp)) {
    return begin +
           " in the open: the plan states no shade there. If it shows less, `Watts by "
           "canopy` says which canopy that would be.";
  }
  return begin + fmt::format(" {}, {} in the open. Over that day shade takes {} of {} ({}).",
                             under_what(camp), watts(clear.open.watts[best]),
                             energy(clear.taken_wh()), energy(clear.open.energy_wh()),
                             whole_percent(clear.taken_share()));
}

std::string glance_text(const Reading& reading) {
  const SkyWord sky = std::get<SkyWord>(*reading.sky);
  return fmt::format("{} at {} on {}, {},", watts(reading.shown),
                     clock_text(reading.from.minute_of_day), short_date(reading.from.date),
                     sky == SkyWord::rain ? "in rain" : fmt::format("{} sky", to_string(sky)));
}

std::string range_text(const SeenCanopy& answer) {
  return fmt::format("{} to {}", canopy_text(answer.least), canopy_text(answer.most));
}

// By so little of all canopies that the hour tells something.
bool tells_much(const SeenCanopy& answer) {
  constexpr double kWide = 0.4;
  return answer.most - answer.least < kWide;
}

std::string above_open_text(const AnsweredGlance& seen) {
  const SeenCanopy& answer = seen.answer;
  const std::string begin = fmt::format(
      "{} is more than the plan makes it even without trees{}.", glance_text(seen.reading),
      answer.open_w > answer.here_w ? fmt::format(", {} in the open", watts(answer.open_w)) : "");
  if (!names_a_canopy(seen)) {
    return begin +
           " No canopy explains it: check the panels' `rated_w`, `losses` and `mount`, and "
           "the hour.";
  }
  return begin + " Such days differ by that much: it is next to no canopy" +
         (answer.most > 0.0 ? fmt::format(", up to {}.", canopy_text(answer.most)) : ".");
}

std::string answer_text(const ShadeReport& report, const AnsweredGlance& seen) {
  const SeenCanopy& answer = seen.answer;
  const Camp& camp = report.plan.camps[seen.reading.camp];
  const std::string begin = glance_text(seen.reading);
  const std::string by_plan =
      fmt::format("By the plan it would be {} {}{}.", watts(answer.here_w), under_what(camp),
                  is_shaded(camp) ? fmt::format(", {} in the open", watts(answer.open_w)) : "");
  const std::string range =
      fmt::format("Two times in three the canopy behind such a reading is {}.", range_text(answer));
  switch (answer.fit) {
    case SeenFit::above_open:
      return above_open_text(seen);
    case SeenFit::below_thickest:
      return fmt::format(
          "{} is less than even a canopy of {} leaves. {} Look first whether the battery was "
          "nearly full, a panel lay in a hard shadow or under dirt, or the hour is off.",
          begin, canopy_text(kMostCanopy), by_plan);
    case SeenFit::fits:
      break;
  }
  const std::string fits = agrees_with_plan(seen) ? ", which agrees with the plan" : "";
  return fmt::format(
      "{} is what a canopy of {} leaves{}. {} {}{}", begin, canopy_text(answer.canopy), fits,
      by_plan, range,
      tells_much(answer) ? "" : " That is hardly an answer: look again at noon on a clear day.");
}

}  // namespace

bool agrees_with_plan(const AnsweredGlance& seen) {
  return std::abs(seen.reading.shown - seen.answer.here_w) <= seen.answer.doubt_w;
}

bool names_a_canopy(const AnsweredGlance& seen) {
  constexpr double kFarOff = 2.0;  // standard deviations
  const SeenCanopy& answer = seen.answer;
  switch (answer.fit) {
    case SeenFit::fits:
      return true;
    case SeenFit::above_open:
      return seen.reading.shown - kFarOff * answer.doubt_w <= answer.open_w;
    case SeenFit::below_thickest:
      return false;
  }
  return false;
}

std::string shade_verdict(const ShadeReport& report) {
  if (report.seen) return answer_text(report, *report.seen);
  return clear_day_text(report.plan, report.camps.front());
}

std::vector<std::string> shade_of_camps(const ShadeReport& report) {
  std::vector<std::string> out;
  for (std::size_t i = report.seen ? 0 : 1; i < report.camps.size(); ++i) {
    out.push_back(clear_day_text(report.plan, report.camps[i]));
  }
  return out;
}

std::vector<std::string> shade_notes(const ShadeReport& report) {
  std::vector<std::string> notes{
      "Watts are what comes from the panels: after their losses and the controllers' limits, as "
      "they are mounted, at the date's usual temperature, with a battery that takes all of it. "
      "`dullspell audit` holds readings against the same figures."};
  for (const ShadeTable& shade : report.camps) {
    std::string words;
    for (const ShadedDay& day : shade.days) {
      words += fmt::format("{}{} {:.2f}", words.empty() ? "" : ", ", to_string(day.sky), day.k);
    }
    notes.push_back(fmt::format(
        "Skies as the day's share of the light above the air, {}: {}. Common practice, no source.",
        when_and_where(report.plan, shade), words));
  }
  if (report.seen) {
    notes.emplace_back(
        "The range of canopies holds the display's own error, passing clouds, how clear such days "
        "are, and how far off the panels may be (`harvest` of [guesses]). It does not hold flecks "
        "of light and single dark crowns: several glances do.");
  }
  notes.emplace_back(
      "A canopy is the share of the sky straight above that crowns cover, the crowns being alike "
      "all around. A single row of trees or a slope to one side is a [[camp.skyline]].");
  const auto add = [&](const std::vector<std::string>& more) {
    notes.insert(notes.end(), more.begin(), more.end());
  };
  add(plan_note_texts(report.plan));
  add(place_notes(report.plan, report.units));
  return notes;
}

}  // namespace dullspell
