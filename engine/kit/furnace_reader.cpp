#include "engine/kit/furnace_reader.hpp"

#include <array>
#include <cstddef>

#include <fmt/format.h>

namespace dullspell {
namespace {

constexpr Range kHeld{-20.0, 35.0, "C"};
constexpr std::string_view kHeatUnit = "W of heat";

std::vector<HoldWindow> read_hold(TomlSection& section) {
  const std::string key = section.typed_key("hold_c", kHeld.unit);
  auto windows = section.sections(key);
  if (windows.empty()) {
    section.fail(
        key, "is missing",
        "windows such as [{ from = \"22:00\", to = \"07:00\", c = 14 }], or hold_f with f");
  }
  std::vector<HoldWindow> held;
  std::array<int, 1440> taken{};
  for (TomlSection& hold : windows) {
    const auto from = hold.clock_time("from");
    const auto to = hold.clock_time("to");
    if (!from || !to) hold.fail_here("needs both from and to", "two times of day");
    HoldWindow out{{*from, *to == 0 ? 1440 : *to}, 0.0};
    if (out.window.from_min == out.window.to_min || out.window.from_min == 1440) {
      hold.fail("to", "makes a window of no length", "two times that differ");
    }
    if (key != "hold_c") {
      hold.refuse("c", fmt::format("stands in {}", key), "f, in F",
                  "Windows with c go into hold_c.");
      if (!hold.has("f")) hold.fail("f", "is missing", "how warm it is held, in F");
    }
    out.set_point_c = hold.required_number("c", kHeld);
    for (int i = 0; i < out.window.length_min(); ++i) {
      if (taken[static_cast<std::size_t>((out.window.from_min + i) % 1440)]++ > 0) {
        hold.fail("from", "begins a window that overlaps another", "windows side by side");
      }
    }
    hold.finish();
    held.push_back(out);
  }
  return held;
}

}  // namespace

Furnace read_furnace(TomlSection& section) {
  Furnace furnace;
  furnace.blower_w = section.required_number("blower_w", {0.0, 1000.0, "W"});
  furnace.output_w = section.required_number("output_w", {100.0, 50000.0, kHeatUnit});
  furnace.heat_loss_w_per_k =
      section.required_number("heat_loss_w_per_k", {1.0, 2000.0, "W/K"},
                              "About 30 to 60 W/K for a small insulated van, 80 to 200 for a "
                              "trailer, 200 to 400 for canvas; 1 W/K is 1.9 BTU/h per F.");
  furnace.gains_w = section.number_or("gains_w", 0.0, {0.0, 3000.0, kHeatUnit});
  furnace.other_heat_c = section.number("other_heat_c", kHeld);
  furnace.hold = read_hold(section);
  section.finish();
  return furnace;
}

}  // namespace dullspell
