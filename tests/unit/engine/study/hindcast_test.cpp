#include <functional>
#include <optional>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "engine/study/hindcast.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;

namespace {

using std::chrono::days;

constexpr Coordinates kWhere{45.0, -110.0};
constexpr double kSunny = 0.5, kDull = 0.0;

int year_of(Date date) {
  return int{std::chrono::year_month_day{date}.year()};
}

int day_number(Date date) {
  return static_cast<int>(date.time_since_epoch().count());
}

/// A record by a rule: the clearness of each date, none for a day without value.
using SkyRule = std::function<std::optional<double>(Date)>;

WeatherRecord record_of(Date first, Date last, const SkyRule& k_of) {
  WeatherRecord record;
  for (Date date = first; date <= last; date += days{1}) {
    RecordedDay day{};
    day.date = date;
    if (const auto k = k_of(date)) {
      day.ghi_kwh_m2 = *k * extraterrestrial_of_date_wh_m2(date, kWhere) / 1000.0;
    }
    day.temp_max_c = day.temp_min_c = 25.0;
    record.days.push_back(day);
  }
  return record;
}

PastWeather past_of(Date first, Date last, const SkyRule& k_of) {
  return PastWeather(record_of(first, last, k_of), kWhere);
}

/// Whole years.
PastWeather past_years(int first, int last, const SkyRule& k_of) {
  return past_of(make_date(first, 1, 1), make_date(last, 12, 31), k_of);
}

/// A full battery of so many days' use, 1,000 Wh each morning, which a sunny noon gives back.
PreparedPlan stored_days_plan(int stay_days, int stored_days, Date begin = make_date(2027, 6, 1)) {
  PreparedPlan plan = bare_plan(stay_days, {6, 12}, 1000.0 * stored_days);
  for (int d = 0; d < stay_days; ++d) plan.dates[static_cast<std::size_t>(d)] = begin + days{d};
  set_panels(plan, 12, 1000.0 / kSunny);
  set_load(plan, 6, 1000.0);
  return plan;
}

/// A generator that gives back a morning's use in one noon hour.
void add_generator(PreparedPlan& plan) {
  Generator generator;
  generator.rated_w = 2000.0;
  generator.charger_w = 1000.0;
  generator.charger_efficiency = 1.0;
  generator.rule = GeneratorRule::below;
  generator.start_below = 0.6;
  generator.stop_at = 1.0;
  plan.generator = generator;
  for (HourSlot& slot : plan.hours) {
    if (slot.hour_of_day == 12) allow_generator(slot, 1.0);
  }
  set_generator_rule(plan);
}

SkyRule dull_in(const std::vector<int>& years) {
  return [years](Date date) -> std::optional<double> {
    return std::count(years.begin(), years.end(), year_of(date)) ? kDull : kSunny;
  };
}

HindcastResult hindcast(const PreparedPlan& plan, const PastWeather& past, int window_days,
                        int threads = 1) {
  HindcastOptions options;
  options.window_days = window_days;
  options.threads = threads;
  return run_hindcast(plan, past, options);
}

std::string refusal(const PreparedPlan& plan, const PastWeather& past, int window_days) {
  try {
    hindcast(plan, past, window_days);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "nothing was refused";
}

/// A kit with all that the engine has, loads that vary among them.
const std::string kRichPlan = R"(
arrive = 2027-10-12T14:00:00
[[camp]]
place = "port-angeles-wa"
nights = 3
canopy = 0.2
[battery]
capacity_wh = 2200
[[panels]]
rated_w = 200
[[load]]
name = "one"
watts = 25
[[load]]
name = "two"
watts = 40
hours_per_day = 3
varies = 0.5
[furnace]
blower_w = 40
output_w = 4000
heat_loss_w_per_k = 120
hold_c = [{ from = "18:00", to = "08:00", c = 16 }]
[generator]
rated_w = 1000
charger_w = 400
allowed = [["17:00", "18:30"]]
)";

/// Weather that differs from day to day and year to year, warm days clear ones.
WeatherRecord uneven_record(int first_year, int last_year) {
  WeatherRecord record =
      record_of(make_date(first_year, 1, 1), make_date(last_year, 12, 31),
                [](Date date) { return 0.05 + 0.01 * (day_number(date) * 37 % 61); });
  for (RecordedDay& day : record.days) {
    const int i = day_number(day.date);
    day.temp_min_c = -3.0 + (i * 13) % 11;
    day.temp_max_c = *day.temp_min_c + 4.0 + (i * 7) % 9;
  }
  return record;
}

void check_same(const HindcastResult& a, const HindcastResult& b) {
  REQUIRE(a.periods.size() == b.periods.size());
  for (std::size_t i = 0; i < a.periods.size(); ++i) {
    const PastPeriod &x = a.periods[i], &y = b.periods[i];
    CHECK(x.year == y.year);
    CHECK(x.begin == y.begin);
    CHECK(x.first_flat_day == y.first_flat_day);
    CHECK(x.shortfall_wh == y.shortfall_wh);
    CHECK(x.first_flat_day_along == y.first_flat_day_along);
    CHECK(x.generator_h == y.generator_h);
  }
  CHECK(a.flat.interval.low == b.flat.interval.low);
  CHECK(a.flat.interval.high == b.flat.interval.high);
  REQUIRE(a.generator_h.has_value());
  CHECK(a.generator_h->mean == b.generator_h->mean);
}

}  // namespace

