#include <chrono>

#include <fmt/format.h>

#include "weather/input/toml_node.hpp"

namespace dullspell {
namespace {

Date checked_date(const TomlTable& table, std::string_view key, const toml::node& node,
                  const toml::date& date) {
  const std::chrono::year_month_day ymd{std::chrono::year{date.year},
                                        std::chrono::month{date.month}, std::chrono::day{date.day}};
  if (!ymd.ok()) {
    fail_at(table, key, node.source(), "is a date that does not exist", "a date of the calendar",
            "");
  }
  return Date{ymd};
}

int checked_clock_time(const TomlTable& table, std::string_view key, const toml::node& node,
                       std::string_view fix = "") {
  if (const auto* time = node.as_time()) {
    if (time->get().second != 0 || time->get().nanosecond != 0) {
      fail_at(table, key, node.source(), "has seconds", "whole minutes", "");
    }
    return 60 * time->get().hour + time->get().minute;
  }
  if (const auto* text = node.as_string()) {
    if (const auto minute = parse_clock_text(text->get())) return *minute;
  }
  if (const auto* text = node.as_string(); fix.empty() && text) {
    const char last = text->get().empty() ? ' ' : text->get().back();
    if (last == 'm' || last == 'M') fix = "Hours count from 0 to 24: 5:30 PM is \"17:30\".";
  }
  fail_at(table, key, node.source(), fmt::format("is {}", shown(node)),
          "a time of day such as \"17:30\", from \"00:00\" to \"24:00\"", std::string(fix));
}

ClockWindow checked_window(const TomlTable& table, std::string_view key, const toml::node& node) {
  constexpr std::string_view kAllowed = "two times such as [\"17:00\", \"23:00\"]";
  const toml::array& ends = checked_array(table, key, node, kAllowed, "");
  if (ends.size() != 2) {
    fail_at(table, key, node.source(), fmt::format("has {} entries", ends.size()),
            std::string(kAllowed), "");
  }
  const ClockWindow window{checked_clock_time(table, key, ends[0]),
                           checked_clock_time(table, key, ends[1])};
  if (window.from_min == window.to_min || window.from_min == 1440 || window.to_min == 0) {
    const bool until_midnight =
        window.to_min == 0 && window.from_min != 0 && window.from_min != 1440;
    if (until_midnight) return {window.from_min, 1440};
    fail_at(table, key, node.source(), "is a window of no length", std::string(kAllowed),
            "For the whole day write [\"00:00\", \"24:00\"].");
  }
  return window;
}

}  // namespace

std::optional<Date> TomlSection::date(std::string_view key, std::string_view fix) {
  const toml::node* node = look_up(*table_, key);
  if (!node) return std::nullopt;
  const auto* value = node->as_date();
  if (!value) {
    fail_at(*table_, key, node->source(), fmt::format("is {}", shown(*node)),
            "a date such as 2027-05-22",
            fix.empty() ? "Write it without quotes and without a time." : std::string(fix));
  }
  return checked_date(*table_, key, *node, value->get());
}

std::optional<LocalTime> TomlSection::local_time(std::string_view key, std::string_view fix) {
  const toml::node* node = look_up(*table_, key);
  if (!node) return std::nullopt;
  const auto* value = node->as_date_time();
  if (!value || value->get().offset) {
    fail_at(*table_, key, node->source(),
            fmt::format("is {}", value ? "a time with a zone" : shown(*node)),
            "a local date and time such as 2027-05-21T15:00:00", std::string(fix));
  }
  const Date date = checked_date(*table_, key, *node, value->get().date);
  const toml::time& time = value->get().time;
  if (time.second != 0 || time.nanosecond != 0) {
    fail_at(*table_, key, node->source(), "has seconds", "whole minutes", "");
  }
  return LocalTime{date, 60 * time.hour + time.minute};
}

std::optional<int> TomlSection::clock_time(std::string_view key, std::string_view fix) {
  const toml::node* node = look_up(*table_, key);
  if (!node) return std::nullopt;
  return checked_clock_time(*table_, key, *node, fix);
}

std::optional<std::vector<int>> TomlSection::clock_times(std::string_view key) {
  const toml::node* node = look_up(*table_, key);
  if (!node) return std::nullopt;
  std::vector<int> times;
  for (const toml::node& entry :
       checked_array(*table_, key, *node, "a list of times such as [\"10:00\", \"14:00\"]", "")) {
    times.push_back(checked_clock_time(*table_, key, entry));
  }
  return times;
}

std::optional<ClockWindow> TomlSection::window(std::string_view key) {
  const toml::node* node = look_up(*table_, key);
  if (!node) return std::nullopt;
  return checked_window(*table_, key, *node);
}

std::vector<ClockWindow> TomlSection::windows(std::string_view key) {
  const toml::node* node = look_up(*table_, key);
  std::vector<ClockWindow> out;
  if (!node) return out;
  for (const toml::node& entry : checked_array(
           *table_, key, *node,
           "a list of windows such as [[\"08:00\", \"10:00\"], [\"17:00\", \"20:00\"]]", "")) {
    out.push_back(checked_window(*table_, key, entry));
  }
  return out;
}

}  // namespace dullspell
