#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "reports/calendar_report.hpp"
#include "reports/table.hpp"

namespace dullspell {

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

std::vector<std::string> calendar_notes(const CalendarReport& report);

}  // namespace dullspell