TEST_CASE("a battery of two days lasts two dull days of the year that was dull") {
  const auto result = hindcast(stored_days_plan(5, 2), past_years(2001, 2005, dull_in({2003})), 0);
  REQUIRE(result.periods.size() == 5);
  for (const PastPeriod& period : result.periods) {
    CAPTURE(period.year);
    CHECK(period.begin == make_date(period.year, 6, 1));
    if (period.year == 2003) {
      CHECK(period.first_flat_day == 2);
      CHECK(period.shortfall_wh == Approx(3000.0));
    } else {
      CHECK_FALSE(period.first_flat_day.has_value());
      CHECK(period.shortfall_wh == 0.0);
    }
  }
  CHECK(result.flat.count == 1);
  CHECK(result.flat.periods == 5);
  CHECK(result.flat.years == 5);
  CHECK(result.flat.p == Approx(0.2));
  CHECK(result.periods_left_out == 0);
  CHECK(result.days_without_temperature == 0);
}

TEST_CASE("the share that is flat by a date grows from the first flat date on") {
  const auto result = hindcast(stored_days_plan(5, 2), past_years(2001, 2005, dull_in({2003})), 0);
  REQUIRE(result.flat_by_day.size() == 5);
  for (std::size_t day = 0; day < 5; ++day) {
    CAPTURE(day);
    CHECK(result.flat_by_day[day].count == (day < 2 ? 0 : 1));
    CHECK(result.flat_by_day[day].periods == 5);
  }
}

TEST_CASE("years are counted by all of their periods") {
  const auto result = hindcast(stored_days_plan(5, 2), past_years(2001, 2005, dull_in({2003})), 3);
  REQUIRE(result.years.size() == 5);
  for (std::size_t y = 0; y < 5; ++y) {
    const PastYear& year = result.years[y];
    CAPTURE(year.year);
    CHECK(year.year == 2001 + static_cast<int>(y));
    CHECK(year.periods == 7);
    CHECK(year.flat == (year.year == 2003 ? 7 : 0));
    CHECK(year.shortfall_wh == Approx(year.year == 2003 ? 3000.0 : 0.0));
  }
  CHECK(result.years[2].first_flat_day == 2);
  CHECK_FALSE(result.years[1].first_flat_day.has_value());
  CHECK(result.flat.count == 7);
  CHECK(result.flat.periods == 35);
}

