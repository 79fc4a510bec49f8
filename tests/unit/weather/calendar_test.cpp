#include <catch2/catch.hpp>

#include "weather/calendar.hpp"

namespace dullspell {
namespace {

TEST_CASE("A date knows its month, its day and its place in the year") {
  const Date date = make_date(2027, 5, 21);
  CHECK(month_index(date) == 4);
  CHECK(day_of_month(date) == 21);
  CHECK(day_of_year(date) == 141);
  CHECK(days_in_month(date) == 31);
}

TEST_CASE("Leap years have a 29 February and a 366th day") {
  CHECK(days_in_month(make_date(2028, 2, 1)) == 29);
  CHECK(days_in_month(make_date(2027, 2, 1)) == 28);
  CHECK(days_in_month(make_date(2100, 2, 1)) == 28);
  CHECK(day_of_year(make_date(2028, 12, 31)) == 366);
  CHECK(day_of_year(make_date(2027, 12, 31)) == 365);
  CHECK(day_of_year(make_date(2027, 1, 1)) == 1);
  CHECK(make_date(2028, 2, 28) + std::chrono::days{2} == make_date(2028, 3, 1));
}

TEST_CASE("A date in another year keeps month and day, but for a leap day") {
  CHECK(in_year(make_date(2027, 5, 21), 1999) == make_date(1999, 5, 21));
  CHECK(in_year(make_date(2028, 2, 29), 2032) == make_date(2032, 2, 29));
  CHECK(in_year(make_date(2028, 2, 29), 2027) == make_date(2027, 2, 28));
  CHECK(in_year(make_date(2028, 2, 29), 2100) == make_date(2100, 2, 28));
  CHECK(in_year(make_date(2027, 2, 28), 2028) == make_date(2028, 2, 28));
  CHECK(in_year(make_date(2027, 12, 31), 2028) == make_date(2028, 12, 31));
}

TEST_CASE("Dates are written for people and for programs") {
  const Date date = make_date(2027, 5, 21);  // a Friday
  CHECK(long_date(date) == "Fri 21 May 2027");
  CHECK(short_date(date) == "Fri 21 May");
  CHECK(iso_date(date) == "2027-05-21");
  CHECK(iso_date(make_date(987, 1, 2)) == "0987-01-02");
  CHECK(short_date(make_date(2028, 2, 29)) == "Tue 29 Feb");
}

TEST_CASE("Every month and weekday has its name") {
  const char* const months[]{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                             "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  for (unsigned m = 1; m <= 12; ++m) {
    CHECK(short_date(make_date(2027, m, 9)).substr(6) == months[m - 1]);
  }
  const char* const week[]{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
  for (unsigned d = 0; d < 7; ++d) {
    CHECK(short_date(make_date(2027, 3, 1 + d)).substr(0, 3) == week[d]);  // 1 March is a Monday
  }
}

}  // namespace
}  // namespace dullspell
