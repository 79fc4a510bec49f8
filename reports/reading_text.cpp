#include "reports/reading_text.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "reports/number_text.hpp"

namespace dullspell {
namespace {

std::string listed(const std::vector<std::string>& names) {
  std::string out;
  for (const std::string& name : names) out += (out.empty() ? "" : ", ") + name;
  return out;
}

std::string quoted_list(const std::vector<std::string>& names) {
  std::string out;
  for (const std::string& name : names) out += (out.empty() ? "\"" : ", \"") + name + "\"";
  return "[" + out + "]";
}

std::string circumstances(const Reading& reading, const Plan& plan) {
  std::string out;
  if (reading.kind == ReadingKind::delivered_wh) return out;
  if (reading.in_the_open) {
    out += ", in the open";
  } else if (plan.camps.size() > 1) {
    out += fmt::format(", camp {}", reading.camp + 1);
  }
  if (reading.on)
    out += reading.on->empty() ? ", only standby on" : ", only " + listed(*reading.on) + " on";
  if (!reading.off.empty()) out += ", without " + listed(reading.off);
  return out;
}

// What a day's use is read for: all else that a plan may switch off is off.
const char* used_by(const Reading& reading, const Plan& plan) {
  const bool fridge = plan.fridge && std::find(reading.off.begin(), reading.off.end(),
                                               kFridgeName) == reading.off.end();
  return fridge ? kFridgeName : kFurnaceName;
}

// What else is on and off while only standby and named loads draw.
std::string kit_text(const Plan& plan) {
  std::string off = plan.fridge ? kFridgeName : "";
  if (plan.furnace) off += off.empty() ? kFurnaceName : std::string(" and ") + kFurnaceName;
  if (!off.empty()) off += " off";
  if (!plan.inverter) return off.empty() ? off : " (" + off + ")";
  return fmt::format(" ({}{}inverter on)", off, off.empty() ? "" : ", ");
}

std::string counts_text(const Plan& plan) {
  return plan.inverter ? ", and `counts = \"battery\"` if the display is a battery monitor's" : "";
}

const char* what(ReadingKind kind) {
  switch (kind) {
    case ReadingKind::charge:
      return "charge";
    case ReadingKind::panels_w:
      return "panels";
    case ReadingKind::draw_w:
      return "draw";
    case ReadingKind::panels_wh:
      return "from panels";
    case ReadingKind::used_wh:
      return "used";
    case ReadingKind::delivered_wh:
      return "full discharge";
  }
  return "";
}

}  // namespace

std::string time_text(const LocalTime& time) {
  return fmt::format("{} {}", short_date(time.date), clock_text(time.minute_of_day));
}

std::string reading_name(const Reading& reading, const Plan& plan) {
  std::string out = fmt::format("{}{}", reading.logged ? "log: " : "", what(reading.kind));
  if (reading.kind == ReadingKind::delivered_wh)
    return out + fmt::format(" at {:.0f} W", reading.at_w);
  out += ", " + time_text(reading.from);
  if (!is_at_a_time(reading.kind)) {
    out += " to " + (reading.to.date == reading.from.date ? clock_text(reading.to.minute_of_day)
                                                          : time_text(reading.to));
  }
  return out + circumstances(reading, plan);
}

std::string reading_value(ReadingKind kind, double value) {
  switch (kind) {
    case ReadingKind::charge:
      return whole_percent(value);
    case ReadingKind::panels_w:
    case ReadingKind::draw_w:
      return fmt::format("{:.0f} W", value);
    case ReadingKind::panels_wh:
    case ReadingKind::used_wh:
    case ReadingKind::delivered_wh:
      return energy(value);
  }
  return {};
}

std::string figure_number(double value, std::string_view unit) {
  return fmt::format("{:.{}f}", value, unit.empty() ? 2 : value < 100.0 ? 1 : 0);
}

std::string how_to_take(const Reading& reading, const Plan& plan) {
  switch (reading.kind) {
    case ReadingKind::charge:
      return "The charge one evening after dark and again the next morning before sunrise, with "
             "everything in use as at camp and nothing charging: `charge_from` and `from`, "
             "`charge_to` and `to`.";
    case ReadingKind::panels_w: {
      const std::string shade =
          reading.in_the_open
              ? "in the open, away from all shade: `panels_w`, `at`, `camp = \"open\"`"
              : fmt::format("under the trees of camp {0}: `panels_w`, `at`, `camp = {0}`",
                            reading.camp + 1);
      return "The watts from the panels at noon on a clear day, placed as at camp, battery not "
             "full, " +
             shade + ", `sky = \"clear\"`.";
    }
    case ReadingKind::draw_w:
      return fmt::format(
          "The watts drawn with nothing on but {}what runs day and night{}: `draw_w`, `at`, "
          "`on = {}`{}.",
          reading.on->empty() ? "" : listed(*reading.on) + " and ", kit_text(plan),
          quoted_list(*reading.on), counts_text(plan));
    case ReadingKind::used_wh:
      return fmt::format(
          "The energy used in a day and a night with nothing in use but the {} and what runs day "
          "and "
          "night: `used_wh`, `from`, `to`, `off = {}`{}.",
          used_by(reading, plan), quoted_list(reading.off), counts_text(plan));
    case ReadingKind::panels_wh:
      return "The energy from the panels over a day: `from_panels_wh`, `from`, `to`.";
    case ReadingKind::delivered_wh:
      return fmt::format(
          "The energy of one full discharge at about {:.0f} W, from full until the battery cuts "
          "off: `delivered_wh`, `at_w`{}.",
          reading.at_w, counts_text(plan));
  }
  return {};
}

std::vector<Look> looks_of(const Reading& reading, const Plan& plan) {
  switch (reading.kind) {
    case ReadingKind::charge:
      return {{"charge, after dark", "%", "from, charge_from"},
              {"charge, next morning", "%", "to, charge_to"}};
    case ReadingKind::panels_w:
      return {{reading.in_the_open
                   ? "panels, in the open"
                   : fmt::format("panels, under the trees of camp {}", reading.camp + 1),
               "W", "at, panels_w"}};
    case ReadingKind::draw_w:
      return {{reading.on->empty() ? "draw, standby only"
                                   : fmt::format("draw, only {} on", listed(*reading.on)),
               "W", "at, draw_w"}};
    case ReadingKind::used_wh: {
      const std::string used = fmt::format("energy used, {}", used_by(reading, plan));
      return {{used + ", first look", "Wh", "from"}, {used + ", a day later", "Wh", "to, used_wh"}};
    }
    case ReadingKind::panels_wh:
      return {{"energy from the panels, first look", "Wh", "from"},
              {"energy from the panels, a day later", "Wh", "to, from_panels_wh"}};
    case ReadingKind::delivered_wh:
      return {{"full discharge, battery full", "Wh", ""},
              {"full discharge, watts meanwhile", "W", "at_w"},
              {"full discharge, at cut-off", "Wh", "delivered_wh"}};
  }
  return {};
}

std::string slip_text(Slip slip, const Reading& reading) {
  switch (slip) {
    case Slip::ends_swapped:
      return "charge_from and charge_to look swapped, or a charge was read and not a discharge";
    case Slip::other_side_of_inverter:
      return reading.counted_at == CountedAt::loads
                 ? "it fits if the display counts what leaves the battery, the inverter's losses "
                   "with it: counts = \"battery\""
                 : "it fits if the display counts what the loads take: counts = \"loads\"";
    case Slip::half_a_day:
      return "it fits twelve hours later: morning and evening may be mixed up";
    case Slip::other_shade:
      return reading.in_the_open
                 ? "it fits if the panels stood under the trees: leave camp = \"open\" out"
                 : "it fits if the panels stood in the open: camp = \"open\"";
    case Slip::kilowatt_hours:
      return "it looks like kWh: write it in Wh";
  }
  return {};
}

}  // namespace dullspell
