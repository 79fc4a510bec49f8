#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace dullspell {

using Date = std::chrono::sys_days;

Date make_date(int year, unsigned month, unsigned day);

/// A clock time on a date, without a zone.
struct LocalTime {
  Date date;
  int minute_of_day = 0;
};

/// From one time to another on the same clock.
int minutes_between(const LocalTime& from, const LocalTime& to);

/// So many minutes later, less than a day's.
LocalTime later(LocalTime time, int minutes);

/// Month of the year as 0..11, the index of all monthly arrays.
int month_index(Date date);

/// The same month and day in another year; 29 February becomes the 28th where there is none.
Date in_year(Date date, int year);

/// Days in the calendar month that holds `date`.
int days_in_month(Date date);

/// Day of the month, 1..31.
int day_of_month(Date date);

/// 1..366.
int day_of_year(Date date);

/// "Fri 21 May 2027".
std::string long_date(Date date);

/// "Fri 21 May".
std::string short_date(Date date);

/// "Jan" for 0.
std::string month_name(int month);

/// "2027-05-21".
std::string iso_date(Date date);

/// The date of such a text; nothing for another form or a date that does not exist.
std::optional<Date> parse_iso_date(std::string_view text);

/// "2027-05-21T15:30:00".
std::string iso_time(const LocalTime& time);

}  // namespace dullspell
