#include "engine/plan/known_days_reader.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "weather/known_days.hpp"

namespace dullspell {
namespace {

constexpr Range kClearness{0.0, 0.85, "daily clearness index"};
constexpr std::string_view kClearnessFix =
    "What reaches level ground over what would without air, not hours of sun: 0.7 a clear day, "
    "0.2 a dull one.";

// Days since arrival of a forecast's date.
int read_forecast_day(TomlSection& section, const Plan& plan) {
  const int last_day = plan.last_day();
  const auto date = section.date("date");
  const auto number = section.integer(
      "day", 1, last_day + 1, "Day 1 is the date of arrival; the last is that of departure.");
  if (date && number) section.fail("day", "is given besides date", "one of the two");
  if (!date && !number) {
    section.fail("date", "is missing", "a date of the stay, or day = 1 for that of arrival");
  }
  const char* key = date ? "date" : "day";
  const int day = date ? static_cast<int>((*date - plan.arrive).count()) : *number - 1;
  const auto date_of = [&](int d) { return iso_date(plan.arrive + std::chrono::days{d}); };
  const std::string is = date ? fmt::format("is {}", date_of(day))
                              : fmt::format("is {}, which is {}", day + 1, date_of(day));
  const int first = plan.start().day;
  const int last = std::min(last_day, first + static_cast<int>(KnownDays::kMostDays) - 1);
  if (day >= first && day <= last) {
    for (const ForecastDay& other : plan.forecast) {
      if (other.day == day) {
        section.fail(key, is + " a second time", "one [[forecast]] for each date");
      }
    }
    return day;
  }
  const char* fix = day < 0 || day > last_day ? "Forecasts are for dates of the stay."
                    : day < first
                        ? "That date is past: take it out; `yesterday` tells of the day before now."
                        : "Leave days further ahead to the place's statistics.";
  section.fail(key, is,
               fmt::format("{} to {}, {}", date_of(first), date_of(last),
                           last < last_day ? fmt::format("the first {} days", KnownDays::kMostDays)
                                           : "the dates of the stay"),
               fix);
}

}  // namespace

std::optional<KnownSky> read_sky(TomlSection& section) {
  const auto word = section.choice("sky", sky_words());
  const auto k = section.number("k", kClearness, kClearnessFix);
  const auto spread = section.number("k_spread", {0.0, 0.5, "in k"},
                                     "The standard deviation of the forecast's error in k.");
  if (word && k) section.fail("k", "is given besides sky", "one of the two");
  if (spread && !k) {
    section.fail("k_spread", "is given without k", "",
                 "A word has a spread of its own; with a number k you may state one.");
  }
  if (word) return *sky_word(*word);
  if (!k) return std::nullopt;
  return StatedClearness{*k, spread.value_or(kUsualSpread)};
}

void read_known_days(TomlSection& root, Plan& plan) {
  for (TomlSection& section : root.sections("forecast")) {
    const int day = read_forecast_day(section, plan);
    const auto sky = read_sky(section);
    if (!sky) {
      section.fail("sky", "is missing",
                   "\"clear\", \"mixed\", \"overcast\", \"rain\", or a number k");
    }
    plan.forecast.push_back({day, *sky});
    section.finish();
  }
  std::sort(plan.forecast.begin(), plan.forecast.end(),
            [](const auto& a, const auto& b) { return a.day < b.day; });
  if (root.is_text("yesterday")) {
    plan.yesterday = *sky_word(*root.choice("yesterday", sky_words()));
  } else if (const auto k = root.number("yesterday", kClearness,
                                        "\"clear\", \"mixed\", \"overcast\" or \"rain\", or a "
                                        "clearness index such as 0.55.")) {
    plan.yesterday = StatedClearness{*k, kUsualSpread};
  }
}

}  // namespace dullspell
