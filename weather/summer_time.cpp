#include "weather/summer_time.hpp"

#include <algorithm>
#include <array>

#include "weather/input/parsed_number.hpp"

namespace dullspell {
namespace {

using namespace std::chrono;

constexpr std::array<std::string_view, 12> kMonths{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                   "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
constexpr std::array<std::string_view, 7> kWeekdays{"Sun", "Mon", "Tue", "Wed",
                                                    "Thu", "Fri", "Sat"};

template <std::size_t N>
std::optional<unsigned> index_of(const std::array<std::string_view, N>& words,
                                 std::string_view word) {
  const auto found = std::find(words.begin(), words.end(), word);
  if (found == words.end()) return std::nullopt;
  return static_cast<unsigned>(found - words.begin());
}

// "Mar Sun>=8"
std::optional<YearlyDate> parse_yearly(std::string_view text) {
  if (text.size() < 10 || text[3] != ' ' || text.substr(7, 2) != ">=") return std::nullopt;
  const auto month_of_year = index_of(kMonths, text.substr(0, 3));
  const auto day_of_week = index_of(kWeekdays, text.substr(4, 3));
  const auto day_number = parsed_number(text.substr(9));
  if (!month_of_year || !day_of_week || !day_number) return std::nullopt;
  if (*day_number < 1.0 || *day_number > 31.0) return std::nullopt;
  return YearlyDate{month{*month_of_year + 1}, weekday{*day_of_week},
                    static_cast<unsigned>(*day_number)};
}

}  // namespace

Date YearlyDate::in(year y) const {
  const Date earliest{y / month / day{first_day}};
  return earliest + (weekday - std::chrono::weekday{earliest});
}

std::optional<SummerTime> SummerTime::parse(std::string_view text, double ahead_h) {
  SummerTime out;
  if (text.empty()) return out;
  out.ahead_h_ = ahead_h;
  if (const auto between = text.find(" .. "); between != std::string_view::npos) {
    const auto begin = parse_yearly(text.substr(0, between));
    const auto end = parse_yearly(text.substr(between + 4));
    if (!begin || !end) return std::nullopt;
    out.yearly_.emplace(*begin, *end);
    return out;
  }
  constexpr std::size_t kDate = 10, kSpan = 22;
  for (;; text.remove_prefix(kSpan + 1)) {
    if (text.size() < kSpan || text.substr(kDate, 2) != "..") return std::nullopt;
    const auto begin = parse_iso_date(text.substr(0, kDate));
    const auto end = parse_iso_date(text.substr(kDate + 2, kDate));
    if (!begin || !end) return std::nullopt;
    out.spans_.emplace_back(*begin, *end);
    if (text.size() == kSpan) return out;
    if (text[kSpan] != ' ') return std::nullopt;
  }
}

bool SummerTime::holds_on(Date date) const {
  if (yearly_) {
    const year y = year_month_day{date}.year();
    const Date begin = yearly_->first.in(y), end = yearly_->second.in(y);
    return begin < end ? begin <= date && date < end : date < end || begin <= date;
  }
  return std::any_of(spans_.begin(), spans_.end(),
                     [=](const auto& span) { return span.first <= date && date < span.second; });
}

std::optional<Date> SummerTime::change_between(Date first, Date last) const {
  for (Date date = first + days{1}; date <= last; date += days{1}) {
    if (holds_on(date) != holds_on(date - days{1})) return date;
  }
  return std::nullopt;
}

}  // namespace dullspell