TEST_CASE("a dull spell is met by those periods alone that lie upon it") {
  // Dull on 3 and 4 June 2003: flat on the morning after, if all three days are in the period.
  const auto dull_spell = [](Date date) -> std::optional<double> {
    return date >= make_date(2003, 6, 3) && date <= make_date(2003, 6, 4) ? kDull : kSunny;
  };
  const auto result = hindcast(stored_days_plan(5, 2), past_years(2002, 2004, dull_spell), 7);
  for (const PastPeriod& period : result.periods) {
    CAPTURE(iso_date(period.begin));
    const auto until = (make_date(2003, 6, 5) - period.begin).count();
    const bool whole = period.year == 2003 && until >= 2 && until <= 4;
    REQUIRE(period.first_flat_day.has_value() == whole);
    if (whole) CHECK(*period.first_flat_day == until);
  }
  CHECK(result.flat.count == 3);
  CHECK(result.years[1].first_flat_day == 2);
}

TEST_CASE("a year knows the earliest flat day of all its periods, not that of the last") {
  const auto two_spells = [](Date date) -> std::optional<double> {
    const bool first = date == make_date(2003, 5, 30) || date == make_date(2003, 5, 31);
    const bool second = date == make_date(2003, 6, 6) || date == make_date(2003, 6, 7);
    return first || second ? kDull : kSunny;
  };
  const auto result = hindcast(stored_days_plan(5, 2), past_years(2003, 2003, two_spells), 3);
  // Flat on 1 June, two days after 30 May, and on 8 June, four days after 4 June.
  CHECK(result.periods.front().first_flat_day == 3);
  CHECK(result.periods.back().first_flat_day == 4);
  CHECK(result.years[0].first_flat_day == 2);
  CHECK(result.years[0].flat == 3);
}

TEST_CASE("a window of n days makes 2 n + 1 periods a year, about the plan's own date") {
  const auto past = past_years(2001, 2003, dull_in({}));
  for (const int window : {0, 1, 7, 45}) {
    const auto result = hindcast(stored_days_plan(5, 2), past, window);
    CAPTURE(window);
    CHECK(result.window_days == window);
    REQUIRE(result.periods.size() == 3 * (2 * static_cast<std::size_t>(window) + 1));
    CHECK(result.periods.front().begin == make_date(2001, 6, 1) - days{window});
    CHECK(result.periods.back().begin == make_date(2003, 6, 1) + days{window});
  }
}

TEST_CASE("periods with a day missing are left out and counted") {
  const auto gap = [](Date date) -> std::optional<double> {
    if (date == make_date(2002, 6, 3)) return std::nullopt;
    return kSunny;
  };
  const auto result = hindcast(stored_days_plan(5, 2), past_years(2001, 2003, gap), 7);
  CHECK(result.periods_left_out == 5);
  REQUIRE(result.years.size() == 3);
  CHECK(result.years[1].periods == 10);
  for (const PastPeriod& period : result.periods) {
    CHECK((period.begin > make_date(2002, 6, 3) || period.begin < make_date(2002, 5, 30)));
  }
}

TEST_CASE("a year that has no whole period is no year of the result") {
  const auto gap = [](Date date) -> std::optional<double> {
    if (year_of(date) == 2002) return std::nullopt;
    return year_of(date) == 2003 ? kDull : kSunny;
  };
  const auto result = hindcast(stored_days_plan(5, 2), past_years(2001, 2003, gap), 7);
  CHECK(result.periods_left_out == 15);
  REQUIRE(result.years.size() == 2);
  CHECK(result.years[1].year == 2003);
  CHECK(result.flat.years == 2);
  CHECK(result.flat.p == 0.5);
}

TEST_CASE("a record that starts and ends within the window gives what it holds") {
  const auto past = past_of(make_date(2001, 5, 30), make_date(2003, 6, 4), dull_in({}));
  const auto result = hindcast(stored_days_plan(5, 2), past, 7);
  REQUIRE(result.years.size() == 3);
  // Begins of 30 May to 8 June, 25 May to 8 June, and 25 to 31 May, which ends on 4 June.
  CHECK(result.years[0].periods == 10);
  CHECK(result.years[1].periods == 15);
  CHECK(result.years[2].periods == 7);
  CHECK(result.periods.front().begin == make_date(2001, 5, 30));
  CHECK(result.periods.back().begin == make_date(2003, 5, 31));
  CHECK(result.periods_left_out == 0);
}

