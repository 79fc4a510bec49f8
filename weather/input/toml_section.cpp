#include "weather/input/toml_section.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "weather/input/input_error.hpp"
#include "weather/input/nearest_word.hpp"
#include "weather/input/toml_setting.hpp"
#include "weather/input/utf8.hpp"

namespace dullspell {
namespace {

std::string shown(const toml::node& node) {
  if (const auto* text = node.as_string()) {
    constexpr std::size_t kLongest = 40;
    const std::string& value = text->get();
    return fmt::format("the text \"{}\"{}", utf8_slice(value, 0, kLongest),
                       value.size() > kLongest ? "…" : "");
  }
  if (const auto* whole = node.as_integer()) return fmt::format("{}", whole->get());
  if (const auto* real = node.as_floating_point()) return fmt::format("{}", real->get());
  if (const auto* flag = node.as_boolean()) return flag->get() ? "true" : "false";
  if (node.is_array()) return "a list";
  if (node.is_table()) return "a table";
  if (node.is_date()) return "a date";
  if (node.is_time()) return "a time of day";
  return "a date and time";
}

std::string range_text(const Range& range) {
  const bool no_top = std::isinf(range.high);
  std::string text = no_top ? fmt::format("{} or more", range.low)
                            : fmt::format("{} to {}", range.low, range.high);
  if (!range.unit.empty()) text += fmt::format(" ({})", range.unit);
  return text;
}

// What makes the number right where it is plain what was meant; else the cure of the key.
std::string number_cure(const toml::node& node, const Range& range, std::string_view fix) {
  if (const auto* text = node.as_string()) {
    const std::string& typed = text->get();
    const bool bare_point = typed.size() > 1 && typed[0] == '.' &&
                            typed.find_first_not_of("0123456789", 1) == std::string::npos;
    if (bare_point) return fmt::format("A digit stands before the point: 0{}.", typed);
    return fix.empty() ? "Write the number without quotes or unit." : std::string(fix);
  }
  const auto value = node.value<double>();
  const bool is_share = range.low == 0.0 && range.high == 1.0;
  constexpr double kSurelyPercent = 5.0;
  if (value && is_share && *value >= kSurelyPercent && *value <= 100.0) {
    return fmt::format("{}{}A share: {:g} % is {:g}.", fix, fix.empty() ? "" : " ", *value,
                       *value / 100.0);
  }
  return std::string(fix);
}

// A key that is known in another unit: hold_f where hold_c is.
template <class Known>
std::string other_unit_cure(std::string_view typed, const Known& known) {
  struct Unit {
    std::string_view typed, known, name;
  };
  constexpr std::array kUnits{Unit{"_f", "_c", "°C"},
                              Unit{"_gal", "_l", "litres"},
                              Unit{"_ft", "_m", "m"},
                              Unit{"_lb", "_kg", "kg"},
                              Unit{"_kwh", "_wh", "Wh"},
                              Unit{"_kw", "_w", "W"},
                              Unit{"_btu", "_w", "W (1000 BTU/h are 293 W)"}};
  for (const Unit& unit : kUnits) {
    if (!typed.ends_with(unit.typed)) continue;
    const std::string key =
        std::string(typed.substr(0, typed.size() - unit.typed.size())) + std::string(unit.known);
    if (known.count(key) > 0) return fmt::format("Write it as `{}`, in {}.", key, unit.name);
  }
  return "";
}

std::optional<int> minute_of(std::string_view text) {
  // Exactly HH:MM; 24:00 is the end of the day.
  if (text.size() != 5 || text[2] != ':') return std::nullopt;
  for (const std::size_t i : {0u, 1u, 3u, 4u}) {
    if (text[i] < '0' || text[i] > '9') return std::nullopt;
  }
  const int hour = 10 * (text[0] - '0') + (text[1] - '0');
  const int minute = 10 * (text[3] - '0') + (text[4] - '0');
  if (minute > 59 || hour > 24 || (hour == 24 && minute > 0)) return std::nullopt;
  return 60 * hour + minute;
}

}  // namespace

TomlDocument::TomlDocument(SourceText source, const std::vector<std::string>& settings)
    : source_(std::move(source)) {
  try {
    root_ = toml::parse(source_.text, source_.name);
  } catch (const toml::parse_error& error) {
    InputProblem p;
    p.file = source_.name;
    p.line = static_cast<int>(error.source().begin.line);
    p.column = static_cast<int>(error.source().begin.column);
    p.problem = fmt::format("is not valid TOML: {}", error.description());
    const auto about = [&](std::string_view what) {
      return error.description().find(what) != std::string_view::npos;
    };
    if (about("inline table")) {
      p.fix =
          "A table in braces stays on one line; a longer one is written as a table of its own, "
          "e.g. "
          "[camp.place] under its [[camp]].";
    } else if (about("date")) {
      p.fix = "Dates read 2027-05-21T15:00:00; check that this one exists.";
    } else {
      p.fix = "A line reads `key = value`; text stands in \"quotes\", a table begins with [name].";
    }
    p.source_line = source_.line(p.line);
    throw InputError(std::move(p));
  }
  for (const std::string& setting : settings) apply_setting(root_, setting);
}

TomlSection::TomlSection(std::shared_ptr<const TomlDocument> document, const toml::table& table,
                         std::string path)
    : document_(std::move(document)), table_(&table), path_(std::move(path)) {}

TomlSection TomlSection::root_of(std::shared_ptr<const TomlDocument> document) {
  const toml::table& root = document->root();
  return TomlSection(std::move(document), root, "");
}

std::string TomlSection::dotted(std::string_view key) const {
  if (key.empty()) return path_;
  return path_.empty() ? std::string(key) : path_ + "." + std::string(key);
}

void TomlSection::fail_at(std::string_view key, const toml::source_region& place,
                          std::string problem, std::string allowed, std::string fix) const {
  InputProblem p;
  p.key = dotted(key);
  // What a setting put in has no line of the file; its path says which setting it was.
  if (place.path && *place.path != document_->source().name) {
    p.file = *place.path;
  } else {
    p.file = document_->source().name;
    p.line = static_cast<int>(place.begin.line);
    p.column = static_cast<int>(place.begin.column);
    p.source_line = document_->source().line(p.line);
  }
  p.problem = std::move(problem);
  p.allowed = std::move(allowed);
  p.fix = std::move(fix);
  throw InputError(std::move(p));
}

void TomlSection::fail(std::string_view key, std::string problem, std::string allowed,
                       std::string fix) const {
  const toml::node* node = find(key);
  if (!node) report_misspelt(key);
  // The root table has a position of its own (the first line), which would only mislead.
  const toml::source_region nowhere{};
  const toml::source_region& place = node            ? node->source()
                                     : path_.empty() ? nowhere
                                                     : table_->source();
  fail_at(key, place, std::move(problem), std::move(allowed), std::move(fix));
}

// A key that is missing may stand there misspelt: that is then the better message.
void TomlSection::report_misspelt(std::string_view key) const {
  // Closer than usual, since keys that are looked up later are not known yet.
  constexpr int kFarthest = 2;
  constexpr std::size_t kLeastBeginning = 3;
  const std::vector<std::string> wanted{std::string(key)};
  const auto meant = [&](std::string_view typed) {
    return nearest_word(typed, wanted, kFarthest) ||
           (typed.size() >= kLeastBeginning && key.starts_with(typed));
  };
  for (const auto& [typed, value] : *table_) {
    if (known_.count(typed.str()) == 0 && meant(typed.str())) {
      fail_at(typed.str(), typed.source(), "is not a known key", "",
              fmt::format("Did you mean `{}`?", key));
    }
  }
}

void TomlSection::fail_here(std::string problem, std::string allowed, std::string fix) const {
  fail_at("", path_.empty() ? toml::source_region{} : table_->source(), std::move(problem),
          std::move(allowed), std::move(fix));
}

const toml::node* TomlSection::find(std::string_view key) const {
  return table_->get(key);
}

const toml::node* TomlSection::look_up(std::string_view key) {
  known_.emplace(key);
  return find(key);
}

bool TomlSection::set_on_command_line(std::string_view key) const {
  const toml::node* node = find(key);
  return node && node->source().path && *node->source().path != document_->source().name;
}

bool TomlSection::is_table(std::string_view key) const {
  const auto* node = find(key);
  return node && node->is_table();
}

bool TomlSection::is_array(std::string_view key) const {
  const auto* node = find(key);
  return node && node->is_array();
}

bool TomlSection::is_text(std::string_view key) const {
  const auto* node = find(key);
  return node && node->is_string();
}

bool TomlSection::holds_lists(std::string_view key) const {
  const auto* node = find(key);
  const auto* array = node ? node->as_array() : nullptr;
  return array && !array->empty() && array->front().is_array();
}

double TomlSection::checked_number(std::string_view key, const toml::node& node, const Range& range,
                                   std::string_view fix) const {
  const auto value = node.is_number() ? node.value<double>() : std::nullopt;
  if (!value) {
    fail_at(key, node.source(), fmt::format("is {}, not a number", shown(node)), range_text(range),
            number_cure(node, range, fix));
  }
  if (!std::isfinite(*value) || *value < range.low || *value > range.high) {
    fail_at(key, node.source(), fmt::format("is {}", shown(node)), range_text(range),
            number_cure(node, range, fix));
  }
  return *value;
}

std::optional<double> TomlSection::number(std::string_view key, const Range& range,
                                          std::string_view fix) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  return checked_number(key, *node, range, fix);
}

