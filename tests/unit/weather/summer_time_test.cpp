#include "weather/summer_time.hpp"

#include <catch2/catch.hpp>

using namespace dullspell;

namespace {

// US Energy Policy Act of 2005, section 110: second Sunday of March, first of November. Directive
// 2000/84/EC: last Sundays of March and October. New South Wales, Standard Time Act 1987: first
// Sundays of October and April.
constexpr const char* kUs = "Mar Sun>=8 .. Nov Sun>=1";
constexpr const char* kEu = "Mar Sun>=25 .. Oct Sun>=25";
constexpr const char* kNewSouthWales = "Oct Sun>=1 .. Apr Sun>=1";

SummerTime summer(const char* text, double ahead_h = 1.0) {
  return SummerTime::parse(text, ahead_h).value();
}

}  // namespace

TEST_CASE("clocks change on the Sundays that law says") {
  // 2027: US 14 March and 7 November, EU 28 March and 31 October, New South Wales 4 April and 3
  // October, by a calendar.
  const Date winter = make_date(2027, 1, 1), july = make_date(2027, 7, 1),
             end = make_date(2027, 12, 31);
  CHECK(summer(kUs).change_between(winter, end) == make_date(2027, 3, 14));
  CHECK(summer(kUs).change_between(july, end) == make_date(2027, 11, 7));
  CHECK(summer(kEu).change_between(winter, end) == make_date(2027, 3, 28));
  CHECK(summer(kEu).change_between(july, end) == make_date(2027, 10, 31));
  CHECK(summer(kNewSouthWales).change_between(winter, end) == make_date(2027, 4, 4));
  CHECK(summer(kNewSouthWales).change_between(july, end) == make_date(2027, 10, 3));
  CHECK_FALSE(SummerTime().change_between(winter, end));
  CHECK_FALSE(SummerTime().is_kept());
}

TEST_CASE("summer time begins on its first date and is over on that of its end") {
  const SummerTime us = summer(kUs);
  CHECK(us.ahead_h(make_date(2027, 3, 13)) == 0.0);
  CHECK(us.ahead_h(make_date(2027, 3, 14)) == 1.0);
  CHECK(us.ahead_h(make_date(2027, 11, 6)) == 1.0);
  CHECK(us.ahead_h(make_date(2027, 11, 7)) == 0.0);
  // The latest such Sundays: 14 March 2032 is the second, 1 November 2026 the first.
  CHECK(us.ahead_h(make_date(2026, 10, 31)) == 1.0);
  CHECK(us.ahead_h(make_date(2026, 11, 1)) == 0.0);
}

TEST_CASE("south of the equator summer time runs over the new year") {
  const SummerTime lord_howe = summer(kNewSouthWales, 0.5);
  CHECK(lord_howe.ahead_h(make_date(2027, 1, 1)) == 0.5);
  CHECK(lord_howe.ahead_h(make_date(2027, 4, 3)) == 0.5);
  CHECK(lord_howe.ahead_h(make_date(2027, 4, 4)) == 0.0);
  CHECK(lord_howe.ahead_h(make_date(2027, 10, 2)) == 0.0);
  CHECK(lord_howe.ahead_h(make_date(2027, 12, 31)) == 0.5);
}

TEST_CASE("summer time may be told by its dates") {
  const SummerTime spans = summer("2027-03-27..2027-10-30 2028-03-25..2028-10-28");
  CHECK(spans.ahead_h(make_date(2027, 3, 26)) == 0.0);
  CHECK(spans.ahead_h(make_date(2027, 3, 27)) == 1.0);
  CHECK(spans.ahead_h(make_date(2027, 10, 30)) == 0.0);
  CHECK(spans.ahead_h(make_date(2028, 10, 27)) == 1.0);
  CHECK(spans.ahead_h(make_date(2029, 7, 1)) == 0.0);
}

TEST_CASE("a change counts from the day after arrival to that of departure, over a new year too") {
  const SummerTime us = summer(kUs);
  const Date change = make_date(2027, 11, 7);
  CHECK_FALSE(us.change_between(change, make_date(2027, 11, 15)));
  CHECK(us.change_between(make_date(2027, 11, 5), change) == change);
  CHECK_FALSE(us.change_between(make_date(2027, 11, 1), make_date(2027, 11, 6)));
  CHECK(us.change_between(make_date(2027, 11, 20), make_date(2028, 4, 1)) ==
        make_date(2028, 3, 12));
}

TEST_CASE("other forms are no rule of summer time") {
  for (const char* text :
       {"always", "Mar Sun>=8", "Mar Sun>=8 .. ", "Mar Sun>=8 .. Nov Son>=1",
        "March Sun>=8 .. Nov Sun>=1", "Mar Sun>=8 .. Nov Sun>=0", "Mar Sun>=x .. Nov Sun>=1",
        "2027-03-27", "2027-03-27..2027-10-32", "2027-03-27..2027-10-30 ",
        "2027-03-27..2027-10-30,2028-03-25..2028-10-28"}) {
    INFO(text);
    CHECK_FALSE(SummerTime::parse(text, 1.0));
  }
}