TEST_CASE("an arrival on 29 February is one on the 28th in common years") {
  const auto plan = stored_days_plan(3, 2, make_date(2028, 2, 29));
  const auto result = hindcast(plan, past_years(2003, 2005, dull_in({})), 0);
  REQUIRE(result.periods.size() == 3);
  CHECK(result.periods[0].begin == make_date(2003, 2, 28));
  CHECK(result.periods[1].begin == make_date(2004, 2, 29));
  CHECK(result.periods[2].begin == make_date(2005, 2, 28));
}

TEST_CASE("a stay over New Year belongs to the year of its plan's date") {
  const auto plan = stored_days_plan(5, 2, make_date(2027, 12, 30));
  // Dull from New Year's Day 2002 on: the third of its mornings is the last of the stay.
  const auto result = hindcast(plan, past_years(2001, 2003, dull_in({2002})), 0);
  REQUIRE(result.periods.size() == 2);
  CHECK(result.periods[0].year == 2001);
  CHECK(result.periods[0].first_flat_day == 4);
  CHECK(result.periods[1].year == 2002);
  CHECK(result.periods[1].begin == make_date(2002, 12, 30));
  // Two dull days of December, then sun, too late for the morning.
  CHECK(result.periods[1].first_flat_day == 2);
  CHECK(result.periods[1].shortfall_wh == Approx(1000.0));
}

TEST_CASE("periods that begin before New Year belong to a plan of January") {
  const auto plan = stored_days_plan(5, 2, make_date(2027, 1, 3));
  const auto result = hindcast(plan, past_years(2001, 2003, dull_in({})), 7);
  REQUIRE(result.years.size() == 4);
  // Begins of 1 to 10 January 2001, all of 2002 and 2003, and 27 December 2003 of 2004.
  CHECK(result.years[0].periods == 10);
  CHECK(result.years[1].periods == 15);
  CHECK(result.years[2].periods == 15);
  CHECK(result.years[3].year == 2004);
  CHECK(result.years[3].periods == 1);
  CHECK(result.periods[10].year == 2002);
  CHECK(result.periods[10].begin == make_date(2001, 12, 27));
}

TEST_CASE("periods that begin after New Year belong to a plan of December") {
  const auto plan = stored_days_plan(5, 2, make_date(2027, 12, 28));
  const auto result = hindcast(plan, past_years(2001, 2001, dull_in({})), 7);
  REQUIRE(result.years.size() == 2);
  // Begins of 1 to 4 January belong to the December before; 21 to 27 December end within 2001.
  CHECK(result.years[0].year == 2000);
  CHECK(result.years[0].periods == 4);
  CHECK(result.years[1].year == 2001);
  CHECK(result.years[1].periods == 7);
}

/// A typical year by a rule.
PastWeather typical_year(const SkyRule& k_of) {
  WeatherRecord record =
      record_of(make_date(kTypicalYear, 1, 1), make_date(kTypicalYear, 12, 31), k_of);
  record.typical_year = true;
  return PastWeather(record, kWhere);
}

TEST_CASE("a typical year is one year and one trial") {
  const auto past = typical_year(dull_in({kTypicalYear}));
  const auto result = hindcast(stored_days_plan(5, 2), past, 7);
  CHECK(result.periods.size() == 15);
  CHECK(result.years.size() == 1);
  CHECK(result.flat.years == 1);
  CHECK(result.flat.p == 1.0);
  // One trial, which came true: 0.025 to 1.
  CHECK(result.flat.interval.low == Approx(0.025));
  CHECK(result.flat.interval.high == 1.0);
}

