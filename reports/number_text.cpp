#include "reports/number_text.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "weather/us_units.hpp"

namespace dullspell {
namespace {

// Digits enough for what was converted from a US unit.
double to_hundredths(double value) {
  return std::round(100.0 * value) / 100.0;
}

// What stays on one line: the text up to the next blank, a number with its per cent sign.
std::string_view next_word(std::string_view text) {
  std::size_t end = std::min(text.find(' '), text.size());
  if (text.substr(end).starts_with(" %")) end = std::min(text.find(' ', end + 1), text.size());
  return text.substr(0, end);
}

// Decimals of a percentage whose interval has this half-width (as a share).
int decimals_for(double half_width) {
  if (half_width >= 0.005) return 0;
  if (half_width >= 0.0005) return 1;
  return 2;
}

}  // namespace

std::string fuel_number(double litres, Fuel kind, Units units) {
  const bool us = units == Units::us;
  if (kind == Fuel::propane) {
    const double kg = propane_kg(litres);
    return fmt::format("{:.1f}", us ? kPound.from_metric(kg) : kg);
  }
  return us ? fmt::format("{:.2f}", kGallon.from_metric(litres)) : fmt::format("{:.1f}", litres);
}

const char* fuel_unit(Fuel kind, Units units) {
  const bool us = units == Units::us;
  if (kind == Fuel::propane) return us ? "lb" : "kg";
  return us ? "gal" : "L";
}

std::string fuel_name(Fuel kind, Units units) {
  const bool us = units == Units::us;
  if (kind == Fuel::propane) return us ? "pounds of propane" : "kilograms of propane";
  return us ? "gallons of fuel" : "liters of fuel";
}

std::string fuel(double litres, Fuel kind, Units units) {
  return fmt::format("{} {}", fuel_number(litres, kind, units), fuel_unit(kind, units));
}

std::string tank(double litres, Fuel kind, Units units) {
  if (kind == Fuel::propane) {
    const double kg = propane_kg(litres);
    return units == Units::us ? fmt::format("{:.3g} lb", kPound.from_metric(kg))
                              : weight(kg, units);
  }
  return units == Units::us ? fmt::format("{:.2g} gal", kGallon.from_metric(litres))
                            : fmt::format("{:g} L", to_hundredths(litres));
}

std::string weight(double kg, Units units) {
  return units == Units::us ? fmt::format("{:.1f} lb", kPound.from_metric(kg))
                            : fmt::format("{:g} kg", to_hundredths(kg));
}

std::string distance(double km, Units units) {
  return units == Units::us ? fmt::format("{:.0f} mi", kMile.from_metric(km))
                            : fmt::format("{:.0f} km", km);
}

std::string height(double m, Units units) {
  return units == Units::us ? fmt::format("{:.0f} ft", kFoot.from_metric(m))
                            : fmt::format("{:.0f} m", m);
}

std::string temperature(double c, Units units, int decimals) {
  return units == Units::us ? fmt::format("{:.{}f} °F", kFahrenheit.from_metric(c), decimals)
                            : fmt::format("{:.{}f} °C", c, decimals);
}

std::string temperature_step(double k, Units units, int decimals) {
  return units == Units::us ? fmt::format("{:.{}f} °F", kFahrenheitStep.from_metric(k), decimals)
                            : fmt::format("{:.{}f} K", k, decimals);
}

std::string percent(const Proportion& share) {
  // None and all are facts about the stays that were run; their interval says what they leave open.
  if (share.count == 0) return "0 %";
  if (share.count == share.trials) return "100 %";
  return fmt::format("{:.{}f} %", 100.0 * share.p, decimals_for(share.interval.half_width()));
}

std::string of_hundred(const Proportion& share) {
  std::string text = percent(share);
  return text.substr(0, text.find(" %"));
}

std::string percent_interval(const Interval& interval) {
  const int decimals = decimals_for(interval.half_width());
  return fmt::format("{:.{}f}–{:.{}f} %", 100.0 * interval.low, decimals, 100.0 * interval.high,
                     decimals);
}

std::string percent_interval(const Proportion& share) {
  return percent_interval(share.interval);
}

std::string in_words(const Proportion& share) {
  if (share.count == 0) return fmt::format("none of {} stays", grouped(share.trials));
  if (share.count == share.trials) return fmt::format("all of {} stays", grouped(share.trials));
  if (share.p >= 0.995) {
    return fmt::format("all but {} of {} stays", grouped(share.trials - share.count),
                       grouped(share.trials));
  }
  if (share.p >= 0.0095) {
    return fmt::format("{:.{}f} of 100 stays", 100.0 * share.p,
                       std::min(1, decimals_for(share.interval.half_width())));
  }
  if (share.p >= 0.00095) return fmt::format("{:.0f} of 1,000 stays", 1000.0 * share.p);
  return fmt::format("{} of {} stays", share.count, grouped(share.trials));
}

std::string whole_percent(double share) {
  return fmt::format("{:.0f} %", 100.0 * share);
}

std::string signed_number(double value, int decimals) {
  const std::string digits = fmt::format("{:.{}f}", std::abs(value), decimals);
  if (digits.find_first_not_of("0.") == std::string::npos) return digits;
  return (value < 0.0 ? "−" : "+") + digits;
}

std::string grouped(std::uint64_t value) {
  std::string digits = fmt::format("{}", value);
  for (std::size_t i = digits.size(); i > 3; i -= 3) digits.insert(i - 3, 1, ',');
  return digits;
}

std::string counted(std::uint64_t count, std::string_view one) {
  return fmt::format("{} {}{}", grouped(count), one, count == 1 ? "" : "s");
}

std::string energy(double wh) {
  return std::abs(wh) < 9999.5 ? fmt::format("{:.0f} Wh", wh)
                               : fmt::format("{:.1f} kWh", wh / 1000.0);
}

std::string ordinal(int number) {
  constexpr std::array names{"first",   "second", "third", "fourth", "fifth",    "sixth",
                             "seventh", "eighth", "ninth", "tenth",  "eleventh", "twelfth"};
  if (number >= 1 && number <= static_cast<int>(names.size())) {
    return names[static_cast<std::size_t>(number - 1)];
  }
  const int tens = number % 100;
  const bool teen = tens >= 11 && tens <= 13;
  const char* ending = teen               ? "th"
                       : number % 10 == 1 ? "st"
                       : number % 10 == 2 ? "nd"
                       : number % 10 == 3 ? "rd"
                                          : "th";
  return fmt::format("{}{}", number, ending);
}

std::string replaced(std::string_view text, std::string_view from, std::string_view to) {
  std::string out;
  std::size_t at = 0;
  for (std::size_t found; (found = text.find(from, at)) != std::string_view::npos;) {
    out.append(text.substr(at, found - at)).append(to);
    at = found + from.size();
  }
  return out.append(text.substr(at));
}

std::string left_aligned(std::string_view text, std::size_t width) {
  const std::size_t used = display_width(text);
  return std::string(text) + std::string(used < width ? width - used : 0, ' ');
}

std::string right_aligned(std::string_view text, std::size_t width) {
  const std::size_t used = display_width(text);
  return std::string(used < width ? width - used : 0, ' ') + std::string(text);
}

std::string wrapped(std::string_view text, std::size_t width, std::size_t indent) {
  const std::string margin(indent, ' ');
  const std::size_t room = std::max(width, indent + 1) - indent;
  std::string out, line;
  const auto flush = [&] {
    out += margin + line + '\n';
    line.clear();
  };
  std::size_t at = 0;
  while (at < text.size()) {
    std::string_view word = next_word(text.substr(at));
    at += word.size() + 1;
    if (!line.empty() && indent + display_width(line) + 1 + display_width(word) > width) flush();
    while (display_width(word) > room) {
      const std::size_t bytes = fitting_bytes(word, room);
      line = word.substr(0, bytes);
      flush();
      word.remove_prefix(bytes);
    }
    if (!line.empty()) line += ' ';
    line += word;
  }
  if (!line.empty()) flush();
  return out;
}

std::size_t longest_word(std::string_view text) {
  std::size_t longest = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::string_view word = next_word(text.substr(at));
    longest = std::max(longest, display_width(word));
    at += word.size() + 1;
  }
  return longest;
}

}  // namespace dullspell
