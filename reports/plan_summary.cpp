#include "reports/plan_summary.hpp"

#include <fmt/format.h>

namespace dullspell {
namespace {

std::string kit_line(const Plan& plan) {
  std::string text = fmt::format(
      "battery {} {} ({} to use)", energy(plan.battery.capacity_wh), plan.battery.chemistry,
      energy(plan.battery.usable_wh() * plan.battery.discharge_efficiency));
  double panels_w = 0.0;
  for (const auto& group : plan.panels) panels_w += group.rated_w;
  text += plan.panels.empty() ? ", no panels" : fmt::format(", panels {:.0f} W", panels_w);
  if (plan.inverter) text += fmt::format(", inverter {:.0f} W", plan.inverter->rated_w);
  if (plan.generator) {
    const Generator& generator = *plan.generator;
    text += fmt::format(", generator {:.0f} W", generator.rated_w);
    if (generator.fuel != Fuel::gasoline) {
      text += fmt::format(" on {}", to_string(generator.fuel));
    }
  }
  return text;
}

std::string sky_text(const KnownDate& known) {
  if (const auto* word = std::get_if<SkyWord>(&known.sky)) return to_string(*word);
  return fmt::format("clearness {:.2f} ± {:.2f}", known.stated.k, known.stated.k_spread);
}

std::string known_line(const std::vector<KnownDate>& dates) {
  std::string days, yesterday;
  for (const KnownDate& known : dates) {
    if (known.day < 0) {
      yesterday = "yesterday " + sky_text(known);
    } else {
      days +=
          fmt::format("{}{} {}", days.empty() ? "" : ", ", short_date(known.date), sky_text(known));
    }
  }
  return fmt::format("Known: {}{}{}.", days, days.empty() || yesterday.empty() ? "" : "; ",
                     yesterday);
}

// What is known beyond the plan as it was written before leaving.
void add_state(std::vector<std::string>& lines, const Plan& plan,
               const std::vector<KnownDate>& known) {
  if (plan.now) {
    lines.push_back(fmt::format("Under way: from {} {:02}:00 on, with {} of charge.",
                                short_date(plan.arrive + std::chrono::days{plan.now->day}),
                                plan.now->hour_of_day, whole_percent(plan.battery.start_charge)));
  }
  if (!known.empty()) lines.push_back(known_line(known));
  std::string settings;
  for (const auto& s : plan.settings) settings += (settings.empty() ? "" : ", ") + s;
  if (!settings.empty()) lines.push_back(fmt::format("Changed for this run: {}.", settings));
}

}  // namespace

std::string clock_name(double offset_h, bool summer_time) {
  return fmt::format("UTC{:+g}{}", offset_h, summer_time ? ", summer time" : "");
}

std::string clock_name(const Plan& plan) {
  return clock_name(plan.clock_offset_h, plan.summer_time);
}

std::string generator_rule(const Generator& g) {
  std::string windows;
  for (const auto& w : g.allowed) {
    windows += fmt::format("{}{}–{}", windows.empty() ? "" : ", ", clock_text(w.from_min),
                           clock_text(w.to_min));
  }
  if (g.rule == GeneratorRule::below) {
    return fmt::format("started below {} of charge, stopped at {}, within {}",
                       whole_percent(g.start_below), whole_percent(g.stop_at), windows);
  }
  return fmt::format(
      "run as late as possible and only as long as reaches the next window, within {}", windows);
}

namespace {

// Where a camp is, and whether its weather is that of a record.
std::string camp_name(const Camp& camp) {
  const bool blended = camp.place.record == RecordKind::blended;
  return camp.place.name + (blended ? ", by what is known around it" : "");
}

}  // namespace

std::vector<std::string> plan_summary(const Plan& plan, const std::vector<KnownDate>& known) {
  std::vector<std::string> lines{
      fmt::format("{} {:02}:00 to {} {:02}:00 ({}), {} night{}", long_date(plan.arrive),
                  plan.arrive_hour, long_date(plan.departure()), plan.leave_hour, clock_name(plan),
                  plan.nights(), plan.nights() == 1 ? "" : "s")};
  for (const Camp& camp : plan.camps) {
    std::string text =
        fmt::format("{} night{} at {}", camp.nights, camp.nights == 1 ? "" : "s", camp_name(camp));
    if (camp.canopy > 0.0)
      text += fmt::format(", trees cover {} of the sky", whole_percent(camp.canopy));
    if (!camp.skyline.empty()) text += ", with a skyline";
    if (camp.hookup) text += ", on shore power";
    lines.push_back(text);
  }
  lines.push_back(kit_line(plan));
  add_state(lines, plan, known);
  return lines;
}

std::string study_footer(std::uint64_t stays, std::uint64_t seed) {
  return fmt::format("{} stays, seed {}. Intervals are 95 %.", grouped(stays), seed);
}

Step step_to_change_plan() {
  return {
      "To change the plan: `dullspell levers` says which single change takes the most risk off, "
      "`dullspell size` how large a battery it takes."};
}

}  // namespace dullspell