TEST_CASE("a typical year goes round from December to January, and back from January") {
  // Dull on 31 December and 1 January: flat on the morning of 2 January.
  const auto past = typical_year([](Date date) -> std::optional<double> {
    const bool dull =
        date == make_date(kTypicalYear, 12, 31) || date == make_date(kTypicalYear, 1, 1);
    return dull ? kDull : kSunny;
  });
  const auto late = hindcast(stored_days_plan(5, 2, make_date(2027, 12, 30)), past, 7);
  REQUIRE(late.years.size() == 1);
  REQUIRE(late.periods.size() == 15);
  CHECK(late.periods[7].begin == make_date(kTypicalYear, 12, 30));
  CHECK(late.periods[7].first_flat_day == 3);
  CHECK(late.periods_left_out == 0);
  // Whole spell and the morning after: begins of 29 to 31 December.
  CHECK(late.flat.count == 3);
  const auto early = hindcast(stored_days_plan(5, 2, make_date(2027, 1, 3)), past, 7);
  REQUIRE(early.years.size() == 1);
  REQUIRE(early.periods.size() == 15);
  CHECK(early.periods.front().begin == make_date(kTypicalYear - 1, 12, 27));
  CHECK(early.flat.count == 3);
}

TEST_CASE("a record without a whole period, or without days, is refused in words") {
  const auto plan = stored_days_plan(5, 2);
  CHECK(refusal(plan, past_of(make_date(2001, 6, 1), make_date(2001, 6, 4), dull_in({})), 7) ==
        "holds no whole period of 5 days that begins within 7 days of the plan's date in any year");
  CHECK(refusal(plan, past_years(2001, 2002, [](Date) { return std::nullopt; }), 7) !=
        "nothing was refused");
  CHECK(refusal(plan, PastWeather(WeatherRecord{}, kWhere), 7) != "nothing was refused");
  CHECK(refusal(plan, past_of(make_date(2001, 6, 1), make_date(2001, 6, 5), dull_in({})), 7) ==
        "nothing was refused");
}

TEST_CASE("a day without temperature gets what the plan expects, and counts once") {
  auto record = record_of(make_date(2001, 1, 1), make_date(2002, 12, 31), dull_in({}));
  for (RecordedDay& day : record.days) {
    if (day.date == make_date(2002, 6, 2)) day.temp_max_c = std::nullopt;
  }
  const PastWeather past(record, kWhere);
  PreparedPlan plan = stored_days_plan(3, 2);
  for (Segment& segment : plan.segments) segment.temp_mean_c = 4.0;
  CHECK(hindcast(plan, past, 0).days_without_temperature == 1);
  CHECK(hindcast(plan, past, 7).days_without_temperature == 1);
  const RecordedSky sky(plan, past, {make_date(2002, 6, 1)});
  std::vector<SegmentSky> out(3);
  sky.fill(0, out);
  CHECK(out[0].temp_mean_c == 25.0);
  CHECK(out[0].temp_range_c == 0.0);
  CHECK(out[1].temp_mean_c == 4.0);
  // The expected range of the day's own clearness.
  CHECK(out[1].temp_range_c == Approx(11.0 + 12.5 * (kSunny - plan.segments[1].k_mean)));
  CHECK(out[1].k == Approx(kSunny));
}

TEST_CASE("two camps of one date share the past day, and the next date has the next") {
  PreparedPlan plan = stored_days_plan(3, 2);
  plan.segments[1].day = 0;
  plan.segments[2].day = 1;
  const auto past = past_years(2001, 2001, [](Date date) { return 0.01 * day_of_month(date); });
  const RecordedSky sky(plan, past, {make_date(2001, 6, 10), make_date(2001, 6, 20)});
  std::vector<SegmentSky> out(3);
  sky.fill(1, out);
  CHECK(out[0].k == Approx(0.20));
  CHECK(out[1].k == Approx(0.20));
  CHECK(out[2].k == Approx(0.21));
}

TEST_CASE("each camp has its own height over the record's site") {
  PreparedPlan plan = stored_days_plan(4, 2);
  for (Segment& segment : plan.segments) segment.temp_mean_c = 4.0;
  plan.segments[2].camp = plan.segments[3].camp = 1;
  auto record = record_of(make_date(2001, 6, 1), make_date(2001, 6, 30), dull_in({}));
  record.days[1].temp_max_c = record.days[3].temp_max_c = std::nullopt;
  const PastWeather past(record, kWhere);
  const RecordedSky sky(plan, past, {make_date(2001, 6, 1)}, {-2.0, -13.0});
  std::vector<SegmentSky> out(4);
  sky.fill(0, out);
  CHECK(out[0].temp_mean_c == 23.0);
  CHECK(out[2].temp_mean_c == 12.0);
  // What the plan expects is that of the camp already.
  CHECK(out[1].temp_mean_c == 4.0);
  CHECK(out[3].temp_mean_c == 4.0);
}

