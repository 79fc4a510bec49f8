#include "weather/input/quantity_text.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "weather/input/parsed_number.hpp"
#include "weather/input/text_pieces.hpp"

namespace dullspell {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// The beginning whose letters are all of a kind, taken off the text together with blanks after it.
template <class Kind>
std::string_view cut_while(std::string_view& text, Kind kind) {
  const auto end = std::find_if_not(text.begin(), text.end(), kind);
  const auto length = static_cast<std::size_t>(end - text.begin());
  const std::string_view piece = text.substr(0, length);
  text = trimmed(text.substr(length));
  return piece;
}

// A whole number of one or two digits, up to `most`.
std::optional<int> small_number(std::string_view text, int most) {
  if (text.empty() || text.size() > 2 || !std::all_of(text.begin(), text.end(), is_digit)) {
    return std::nullopt;
  }
  int value = 0;
  for (const char c : text) value = 10 * value + (c - '0');
  return value <= most ? std::optional(value) : std::nullopt;
}

// Minutes of "H:MM", with two digits of minutes, or of "H" alone.
std::optional<int> minutes_of_clock(std::string_view text) {
  const bool whole_hour = text.find(':') == std::string_view::npos;
  const auto hours = small_number(cut_piece(text, ':'), 24);
  if (!hours) return std::nullopt;
  if (whole_hour) return 60 * *hours;
  const auto minutes = text.size() == 2 ? small_number(text, 59) : std::nullopt;
  return minutes ? std::optional(60 * *hours + *minutes) : std::nullopt;
}

enum class HalfDay { unsaid, am, pm };

HalfDay cut_half_day(std::string_view& text) {
  struct Ending {
    std::string_view text;
    HalfDay half;
  };
  constexpr std::array kEndings{Ending{"am", HalfDay::am}, Ending{"a.m.", HalfDay::am},
                                Ending{"pm", HalfDay::pm}, Ending{"p.m.", HalfDay::pm}};
  for (const Ending& ending : kEndings) {
    if (!text.ends_with(ending.text)) continue;
    text = trimmed(text.substr(0, text.size() - ending.text.size()));
    return ending.half;
  }
  return HalfDay::unsaid;
}

bool names_hours(std::string_view unit) {
  constexpr std::array<std::string_view, 5> kNames{"h", "hr", "hrs", "hour", "hours"};
  return std::find(kNames.begin(), kNames.end(), unit) != kNames.end();
}

bool names_minutes(std::string_view unit) {
  constexpr std::array<std::string_view, 5> kNames{"m", "min", "mins", "minute", "minutes"};
  return std::find(kNames.begin(), kNames.end(), unit) != kNames.end();
}

}  // namespace

std::optional<double> percent_in(std::string_view text) {
  text = trimmed(text);
  if (!text.ends_with('%')) return std::nullopt;
  text.remove_suffix(1);
  return parsed_number(trimmed(text));
}

std::optional<double> hours_in(std::string_view text) {
  const std::string lower = in_small_letters(std::string(trimmed(text)));
  std::string_view rest = lower;
  if (rest.find(':') != std::string_view::npos) {
    const auto minutes = minutes_of_clock(rest);
    return minutes ? std::optional(*minutes / 60.0) : std::nullopt;
  }
  const auto cut_number = [&] {
    return cut_while(rest, [](char c) { return is_digit(c) || c == '.'; });
  };
  const auto cut_word = [&] {
    return cut_while(rest, [](char c) { return c >= 'a' && c <= 'z'; });
  };
  const std::string_view first = cut_number(), unit = cut_word();
  const auto value = parsed_number(first);
  if (!value) return std::nullopt;
  if (rest.empty()) {
    if (names_hours(unit)) return *value;
    return names_minutes(unit) ? std::optional(*value / 60.0) : std::nullopt;
  }
  const auto hours = small_number(first, 99), minutes = small_number(cut_number(), 59);
  const std::string_view last = cut_word();
  const bool in_order = names_hours(unit) && (last.empty() || names_minutes(last)) && rest.empty();
  if (!hours || !minutes || !in_order) return std::nullopt;
  return (60 * *hours + *minutes) / 60.0;
}

std::optional<int> minute_of_day_in(std::string_view text) {
  const std::string lower = in_small_letters(std::string(trimmed(text)));
  std::string_view rest = lower;
  const HalfDay half = cut_half_day(rest);
  const auto minute = minutes_of_clock(rest);
  if (!minute || *minute > 1440) return std::nullopt;
  if (half == HalfDay::unsaid) return minute;
  if (*minute < 60 || *minute >= 13 * 60) return std::nullopt;
  return *minute % 720 + (half == HalfDay::pm ? 720 : 0);
}

}  // namespace dullspell
