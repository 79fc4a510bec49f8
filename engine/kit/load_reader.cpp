#include "engine/kit/load_reader.hpp"

#include <fmt/format.h>

#include "engine/kit/key_ranges.hpp"

namespace dullspell {
namespace {

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

void read_times(TomlSection& section, Load& load) {
  auto windows = one_or_more_windows(section, "between");
  if (windows.empty()) windows = {kWholeDay};
  load.between = windows_without(windows, one_or_more_windows(section, "away"));
  const double window_h = length_h(load.between);
  if (window_h <= 0.0) {
    section.fail("away", "leaves no time at all", "shorter than `between`");
  }
  const auto hours = section.number("hours_per_day", {0.0, 24.0, kHoursUnit});
  if (hours && *hours > window_h + 1e-9) {
    section.fail("hours_per_day", fmt::format("is {:g}", *hours),
                 fmt::format("up to the {:.2f} h of its windows", window_h),
                 "Widen `between`, or lower the hours.");
  }
  load.hours_stated = hours.has_value();
  load.hours_per_day = hours.value_or(window_h);
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
  for (const char* key : {"varies", "dull_day_factor"}) {
    if (section.has(key) && !load.hours_stated) {
      section.fail(key, "needs hours_per_day", "",
                   "It changes the hours of use: say how many are usual, within `between`.");
    }
  }
  load.optional_below = section.number("optional_below", kShareRange);
  section.finish();
  return load;
}

}  // namespace dullspell
