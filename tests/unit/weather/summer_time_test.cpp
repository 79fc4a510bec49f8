#include "weather/summer_time.hpp"

#include <catch2/catch.hpp>

using namespace dullspell;

namespace {

constexpr Coordinates kUtah{38.6, -109.5}, kAlps{46.9, 7.4}, kWellington{-41.3, 174.8};

}  // namespace

TEST_CASE("clocks change on the Sundays that law says") {
  // US: 14 March and 7 November 2027; EU: 28 March and 31 October 2027, by the rules in the header.
  const Date winter = make_date(2027, 1, 1), summer = make_date(2027, 6, 1),
             end = make_date(2027, 12, 31);
  CHECK(clock_change_between(winter, end, kUtah) == make_date(2027, 3, 14));
  CHECK(clock_change_between(summer, end, kUtah) == make_date(2027, 11, 7));
  CHECK(clock_change_between(winter, end, kAlps) == make_date(2027, 3, 28));
  CHECK(clock_change_between(summer, end, kAlps) == make_date(2027, 10, 31));
  CHECK_FALSE(clock_change_between(winter, end, kWellington));
}

TEST_CASE("a change counts from the day after arrival to that of departure, over a new year too") {
  const Date change = make_date(2027, 11, 7);
  CHECK_FALSE(clock_change_between(change, make_date(2027, 11, 15), kUtah));
  CHECK(clock_change_between(make_date(2027, 11, 5), change, kUtah) == change);
  CHECK_FALSE(clock_change_between(make_date(2027, 11, 1), make_date(2027, 11, 6), kUtah));
  CHECK(clock_change_between(make_date(2027, 11, 20), make_date(2028, 4, 1), kUtah) ==
        make_date(2028, 3, 12));
}
