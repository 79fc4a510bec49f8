#include "engine/guesses/reading_reader.hpp"

#include <algorithm>
#include <initializer_list>
#include <iterator>

#include <fmt/format.h>

#include "engine/kit/key_ranges.hpp"
#include "engine/plan/known_days_reader.hpp"
#include "engine/plan/time_reader.hpp"

namespace dullspell {
namespace {

constexpr Range kReadEnergy{0.0, 200'000.0, "Wh"};
constexpr std::string_view kChargeFix = "What the display shows, as a share: 0.85 for 85 %.";

struct ReadingKey {
  const char* key;
  ReadingKind kind;
};
constexpr ReadingKey kKeys[] = {
    {"charge_to", ReadingKind::charge}, {"panels_w", ReadingKind::panels_w},
    {"draw_w", ReadingKind::draw_w},    {"from_panels_wh", ReadingKind::panels_wh},
    {"used_wh", ReadingKind::used_wh},  {"delivered_wh", ReadingKind::delivered_wh}};

// What else a reading may state, by what was read.
struct OtherKey {
  const char* key;
  std::initializer_list<ReadingKind> of;
};
const OtherKey kOtherKeys[] = {
    {"charge_from", {ReadingKind::charge}},
    {"from", {ReadingKind::charge, ReadingKind::panels_wh, ReadingKind::used_wh}},
    {"to", {ReadingKind::charge, ReadingKind::panels_wh, ReadingKind::used_wh}},
    {"at", {ReadingKind::panels_w, ReadingKind::draw_w}},
    {"at_w", {ReadingKind::delivered_wh}},
    {"counts", {ReadingKind::draw_w, ReadingKind::used_wh, ReadingKind::delivered_wh}},
    {"camp",
     {ReadingKind::charge, ReadingKind::panels_w, ReadingKind::draw_w, ReadingKind::panels_wh,
      ReadingKind::used_wh}},
    {"sky", {ReadingKind::charge, ReadingKind::panels_w, ReadingKind::panels_wh}},
    {"k", {ReadingKind::charge, ReadingKind::panels_w, ReadingKind::panels_wh}},
    {"k_spread", {ReadingKind::charge, ReadingKind::panels_w, ReadingKind::panels_wh}},
    {"on", {ReadingKind::charge, ReadingKind::draw_w, ReadingKind::used_wh}},
    {"off", {ReadingKind::charge, ReadingKind::draw_w, ReadingKind::used_wh}}};

bool goes_with(const OtherKey& other, ReadingKind kind) {
  return std::find(other.of.begin(), other.of.end(), kind) != other.of.end();
}

bool may_state(std::string_view key, ReadingKind kind) {
  return std::any_of(std::begin(kOtherKeys), std::end(kOtherKeys), [&](const OtherKey& other) {
    return other.key == key && goes_with(other, kind);
  });
}

// One of the keys that say what was read.
ReadingKey what_is_read(const TomlSection& section) {
  const ReadingKey* found = nullptr;
  for (const ReadingKey& key : kKeys) {
    if (!section.has(key.key)) continue;
    if (found) {
      section.fail(key.key, fmt::format("is given besides {}", found->key), "one of the two",
                   "A reading is one thing that the display showed; write a [[reading]] each.");
    }
    found = &key;
  }
  if (!found) {
    section.fail_here("says nothing that was read",
                      "charge_from and charge_to, panels_w, draw_w, from_panels_wh, used_wh or "
                      "delivered_wh");
  }
  return *found;
}

void read_span(TomlSection& section, Reading& reading) {
  reading.from = required_time(section, "from");
  reading.to = required_time(section, "to");
  const int length_min = minutes_between(reading.from, reading.to);
  if (length_min <= 0 || length_min > 1440 * kLongestReading_days) {
    section.fail("to", length_min <= 0 ? "is not after `from`" : "is more than a week after `from`",
                 fmt::format("a time up to {} days after `from`", kLongestReading_days));
  }
}

// The names in a list, each one that the plan has.
std::optional<std::vector<std::string>> read_names(TomlSection& section, const char* key,
                                                   const Plan& plan) {
  std::vector<std::string> known;
  for (const Load& load : plan.loads) known.push_back(load.name);
  if (plan.fridge) known.emplace_back(kFridgeName);
  if (plan.furnace) known.emplace_back(kFurnaceName);
  if (plan.inverter) known.emplace_back(kInverterName);
  return section.choices(key, known);
}

void read_camp_of(TomlSection& section, const Plan& plan, Reading& reading) {
  if (section.is_text("camp")) {
    section.choice("camp", {"open"});
    reading.in_the_open = true;
    return;
  }
  const auto number = section.integer("camp", 1, static_cast<int>(plan.camps.size()),
                                      "The number of a camp of the plan, or \"open\".");
  if (number) reading.camp = static_cast<std::size_t>(*number - 1);
}

Reading read_reading(TomlSection& section, const Plan& plan) {
  const ReadingKey what = what_is_read(section);
  Reading reading;
  reading.kind = what.kind;
  switch (what.kind) {
    case ReadingKind::charge:
      reading.charge_from = section.required_number("charge_from", kShareRange, kChargeFix);
      reading.shown = section.required_number("charge_to", kShareRange, kChargeFix);
      read_span(section, reading);
      break;
    case ReadingKind::panels_w:
    case ReadingKind::draw_w:
      reading.shown = section.required_number(what.key, kWattsRange);
      reading.from = reading.to = required_time(section, "at");
      break;
    case ReadingKind::panels_wh:
    case ReadingKind::used_wh:
      reading.shown = section.required_number(what.key, kReadEnergy);
      read_span(section, reading);
      break;
    case ReadingKind::delivered_wh:
      reading.shown = section.required_number(what.key, {10.0, 200'000.0, "Wh"});
      reading.at_w = section.required_number("at_w", {1.0, 20'000.0, "W"},
                                             "The draw of that discharge by the display.");
      break;
  }
  for (const ReadingKey& other : kKeys) {
    if (other.kind != what.kind) section.refuse(other.key, "is a reading of its own");
  }
  for (const OtherKey& other : kOtherKeys) {
    if (!goes_with(other, what.kind)) {
      section.refuse(other.key, fmt::format("does not go with {}", what.key));
    }
  }
  if (is_of_panels(what.kind) && plan.panels.empty()) {
    section.fail(what.key, "is given, but the plan has no panels", "a plan with [[panels]]");
  }
  if (may_state("counts", what.kind) &&
      section.choice("counts", {"loads", "battery"}) == "battery") {
    reading.counted_at = CountedAt::battery;
  }
  if (may_state("camp", what.kind)) read_camp_of(section, plan, reading);
  if (may_state("sky", what.kind)) reading.sky = read_sky(section);
  if (may_state("on", what.kind)) {
    reading.on = read_names(section, "on", plan);
    reading.off = read_names(section, "off", plan).value_or(std::vector<std::string>{});
    if (reading.on && !reading.off.empty()) {
      section.fail("off", "is given besides on", "one of the two",
                   "`on` names all that ran, and no other but standby did.");
    }
  }
  section.finish();
  return reading;
}

}  // namespace

const char* key_of(ReadingKind kind) {
  return std::find_if(std::begin(kKeys), std::end(kKeys),
                      [&](const ReadingKey& key) { return key.kind == kind; })
      ->key;
}

std::vector<Reading> read_readings(TomlSection& root, const Plan& plan) {
  std::vector<Reading> out;
  for (TomlSection& section : root.sections("reading")) out.push_back(read_reading(section, plan));
  return out;
}

}  // namespace dullspell
