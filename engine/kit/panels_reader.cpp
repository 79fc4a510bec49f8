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

}  // namespace

ReadPanels read_panels(TomlSection& root) {
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
    group.controller = controller_of(section, group.name, shared, out.controllers);
    section.finish();
    out.panels.push_back(group);
  }
  return out;
}

}  // namespace dullspell