double TomlSection::number_or(std::string_view key, double otherwise, const Range& range,
                              std::string_view fix) {
  return number(key, range, fix).value_or(otherwise);
}

double TomlSection::required_number(std::string_view key, const Range& range,
                                    std::string_view fix) {
  const auto value = number(key, range, fix);
  if (!value) fail(key, "is missing", range_text(range), std::string(fix));
  return *value;
}

std::optional<int> TomlSection::integer(std::string_view key, int low, int high,
                                        std::string_view fix) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  const auto* whole = node->as_integer();
  if (!whole || whole->get() < low || whole->get() > high) {
    fail_at(key, node->source(), fmt::format("is {}", shown(*node)),
            fmt::format("a whole number from {} to {}", low, high), std::string(fix));
  }
  return static_cast<int>(whole->get());
}

std::optional<bool> TomlSection::flag(std::string_view key) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  if (const auto* value = node->as_boolean()) return value->get();
  fail_at(key, node->source(), fmt::format("is {}", shown(*node)), "true or false", "");
}

std::optional<std::string> TomlSection::text(std::string_view key) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  if (const auto* value = node->as_string()) return value->get();
  fail_at(key, node->source(), fmt::format("is {}, not text", shown(*node)), "text in \"quotes\"",
          "");
}

std::string TomlSection::required_text(std::string_view key, std::string_view fix) {
  auto value = text(key);
  if (!value) fail(key, "is missing", "text in \"quotes\"", std::string(fix));
  return *value;
}

