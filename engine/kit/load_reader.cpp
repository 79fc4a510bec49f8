#include "engine/kit/load_reader.hpp"

#include <algorithm>
#include <string_view>

#include <fmt/format.h>

#include "engine/kit/key_ranges.hpp"

namespace dullspell {
namespace {

constexpr Range kMinutesOfDay{0.0, 1440.0, "min"};

// One window or a list of them.
std::vector<ClockWindow> one_or_more_windows(TomlSection& section, std::string_view key) {
  if (section.holds_lists(key)) return section.windows(key);
  const auto window = section.window(key);
  return window ? std::vector{*window} : std::vector<ClockWindow>{};
}

void read_power(TomlSection& section, std::optional<double> nominal_v, Load& load) {
  load.side = read_side(section, LoadSide::dc);
  const auto watts = section.number("watts", kWattsRange);
  const auto amps = section.number("amps", {0.0, 1000.0, "A"});
  if (watts && amps) section.fail("amps", "is given besides watts", "one of the two");
  if (!watts && !amps) {
    section.fail("watts", "is missing", "0 to 20000 (W)", "The power while it runs.");
  }
  if (amps && load.side != LoadSide::dc) {
    section.fail("amps", "is given for a load that is not on the dc side", "watts");
  }
  if (amps && !nominal_v) {
    section.fail("amps", "needs the battery's nominal_v", "watts, or amps with battery.nominal_v");
  }
  load.watts = watts ? *watts : *amps * *nominal_v;
}

// How long a load runs on a usual day, and the key that says so.
struct UseOfDay {
  std::string_view key;
  double hours;
  bool on_command_line;
};

std::optional<UseOfDay> use_by_times(TomlSection& section) {
  const auto times = section.number("times_per_day", {0.0, 1000.0});
  const auto minutes = section.number("minutes_each", kMinutesOfDay, "Minutes of one use: 4.");
  if (times && !minutes) {
    section.fail("times_per_day", "needs minutes_each", "", "Say how long it runs each time: 4.");
  }
  if (minutes && !times) {
    section.fail("minutes_each", "needs times_per_day", "", "Say how many times a day: 4.");
  }
  if (!times) return std::nullopt;
  return UseOfDay{
      "times_per_day", *times * *minutes / 60.0,
      section.set_on_command_line("times_per_day") || section.set_on_command_line("minutes_each")};
}

std::optional<UseOfDay> read_use(TomlSection& section) {
  std::vector<UseOfDay> stated;
  if (const auto hours = section.number("hours_per_day", {0.0, 24.0, kHoursUnit})) {
    stated.push_back({"hours_per_day", *hours, section.set_on_command_line("hours_per_day")});
  }
  if (const auto minutes = section.number("minutes_per_day", kMinutesOfDay)) {
    stated.push_back(
        {"minutes_per_day", *minutes / 60.0, section.set_on_command_line("minutes_per_day")});
  }
  if (const auto times = use_by_times(section)) stated.push_back(*times);
  // What the command line says stands in place of what the file says in another way.
  const auto typed = [](const UseOfDay& use) { return use.on_command_line; };
  if (std::any_of(stated.begin(), stated.end(), typed)) {
    std::erase_if(stated, [](const UseOfDay& use) { return !use.on_command_line; });
  }
  if (stated.size() > 1) {
    section.fail(stated[1].key, fmt::format("is given besides {}", stated[0].key),
                 "one of hours_per_day, minutes_per_day, or times_per_day with minutes_each");
  }
  if (stated.empty()) return std::nullopt;
  return stated.front();
}

void read_times(TomlSection& section, Load& load) {
  auto windows = one_or_more_windows(section, "between");
  if (windows.empty()) windows = {kWholeDay};
  load.between = windows_without(windows, one_or_more_windows(section, "away"));
  if (const auto part = section.choice("only", {"dark", "daylight"})) {
    load.only = *part == "dark" ? DayPart::dark : DayPart::daylight;
  }
  const double window_h = length_h(load.between);
  if (window_h <= 0.0) {
    section.fail("away", "leaves no time at all", "shorter than `between`");
  }
  const auto use = read_use(section);
  if (use && use->hours > window_h + 1e-9) {
    const std::string hours = fmt::format("{:g}", use->hours);
    section.fail(use->key, use->key == "hours_per_day" ? "is " + hours : "makes " + hours + " h",
                 fmt::format("up to the {:.2f} h of its windows", window_h),
                 "Widen `between`, or lower the hours.");
  }
  load.hours_stated = use.has_value();
  load.hours_per_day = use ? use->hours : window_h;
}

}  // namespace

std::string to_string(LoadSide side) {
  switch (side) {
    case LoadSide::dc:
      return "dc";
    case LoadSide::ac:
      return "ac";
    case LoadSide::dc_via_ac:
      return "dc-via-ac";
  }
  return {};
}

std::string to_string(DayPart part) {
  return part == DayPart::dark ? "dark" : "daylight";
}

LoadSide read_side(TomlSection& section, LoadSide otherwise) {
  const auto word = section.choice("side", {"dc", "ac", "dc-via-ac"});
  if (!word) return otherwise;
  return *word == "dc" ? LoadSide::dc : *word == "ac" ? LoadSide::ac : LoadSide::dc_via_ac;
}

Load read_load(TomlSection& section, const std::vector<Load>& others,
               std::optional<double> nominal_v) {
  Load load;
  load.name = section.required_text("name");
  for (const auto& other : others) {
    if (other.name == load.name) {
      section.fail("name", fmt::format("is \"{}\" a second time", load.name),
                   "a name of its own for each load");
    }
  }
  read_power(section, nominal_v, load);
  read_times(section, load);
  load.varies = section.number_or("varies", 0.0, {0.0, 2.0},
                                  "Standard deviation over mean of the daily use, e.g. 0.3.");
  load.dull_day_factor = section.number_or("dull_day_factor", 1.0, {0.0, 10.0});
  if (section.has("varies") && !load.hours_stated) {
    section.fail("varies", "needs hours_per_day", "",
                 "It changes the hours of use: say how many are usual, within `between`.");
  }
  load.optional_below = section.number("optional_below", kShareRange);
  section.finish();
  return load;
}

}  // namespace dullspell
