#include "weather/calendar.hpp"

#include <array>
#include <charconv>

#include <fmt/format.h>

namespace dullspell {
namespace {

constexpr std::array kMonths{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                             "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
constexpr std::array kWeekdays{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};

}  // namespace

Date make_date(int year, unsigned month, unsigned day) {
  return Date{std::chrono::year{year} / std::chrono::month{month} / std::chrono::day{day}};
}

int minutes_between(const LocalTime& from, const LocalTime& to) {
  return 1440 * static_cast<int>((to.date - from.date).count()) + to.minute_of_day -
         from.minute_of_day;
}

LocalTime later(LocalTime time, int minutes) {
  time.minute_of_day += minutes;
  if (time.minute_of_day >= 1440) {
    time.minute_of_day -= 1440;
    time.date += std::chrono::days{1};
  }
  return time;
}

int month_index(Date date) {
  return static_cast<int>(unsigned{std::chrono::year_month_day{date}.month()}) - 1;
}

int days_in_month(Date date) {
  const std::chrono::year_month_day ymd{date};
  return static_cast<int>(unsigned{(ymd.year() / ymd.month() / std::chrono::last).day()});
}

int day_of_month(Date date) {
  return static_cast<int>(unsigned{std::chrono::year_month_day{date}.day()});
}

int day_of_year(Date date) {
  const std::chrono::year_month_day ymd{date};
  return static_cast<int>((date - Date{ymd.year() / 1 / 1}).count()) + 1;
}

std::string month_name(int month) {
  return kMonths[static_cast<std::size_t>(month)];
}

std::string short_date(Date date) {
  return fmt::format("{} {} {}", kWeekdays[std::chrono::weekday{date}.c_encoding()],
                     day_of_month(date), month_name(month_index(date)));
}

std::string long_date(Date date) {
  return fmt::format("{} {}", short_date(date), int{std::chrono::year_month_day{date}.year()});
}

std::string iso_date(Date date) {
  const std::chrono::year_month_day ymd{date};
  return fmt::format("{:04}-{:02}-{:02}", int{ymd.year()}, unsigned{ymd.month()},
                     unsigned{ymd.day()});
}

std::string iso_time(const LocalTime& time) {
  return fmt::format("{}T{:02}:{:02}:00", iso_date(time.date), time.minute_of_day / 60,
                     time.minute_of_day % 60);
}

std::optional<Date> parse_iso_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const auto part = [&](std::size_t at, std::size_t length, auto& value) {
    const char* begin = text.data() + at;
    const auto [stop, error] = std::from_chars(begin, begin + length, value);
    return error == std::errc{} && stop == begin + length;
  };
  int year = 0;
  unsigned month = 0, day = 0;
  if (!part(0, 4, year) || !part(5, 2, month) || !part(8, 2, day)) return std::nullopt;
  const std::chrono::year_month_day ymd{std::chrono::year{year}, std::chrono::month{month},
                                        std::chrono::day{day}};
  return ymd.ok() ? std::optional(Date{ymd}) : std::nullopt;
}

Date in_year(Date date, int year) {
  const std::chrono::year_month_day ymd{date};
  const std::chrono::year_month_day moved{std::chrono::year{year}, ymd.month(), ymd.day()};
  return moved.ok() ? Date{moved} : Date{moved.year() / moved.month() / std::chrono::last};
}

}  // namespace dullspell