std::optional<std::string> TomlSection::choice(std::string_view key,
                                               const std::vector<std::string>& words) {
  const auto value = text(key);
  if (!value) return std::nullopt;
  if (std::find(words.begin(), words.end(), *value) != words.end()) return value;
  std::string allowed;
  for (const auto& word : words) allowed += (allowed.empty() ? "\"" : ", \"") + word + "\"";
  fail(key, fmt::format("is \"{}\"", *value), allowed, did_you_mean(*value, words, '"'));
}

const toml::array& TomlSection::checked_array(std::string_view key, const toml::node& node,
                                              std::string_view allowed,
                                              std::string_view fix) const {
  const auto* array = node.as_array();
  if (!array) {
    fail_at(key, node.source(), fmt::format("is {}", shown(node)), std::string(allowed),
            std::string(fix));
  }
  return *array;
}

std::optional<std::vector<double>> TomlSection::numbers(std::string_view key, std::size_t count,
                                                        const Range& range, std::string_view fix) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  const std::string allowed =
      fmt::format("a list of {} numbers, each {}", count, range_text(range));
  const toml::array& array = checked_array(key, *node, allowed, fix);
  if (array.size() != count) {
    fail_at(key, node->source(), fmt::format("has {} entries", array.size()), allowed,
            std::string(fix));
  }
  std::vector<double> out;
  for (const toml::node& entry : array) out.push_back(checked_number(key, entry, range, fix));
  return out;
}

