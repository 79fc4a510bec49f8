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
      return "The charge one evening after dark and again the next morning, with everything in use "
             "as at camp: `charge_from` and `from`, `charge_to` and `to`.";
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
      if (reading.on && reading.on->empty()) {
        return "The watts drawn with everything off that can be switched off: `draw_w`, `at`, "
               "`on = []`, and `counts = \"battery\"` if the display is a battery monitor's.";
      }
      return fmt::format("The watts drawn with only {} on besides: `draw_w`, `at`, `on = {}`.",
                         listed(*reading.on), quoted_list(*reading.on));
    case ReadingKind::used_wh:
      return fmt::format(
          "The energy used in a day and a night with nothing in use but the {} and what never "
          "stops: `used_wh`, `from`, `to`, `off = {}`.",
          plan.fridge && std::find(reading.off.begin(), reading.off.end(), kFridgeName) ==
                             reading.off.end()
              ? kFridgeName
              : kFurnaceName,
          quoted_list(reading.off));
    case ReadingKind::panels_wh:
      return "The energy from the panels over a day: `from_panels_wh`, `from`, `to`.";
    case ReadingKind::delivered_wh:
      return fmt::format(
          "The energy of one full discharge at about {:.0f} W, full to cut-off: `delivered_wh`, "
          "`at_w`.",
          reading.at_w);
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