TEST_CASE("camps are colder than the record's site by 6.5 K a km, by their own height first") {
  Plan plan;
  plan.camps.resize(4);
  plan.camps[0].elevation_m = 1200.0;
  plan.camps[0].place.elevation_m = 50.0;
  plan.camps[1].place.elevation_m = 50.0;
  plan.camps[3].elevation_m = 200.0;
  WeatherRecord record;
  record.elevation_m = 200.0;
  const auto warmer_k = camps_warmer_k(plan, record);
  REQUIRE(warmer_k.size() == 4);
  CHECK(warmer_k[0] == Approx(-6.5));
  CHECK(warmer_k[1] == Approx(0.975));
  CHECK(warmer_k[2] == 0.0);
  CHECK(warmer_k[3] == 0.0);
  record.elevation_m.reset();
  CHECK(camps_warmer_k(plan, record) == std::vector<double>(4, 0.0));
}

TEST_CASE("the distance of each camp from the record is known") {
  Plan plan;
  plan.camps.resize(2);
  plan.camps[0].where = {45.0, -110.0};
  plan.camps[1].where = {46.0, -110.0};
  const auto away_km = distances_to_camps_km(plan, {45.0, -110.0});
  REQUIRE(away_km.size() == 2);
  CHECK(away_km[0] == 0.0);
  CHECK(away_km[1] == Approx(111.2).margin(0.3));
}