std::optional<std::vector<std::vector<double>>> TomlSection::number_rows(std::string_view key,
                                                                         std::size_t columns,
                                                                         const Range& range,
                                                                         std::string_view fix) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  const std::string allowed =
      fmt::format("a list of lists of {} numbers, each {}", columns, range_text(range));
  std::vector<std::vector<double>> rows;
  for (const toml::node& entry : checked_array(key, *node, allowed, fix)) {
    const toml::array& cells = checked_array(key, entry, allowed, fix);
    if (cells.size() != columns) {
      fail_at(key, entry.source(), fmt::format("has a row of {} entries", cells.size()), allowed,
              std::string(fix));
    }
    std::vector<double> row;
    for (const toml::node& cell : cells) row.push_back(checked_number(key, cell, range, fix));
    rows.push_back(std::move(row));
  }
  return rows;
}

Date TomlSection::checked_date(std::string_view key, const toml::node& node,
                               const toml::date& date) const {
  const std::chrono::year_month_day ymd{std::chrono::year{date.year},
                                        std::chrono::month{date.month}, std::chrono::day{date.day}};
  if (!ymd.ok()) {
    fail_at(key, node.source(), "is a date that does not exist", "a date of the calendar", "");
  }
  return Date{ymd};
}

std::optional<Date> TomlSection::date(std::string_view key, std::string_view fix) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  const auto* value = node->as_date();
  if (!value) {
    fail_at(key, node->source(), fmt::format("is {}", shown(*node)), "a date such as 2027-05-22",
            fix.empty() ? "Write it without quotes and without a time." : std::string(fix));
  }
  return checked_date(key, *node, value->get());
}

std::optional<LocalTime> TomlSection::local_time(std::string_view key, std::string_view fix) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  const auto* value = node->as_date_time();
  if (!value || value->get().offset) {
    fail_at(key, node->source(), fmt::format("is {}", value ? "a time with a zone" : shown(*node)),
            "a local date and time such as 2027-05-21T15:00:00", std::string(fix));
  }
  const Date date = checked_date(key, *node, value->get().date);
  const toml::time& time = value->get().time;
  if (time.second != 0 || time.nanosecond != 0) {
    fail_at(key, node->source(), "has seconds", "whole minutes", "");
  }
  return LocalTime{date, 60 * time.hour + time.minute};
}

int TomlSection::checked_clock_time(std::string_view key, const toml::node& node,
                                    std::string_view fix) const {
  if (const auto* time = node.as_time()) {
    if (time->get().second != 0 || time->get().nanosecond != 0) {
      fail_at(key, node.source(), "has seconds", "whole minutes", "");
    }
    return 60 * time->get().hour + time->get().minute;
  }
  if (const auto* text = node.as_string()) {
    if (const auto minute = minute_of(text->get())) return *minute;
  }
  if (const auto* text = node.as_string(); fix.empty() && text) {
    const char last = text->get().empty() ? ' ' : text->get().back();
    if (last == 'm' || last == 'M') fix = "Hours count from 0 to 24: 5:30 PM is \"17:30\".";
  }
  fail_at(key, node.source(), fmt::format("is {}", shown(node)),
          "a time of day such as \"17:30\", from \"00:00\" to \"24:00\"", std::string(fix));
}

