#include "engine/kit/panels_reader.hpp"

#include <algorithm>
#include <string>

#include <fmt/format.h>

#include "weather/input/nearest_word.hpp"

namespace dullspell {
namespace {

Mount read_mount(TomlSection& panel) {
  if (panel.is_text("mount")) {
    if (const auto word = panel.text("mount"); *word != "flat") {
      panel.fail("mount", fmt::format("is \"{}\"", *word),
                 "\"flat\", { tilt_deg = .., azimuth_deg = .. } or { aimed_at = [..] }",
                 did_you_mean(*word, std::vector<std::string>{"flat"}, '"'));
    }
    return PlaneDirection{0.0, 180.0};
  }
  auto mount = panel.section("mount");
  if (!mount) return PlaneDirection{0.0, 180.0};
  if (const auto times = mount->clock_times("aimed_at")) {
    if (times->empty()) mount->fail("aimed_at", "is empty", "one or more times of day");
    AimedMount aimed{*times};
    std::sort(aimed.at_min.begin(), aimed.at_min.end());
    mount->finish();
    return aimed;
  }
  const PlaneDirection plane{
      mount->required_number("tilt_deg", {0.0, 90.0, "degrees from flat"}),
      mount->required_number("azimuth_deg", {0.0, 360.0, "degrees from north, south 180"})};
  mount->finish();
  return plane;
}

Controller read_controller(TomlSection& section, const std::vector<Controller>& others) {
  Controller controller;
  controller.name = section.required_text("name");
  controller.limit_w = section.required_number("limit_w", {1.0, 30000.0, "W"});
  for (const auto& other : others) {
    if (other.name == controller.name) {
      section.fail("name", fmt::format("is \"{}\" a second time", controller.name),
                   "a name of its own for each controller");
    }
  }
  section.finish();
  return controller;
}

// One of the first `shared` controllers by its name, or one of its own.
std::size_t controller_of(TomlSection& section, const std::string& group, std::size_t shared,
                          std::vector<Controller>& controllers) {
  const auto own_limit = section.number("controller_limit_w", {1.0, 30000.0, "W"});
  const auto name = section.text("controller");
  if (name && own_limit) {
    section.fail("controller_limit_w", "is given besides controller", "one of the two");
  }
  if (!name) {
    controllers.push_back({group, own_limit.value_or(kNoLimit_w)});
    return controllers.size() - 1;
  }
  const auto begin = controllers.begin();
  const auto end = begin + static_cast<std::ptrdiff_t>(shared);
  const auto it = std::find_if(begin, end, [&](const auto& c) { return c.name == *name; });
  if (it == end) {
    section.fail("controller",
                 fmt::format("is \"{}\", which no [[controller]] has as its name", *name),
                 "the name of a [[controller]]");
  }
  return static_cast<std::size_t>(it - begin);
}

double cable_area_mm2(TomlSection& section) {
  const auto area_mm2 = section.number("cable_mm2", {0.5, 150.0, "mm2"});
  const auto gauge = section.integer("cable_awg", 0, 24, "A gauge such as 10; 8 is thicker.");
  if (area_mm2 && gauge) section.fail("cable_awg", "is given besides cable_mm2", "one of the two");
  if (!area_mm2 && !gauge) {
    section.fail("cable_m", "needs the cable's cross-section", "cable_mm2 or cable_awg besides");
  }
  return area_mm2 ? *area_mm2 : awg_mm2(*gauge);
}

void check_cable(const TomlSection& section, const Wiring& wiring, double rated_w) {
  const double share = cable_share(wiring, rated_w);
  if (share <= kMostCableShare) return;
  section.fail("cable_m",
               fmt::format("loses {:.0f} % of the rated power in the cable", 100.0 * share),
               fmt::format("up to {:.0f} %", 100.0 * kMostCableShare),
               "Check length (one way), cross-section and vmp_v: panels in series have the sum of "
               "theirs.");
}

// What holds the panels at the battery's own voltage.
double switched_battery_v(const TomlSection& section, const std::optional<double>& battery_v,
                          double vmp_v) {
  if (!battery_v) {
    section.fail("tracking", "needs the battery's nominal_v",
                 "\"mppt\", or \"pwm\" with battery.nominal_v");
  }
  if (vmp_v <= *battery_v) {
    section.fail("vmp_v", fmt::format("is {:g}", vmp_v),
                 fmt::format("more than the battery's {:g} V", *battery_v),
                 "Panels charge a battery only from a higher voltage.");
  }
  return *battery_v;
}

std::optional<Wiring> read_wiring(TomlSection& section, double rated_w,
                                  const std::optional<double>& battery_v) {
  const auto vmp_v = section.number("vmp_v", {5.0, 600.0, "V"});
  const auto length_m =
      section.number("cable_m", {0.1, 200.0, "m"}, "The way to the panels, once.");
  const bool pwm = section.choice("tracking", {"mppt", "pwm"}).value_or("mppt") == "pwm";
  if (!length_m) {
    for (const char* key : {"cable_mm2", "cable_awg"}) {
      section.refuse(key, "is given without the cable's length", "cable_m besides");
    }
  }
  if (!length_m && !pwm) return std::nullopt;
  if (!vmp_v) {
    section.fail(
        length_m ? "cable_m" : "tracking", "needs the panels' voltage", "vmp_v besides",
        "The label has it as Vmp: some 18 V for a module made for 12 V; in series they add "
        "up.");
  }
  Wiring wiring;
  wiring.vmp_v = *vmp_v;
  if (length_m) {
    wiring.cable_ohm = copper_ohm(*length_m, cable_area_mm2(section));
    check_cable(section, wiring, rated_w);
  }
  if (pwm) wiring.pwm_battery_v = switched_battery_v(section, battery_v, *vmp_v);
  return wiring;
}

}  // namespace

ReadPanels read_panels(TomlSection& root, const std::optional<double>& battery_v) {
  ReadPanels out;
  for (TomlSection& section : root.sections("controller")) {
    out.controllers.push_back(read_controller(section, out.controllers));
  }
  const std::size_t shared = out.controllers.size();
  for (TomlSection& section : root.sections("panels")) {
    PanelGroup group;
    group.name = section.text("name").value_or(fmt::format("panels {}", out.panels.size() + 1));
    group.rated_w =
        section.required_number("rated_w", kPanelsRange_w, "The sum of the modules' rated watts.");
    group.mount = read_mount(section);
    group.losses = section.number_or("losses", 0.10, {0.0, 0.9},
                                     "Wiring, dirt, mismatch and controller together.");
    group.dull_light = section.choice("dull_light", {"usual", "poor"}).value_or("usual") == "poor"
                           ? DullLight::poor
                           : DullLight::usual;
    group.wiring = read_wiring(section, group.rated_w, battery_v);
    group.controller = controller_of(section, group.name, shared, out.controllers);
    section.finish();
    out.panels.push_back(group);
  }
  return out;
}

}  // namespace dullspell