TEST_CASE(
    "a stay beyond the periods is the last one again, since blocks draw more than are wanted") {
  const PreparedPlan plan = stored_days_plan(3, 2);
  const auto past = past_years(2001, 2001, [](Date date) { return 0.01 * day_of_month(date); });
  const RecordedSky sky(plan, past, {make_date(2001, 6, 10), make_date(2001, 6, 20)});
  std::vector<SegmentSky> out(3);
  for (const std::uint32_t stay : {1u, 2u, 63u, 4'000'000'000u}) {
    CAPTURE(stay);
    sky.fill(stay, out);
    CHECK(out[0].k == Approx(0.20));
    CHECK(out[2].k == Approx(0.22));
  }
  CHECK_THROWS_AS(RecordedSky(plan, past, {}), std::invalid_argument);
}

TEST_CASE("a generator along keeps the dull year up, for the hours that it takes") {
  PreparedPlan plan = stored_days_plan(5, 2);
  add_generator(plan);
  const auto result = hindcast(plan, past_years(2001, 2005, dull_in({2003})), 0);
  CHECK(result.flat.count == 1);
  REQUIRE(result.flat_along.has_value());
  CHECK(result.flat_along->count == 0);
  CHECK(result.flat_along->years == 5);
  for (const PastPeriod& period : result.periods) {
    CAPTURE(period.year);
    CHECK_FALSE(period.first_flat_day_along.has_value());
    // One noon hour each day.
    CHECK(period.generator_h == Approx(period.year == 2003 ? 5.0 : 0.0).margin(1e-9));
  }
  REQUIRE(result.generator_h.has_value());
  CHECK(result.generator_h->mean == Approx(1.0));
  CHECK(result.generator_h->p50 == Approx(0.0).margin(1e-9));
  CHECK(result.generator_h->p90 == Approx(5.0));
  CHECK(result.generator_h->p99 == Approx(5.0));
  CHECK(result.years[2].flat == 1);
  CHECK(result.years[2].flat_along == 0);
}

TEST_CASE("a generator that is too small leaves the year flat, some days later") {
  PreparedPlan plan = stored_days_plan(5, 2);
  add_generator(plan);
  plan.generator->charger_w = 500.0;
  const auto result = hindcast(plan, past_years(2001, 2005, dull_in({2003})), 0);
  // 2,000 Wh less 1,000 a day, 500 of it given back each noon.
  CHECK(result.periods[2].first_flat_day == 2);
  CHECK(result.periods[2].first_flat_day_along == 3);
  CHECK(result.flat_along->count == 1);
  CHECK(result.years[2].flat_along == 1);
}

TEST_CASE("a plan without a generator says nothing of one") {
  const auto result = hindcast(stored_days_plan(5, 2), past_years(2001, 2003, dull_in({})), 0);
  CHECK_FALSE(result.flat_along.has_value());
  CHECK_FALSE(result.generator_h.has_value());
}

TEST_CASE("past weather runs as the same weather from a script does") {
  const PreparedPlan plan = prepared_of(kRichPlan);
  const WeatherRecord record = uneven_record(2001, 2004);
  const PastWeather past(record, kWhere);
  const auto result = hindcast(plan, past, 5);
  REQUIRE(result.periods.size() == 44);
  // From the record's own numbers.
  const ScriptedSky script([&](std::uint32_t stay, std::span<SegmentSky> out) {
    for (std::size_t i = 0; i < out.size(); ++i) {
      const Date date = result.periods[stay].begin + days{plan.segments[i].day.value};
      const auto at = static_cast<std::size_t>((date - record.days.front().date).count());
      const RecordedDay& day = record.days[at];
      out[i] = {*day.ghi_kwh_m2 * 1000.0 / extraterrestrial_of_date_wh_m2(date, kWhere),
                0.5 * (*day.temp_max_c + *day.temp_min_c), *day.temp_max_c - *day.temp_min_c};
    }
  });
  std::vector<Date> begins;
  for (const PastPeriod& period : result.periods) begins.push_back(period.begin);
  const RecordedSky recorded(plan, past, begins);
  StayRunner by_script(plan, script, 1), by_record(plan, recorded, 1);
  int flat = 0;
  for (std::uint32_t i = 0; i < result.periods.size(); ++i) {
    CAPTURE(i);
    const StayTrace& a = by_script.run(i);
    const StayTrace& b = by_record.run(i);
    CHECK(a.home.charge == b.home.charge);
    CHECK(a.home.flat == b.home.flat);
    CHECK(a.along.charge == b.along.charge);
    CHECK(a.panels_wh == b.panels_wh);
    const PastPeriod& period = result.periods[i];
    CHECK(period.first_flat_day.has_value() == a.home.ever_flat());
    CHECK(period.first_flat_day_along.has_value() == a.along.ever_flat());
    CHECK(period.shortfall_wh == a.home.shortfall_wh);
    CHECK(period.generator_h == a.along.generator_h);
    flat += a.home.ever_flat();
  }
  CHECK(flat > 3);
  CHECK(flat < 41);
}

TEST_CASE("a hindcast has the same bits with any number of threads") {
  const PreparedPlan plan = prepared_of(kRichPlan);
  const PastWeather past(uneven_record(1991, 2010), kWhere);
  const auto one = hindcast(plan, past, 7, 1);
  CHECK(one.periods.size() == 300);
  CHECK(one.flat.count > 20);
  for (const int threads : {2, 8}) {
    CAPTURE(threads);
    check_same(hindcast(plan, past, 7, threads), one);
  }
}

TEST_CASE("the seed of a hindcast moves the loads that vary, and nothing of the weather") {
  PreparedPlan plan = prepared_of(kRichPlan);
  const PastWeather past(uneven_record(2001, 2004), kWhere);
  HindcastOptions other;
  other.seed = 2;
  other.threads = 1;
  const auto moved = [&] {
    const auto a = hindcast(plan, past, 7), b = run_hindcast(plan, past, other);
    REQUIRE(a.periods.size() == b.periods.size());
    bool differ = false;
    for (std::size_t i = 0; i < a.periods.size(); ++i) {
      differ |= a.periods[i].generator_h != b.periods[i].generator_h;
    }
    return differ;
  };
  CHECK(moved());
  for (FlexibleLoad& load : plan.flexible) load.varies = false;
  CHECK_FALSE(moved());
}