std::optional<int> TomlSection::clock_time(std::string_view key, std::string_view fix) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  return checked_clock_time(key, *node, fix);
}

std::optional<std::vector<int>> TomlSection::clock_times(std::string_view key) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  std::vector<int> times;
  for (const toml::node& entry :
       checked_array(key, *node, "a list of times such as [\"10:00\", \"14:00\"]", "")) {
    times.push_back(checked_clock_time(key, entry));
  }
  return times;
}

ClockWindow TomlSection::checked_window(std::string_view key, const toml::node& node) const {
  constexpr std::string_view kAllowed = "two times such as [\"17:00\", \"23:00\"]";
  const toml::array& ends = checked_array(key, node, kAllowed, "");
  if (ends.size() != 2) {
    fail_at(key, node.source(), fmt::format("has {} entries", ends.size()), std::string(kAllowed),
            "");
  }
  const ClockWindow window{checked_clock_time(key, ends[0]), checked_clock_time(key, ends[1])};
  if (window.from_min == window.to_min || window.from_min == 1440 || window.to_min == 0) {
    const bool until_midnight =
        window.to_min == 0 && window.from_min != 0 && window.from_min != 1440;
    if (until_midnight) return {window.from_min, 1440};
    fail_at(key, node.source(), "is a window of no length", std::string(kAllowed),
            "For the whole day write [\"00:00\", \"24:00\"].");
  }
  return window;
}

std::optional<ClockWindow> TomlSection::window(std::string_view key) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  return checked_window(key, *node);
}

std::vector<ClockWindow> TomlSection::windows(std::string_view key) {
  const toml::node* node = look_up(key);
  std::vector<ClockWindow> out;
  if (!node) return out;
  for (const toml::node& entry : checked_array(
           key, *node, "a list of windows such as [[\"08:00\", \"10:00\"], [\"17:00\", \"20:00\"]]",
           "")) {
    out.push_back(checked_window(key, entry));
  }
  return out;
}

std::optional<TomlSection> TomlSection::section(std::string_view key) {
  const toml::node* node = look_up(key);
  if (!node) return std::nullopt;
  if (const auto* table = node->as_table()) return TomlSection(document_, *table, dotted(key));
  fail_at(key, node->source(), fmt::format("is {}", shown(*node)),
          fmt::format("a table, written [{}]", dotted(key)),
          node->is_array()
              ? fmt::format("There can be only one: write [{0}], not [[{0}]].", dotted(key))
              : "");
}

std::vector<TomlSection> TomlSection::sections(std::string_view key) {
  const toml::node* node = look_up(key);
  std::vector<TomlSection> out;
  if (!node) return out;
  const std::string allowed = fmt::format("tables, each written [[{}]]", dotted(key));
  if (node->is_table()) {
    fail_at(key, node->source(), "is a single table", allowed,
            fmt::format("Write [[{}]] with two brackets: there may be several.", dotted(key)));
  }
  int number = 0;
  for (const toml::node& entry : checked_array(key, *node, allowed, "")) {
    ++number;
    const auto* table = entry.as_table();
    if (!table) fail_at(key, entry.source(), fmt::format("holds {}", shown(entry)), allowed, "");
    out.emplace_back(document_, *table, fmt::format("{}[{}]", dotted(key), number));
  }
  return out;
}

void TomlSection::finish() const {
  for (const auto& [key, value] : *table_) {
    if (known_.count(key.str()) > 0) continue;
    const std::vector<std::string> words(known_.begin(), known_.end());
    std::string fix = other_unit_cure(key.str(), known_);
    if (fix.empty()) fix = did_you_mean(key.str(), words);
    if (fix.empty()) {
      fix = "Known here: ";
      for (std::size_t i = 0; i < words.size(); ++i) fix += (i ? ", " : "") + words[i];
      fix += ".";
    }
    fail_at(key.str(), key.source(), "is not a known key", "", fix);
  }
}

}  // namespace dullspell
