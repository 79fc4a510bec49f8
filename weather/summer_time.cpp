#include "weather/summer_time.hpp"

#include <array>
#include <chrono>

namespace dullspell {
namespace {

using namespace std::chrono;

bool in_north_america(const Coordinates& at) {
  return at.longitude_deg > -140.0 && at.longitude_deg < -50.0 && at.latitude_deg > 24.0 &&
         at.latitude_deg < 70.0;
}

bool in_europe(const Coordinates& at) {
  return at.longitude_deg > -25.0 && at.longitude_deg < 40.0 && at.latitude_deg > 35.0 &&
         at.latitude_deg < 72.0;
}

year year_of(Date date) {
  return year_month_day{date}.year();
}

}  // namespace

std::optional<Date> clock_change_between(Date first, Date last, const Coordinates& where) {
  const bool america = in_north_america(where);
  if (!america && !in_europe(where)) return std::nullopt;
  for (year y = year_of(first); y <= year_of(last); ++y) {
    const std::array changes =
        america ? std::array{Date{y / March / Sunday[2]}, Date{y / November / Sunday[1]}}
                : std::array{Date{y / March / Sunday[std::chrono::last]},
                             Date{y / October / Sunday[std::chrono::last]}};
    for (const Date change : changes) {
      if (first < change && change <= last) return change;
    }
  }
  return std::nullopt;
}

}  // namespace dullspell
