#pragma once

#include <cstddef>
#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "engine/decisions/calendar_survey.hpp"
#include "reports/json_parts.hpp"
#include "reports/number_text.hpp"
#include "reports/table.hpp"
#include "reports/text_writer.hpp"

namespace dullspell {

/// Everything that a report of `dullspell calendar` is made from.
struct CalendarReport {
  const Plan& plan;
  const std::vector<CalendarWeek>& weeks;
  const OutcomeOptions& options;
  Units units = Units::metric;  ///< of its texts
};

/// The season in which the plan holds, in sentences that a camper would say.
std::string calendar_verdict(const CalendarReport& report);
/// Plain where it holds in some weeks only.
Tone calendar_tone(const CalendarReport& report);

enum class Kit { at_home, generator_along };  ///< where the generator is

/// Which weeks hold at the accepted risk. The plan has a generator if it is to be along.
std::vector<bool> weeks_that_hold(const CalendarReport& report, Kit kit);

/// "when you arrive between 15 Apr and 2 Sep (20 weeks)", "in no week of the year".
std::string season_text(const std::vector<CalendarWeek>& weeks, const std::vector<bool>& holds);

/// Index of the week in which the plan itself arrives.
std::size_t own_week(const CalendarReport& report);

/// "Fri 21 May" without its weekday, which all weeks share.
std::string day_name(Date date);
/// The same as the name of a row, with a mark for the plan's own week.
std::string week_cell(const CalendarReport& report, const CalendarWeek& week);

/// A row a week.
Table weeks_table(const CalendarReport& report);

std::vector<std::string> calendar_notes(const CalendarReport& report);

/// For people.
void write_calendar_text(std::ostream& out, const CalendarReport& report, TextStyle style = {});

/// Format "dullspell.calendar/1": every week, and the seasons as stretches of weeks that may run
/// over the new year.
Json calendar_json(const CalendarReport& report, std::string_view program);
void write_calendar_json(std::ostream& out, const CalendarReport& report, std::string_view program);

/// A line a week.
void write_calendar_csv(std::ostream& out, const CalendarReport& report);

}  // namespace dullspell
