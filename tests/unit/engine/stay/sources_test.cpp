#include <algorithm>

#include <catch2/catch.hpp>

#include "engine/stay/sources.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/random_plan.hpp"

using namespace dullspell;

namespace {

// Two camps; the drive to the second begins at 11:00, in the middle of what the generator is
// allowed.
std::string trip(double drive_in_h, const std::string& second_camp = "") {
  return fmt::format(
      "arrive = 2027-05-21T15:00:00\n"
      "[[camp]]\nplace = \"crescent-city-ca\"\nnights = 1\n"
      "[[camp]]\nplace = \"moab-ut\"\nnights = 1\ndrive_in_h = {}\n{}"
      "[battery]\ncapacity_wh = 800\n[[load]]\nname = \"all\"\nwatts = 60\n"
      "[generator]\nrated_w = 1000\ncharger_w = 500\nallowed = [[\"08:00\", \"20:00\"]]\n"
      "[vehicle]\ncharge_w = 200\n[hookup]\ncharger_w = 300\n",
      drive_in_h, second_camp);
}

struct SourcesOf {
  Plan plan;
  StayCalendar calendar = stay_calendar(plan);
  std::vector<HourSources> hours = sources_of(plan, calendar);

  const HourSources& at(int day, int hour_of_day) const {
    const auto found = std::find_if(calendar.hours.begin(), calendar.hours.end(), [&](auto& h) {
      return h.day == day && h.hour_of_day == hour_of_day;
    });
    return hours.at(static_cast<std::size_t>(found - calendar.hours.begin()));
  }
};

}  // namespace

TEST_CASE("a generator stands still while one drives") {
  const SourcesOf sources{plan_of(trip(2.5))};
  CHECK(sources.at(1, 10).source == Source::generator);
  for (const int hour : {11, 12}) {
    CHECK(sources.at(1, hour).source == Source::none);
    CHECK(sources.at(1, hour).share == 0.0);
    CHECK(sources.at(1, hour).vehicle_w == 200.0);
  }
  // Half an hour of driving is left, then half an hour in which it may run.
  CHECK(sources.at(1, 13).source == Source::generator);
  CHECK(sources.at(1, 13).share == 0.5);
  CHECK(sources.at(1, 13).vehicle_w == 100.0);
  CHECK(sources.at(1, 14).share == 1.0);
}

TEST_CASE("the end of a window that falls into the drive is lost") {
  Plan plan = plan_of(trip(2.5));
  plan.generator->allowed = {{8 * 60, 13 * 60 + 20}};
  CHECK(SourcesOf{plan}.at(1, 13).source == Source::none);
  plan.generator->allowed = {{8 * 60, 13 * 60 + 45}};
  CHECK(SourcesOf{plan}.at(1, 13).share == Approx(0.25).margin(1e-4));
}

TEST_CASE("a day on the road runs flat, generator or not") {
  const std::string plan = trip(11.0);
  const PreparedPlan prepared = prepared_of(plan);
  const WatchedStay stay(prepared, DrawnSky(prepared, 1));
  for (std::size_t h = 0; h < prepared.hours.size(); ++h) {
    if (prepared.hours[h].at_camp == 0.0) {
      CHECK(stay.hours.along()[h].flow.outside_share == 0.0);
    }
  }
}

TEST_CASE("the mains takes the generator's place from arrival at a camp that has them") {
  const SourcesOf sources{plan_of(trip(2.5, "hookup = true\n"))};
  CHECK(sources.at(1, 10).source == Source::generator);
  CHECK(sources.at(1, 12).source == Source::none);
  CHECK(sources.at(1, 13).source == Source::mains);
  CHECK(sources.at(1, 13).share == 0.5);
  CHECK(sources.at(2, 8).source == Source::mains);
}

TEST_CASE("on plans of all kinds nothing runs where it cannot, or longer than it may") {
  int generators = 0, mains = 0, driven = 0;
  for (unsigned number = 1; number <= 300; ++number) {
    CAPTURE(number);
    const SourcesOf sources{plan_of(RandomPlan(number).toml())};
    for (std::size_t h = 0; h < sources.hours.size(); ++h) {
      const HourSources& hour = sources.hours[h];
      const CalendarHour& at = sources.calendar.hours[h];
      const CampIndex camp = sources.calendar.camp_days[at.segment].camp;
      const double at_camp = 1.0 - at.driving;
      constexpr double kGrid = 1.0 / 65536.0;
      REQUIRE(hour.share >= 0.0);
      REQUIRE(hour.share <= at_camp + kGrid);
      REQUIRE((hour.share > 0.0) == (hour.source != Source::none));
      driven += at.driving > 0.0;
      if (hour.source == Source::generator) {
        REQUIRE_FALSE(sources.plan.camps[camp].hookup);
        REQUIRE(hour.share <=
                share_of_hour(sources.plan.generator->allowed, at.hour_of_day) + kGrid);
        ++generators;
      } else if (hour.source == Source::mains) {
        REQUIRE(sources.plan.camps[camp].hookup);
        ++mains;
      }
    }
  }
  CHECK(generators > 1000);
  CHECK(mains > 1000);
  CHECK(driven > 100);
}

TEST_CASE("on plans of all kinds the generator runs in its hours only, and as long as allowed") {
  int ran = 0;
  for (unsigned number = 1; number <= 120; ++number) {
    CAPTURE(number);
    const PreparedPlan plan = prepared_of(RandomPlan(number).toml());
    if (!plan.generator) continue;
    const DrawnSky sky(plan, 3);
    const WatchedStay stay(plan, sky, 5, 3);
    for (std::size_t h = 0; h < plan.hours.size(); ++h) {
      const double x = stay.hours.along()[h].flow.outside_share;
      if (plan.hours[h].source == Source::mains) continue;
      REQUIRE(x <= plan.hours[h].source_share);
      ran += x > 0.0;
    }
  }
  CHECK(ran > 100);
}
