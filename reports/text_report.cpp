#include "reports/text_report.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "reports/cautions.hpp"
#include "reports/hindcast_report.hpp"
#include "reports/number_text.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

void heading(std::ostream& out, std::string_view text) {
  fmt::print(out, "\n{}\n", text);
}

std::string clock_name(const Plan& plan) {
  return fmt::format("UTC{:+g}{}", plan.clock_offset_h, plan.summer_time ? ", summer time" : "");
}

std::string climate_text(const std::optional<Interval>& climate) {
  return climate ? percent_interval(*climate) : "–";
}

void write_days(std::ostream& out, const RunReport& report) {
  const bool both = report.result.generator.has_value();
  heading(out, both ? "Day by day, generator left at home" : "Day by day");
  const auto row = [&](std::string_view date, std::string_view that_day, std::string_view by_then,
                       std::string_view sampling, std::string_view climate, std::string_view low,
                       std::string_view lowest) {
    fmt::print(out, "  {}{}{}  {}{}{}{}\n", left_aligned(date, 11), right_aligned(that_day, 13),
               right_aligned(by_then, 14), left_aligned(sampling, 15), left_aligned(climate, 14),
               right_aligned(low, 11), right_aligned(lowest, 9));
  };
  row("date", "flat that day", "flat by then", "sampling", "climate", "morning low", "1 in 20");
  for (const DayRisk& day : report.result.home.days) {
    const auto low = [&](double ChargeQuantiles::*q) {
      return day.morning_low ? whole_percent((*day.morning_low).*q) : std::string("–");
    };
    row(short_date(day.date), percent(day.flat_on_day), percent(day.flat_by_day),
        percent_interval(day.flat_by_day), climate_text(day.flat_by_day_climate),
        low(&ChargeQuantiles::p50), low(&ChargeQuantiles::p05));
  }
  fmt::print(
      out, "{}",
      wrapped("sampling: 95 % interval of `flat by then` for this number of stays; climate: "
              "the same with what the place's record cannot tell. Morning low: least state "
              "of charge between midnight and noon in the middle stay, and in the worst stay "
              "of twenty.",
              92, 2));
}

void write_generator(std::ostream& out, const RunReport& report) {
  if (!report.result.generator) return;
  const GeneratorResult& g = *report.result.generator;
  const Generator& set = *report.plan.generator;
  heading(out, "Generator along");
  fmt::print(out, "{}", wrapped(generator_rule(set) + ".", 92, 2));
  fmt::print(out, "  {}{}{}{}\n", left_aligned("a stay", 40), right_aligned("typical", 10),
             right_aligned("1 in 10", 10), right_aligned("1 in 100", 10));
  const auto row = [&](std::string_view name, const Spread& s, int decimals) {
    const auto cell = [&](double v) {
      return right_aligned(fmt::format("{:.{}f}", v, decimals), 10);
    };
    fmt::print(out, "  {}{}{}{}\n", left_aligned(name, 40), cell(s.p50), cell(s.p90), cell(s.p99));
  };
  row("hours it runs by its rule", g.hours, 1);
  row("litres of fuel", g.fuel_l, 1);
  if (set.tank_l) {
    const Spread tanks{g.fuel_l.mean / *set.tank_l, g.fuel_l.p50 / *set.tank_l,
                       g.fuel_l.p90 / *set.tank_l, g.fuel_l.p99 / *set.tank_l};
    row(fmt::format("tanks of {:g} L", *set.tank_l), tanks, 1);
  }
  row("starts", g.starts, 0);
  if (g.least_hours) row("least hours, had one known the weather", *g.least_hours, 1);
  fmt::print(out, "  Flat even so: {} (sampling {}, climate {}).", percent(g.risk.flat),
             percent_interval(g.risk.flat), climate_text(g.risk.flat_climate));
  if (g.not_enough.count > 0) {
    fmt::print(out, " No use of the allowed hours would have saved {}.", percent(g.not_enough));
  }
  fmt::print(out, "\n");
}

std::string kit_line(const Plan& plan) {
  std::string text = fmt::format(
      "battery {} {} ({} to use)", energy(plan.battery.capacity_wh), plan.battery.chemistry,
      energy(plan.battery.usable_wh() * plan.battery.discharge_efficiency));
  double panels_w = 0.0;
  for (const auto& group : plan.panels) panels_w += group.rated_w;
  text += plan.panels.empty() ? ", no panels" : fmt::format(", panels {:.0f} W", panels_w);
  if (plan.inverter) text += fmt::format(", inverter {:.0f} W", plan.inverter->rated_w);
  if (plan.generator) text += fmt::format(", generator {:.0f} W", plan.generator->rated_w);
  return text;
}

std::string sky_text(const KnownDate& known) {
  if (const auto* word = std::get_if<SkyWord>(&known.sky)) return to_string(*word);
  return fmt::format("K {:.2f} ± {:.2f}", known.stated.k, known.stated.k_spread);
}

std::string known_line(const PreparedPlan& prepared) {
  std::string days, yesterday;
  for (const KnownDate& known : prepared.known) {
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
void add_state(std::vector<std::string>& lines, const Plan& plan, const PreparedPlan& prepared) {
  if (plan.now) {
    lines.push_back(fmt::format("Under way: from {} {:02}:00 on, with {} of charge.",
                                short_date(prepared.dates.front()), plan.now->hour_of_day,
                                whole_percent(plan.battery.start_charge)));
  }
  if (!prepared.known.empty()) lines.push_back(known_line(prepared));
  std::string settings;
  for (const auto& s : plan.settings) settings += (settings.empty() ? "" : ", ") + s;
  if (!settings.empty()) lines.push_back(fmt::format("Changed for this run: {}.", settings));
}

void write_guesses(std::ostream& out, const GuessDoubt& doubt) {
  heading(out, "What the plan guesses");
  fmt::print(
      out, "{}",
      wrapped(fmt::format("With its guesses off by the spreads below, {} runs of {} stays "
                          "each put the risk at {}, generator left at home. Of that doubt "
                          "each brings by itself:",
                          doubt.runs, grouped(doubt.stays_each), percent_interval(doubt.flat)),
              92, 2));
  constexpr double kHardlyAny = 0.02;  // what chance alone may bring
  double small = doubt.rest;
  for (const GuessDoubt::Part& part : doubt.parts) {
    if (part.share < kHardlyAny) {
      small += part.share;
      continue;
    }
    fmt::print(out, "  {}{}{}\n", left_aligned(part.name, 44),
               left_aligned(part.is_share ? fmt::format("± {}", whole_percent(part.spread))
                                          : fmt::format("± {:.2f}", part.spread),
                            12),
               right_aligned(whole_percent(part.share), 6));
  }
  fmt::print(out, "  {}{}\n", left_aligned("all others, and what they bring only together", 56),
             right_aligned(whole_percent(std::min(1.0, small)), 6));
  if (doubt.parts.front().share >= kHardlyAny) {
    fmt::print(out, "{}",
               wrapped(fmt::format("Measure \"{}\" first. Spreads are assumed unless the plan "
                                   "states its own in [guesses]; 0 is measured.",
                                   doubt.parts.front().name),
                       92, 2));
  }
}

}  // namespace

void write_list(std::ostream& out, std::string_view title, const std::vector<std::string>& items) {
  heading(out, title);
  for (const auto& item : items) {
    std::string text = wrapped(item, 92, 4);
    text[2] = '-';
    fmt::print(out, "{}", text);
  }
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
  return fmt::format("run before the night until the charge should last to the sun, within {}",
                     windows);
}

std::vector<std::string> plan_summary(const Plan& plan, const PreparedPlan& prepared) {
  std::vector<std::string> lines{
      fmt::format("{} {:02}:00 to {} {:02}:00 ({}), {} night{}", long_date(plan.arrive),
                  plan.arrive_hour, long_date(prepared.dates.back()), plan.leave_hour,
                  clock_name(plan), plan.nights(), plan.nights() == 1 ? "" : "s")};
  for (const Camp& camp : plan.camps) {
    std::string text =
        fmt::format("{} night{} at {}", camp.nights, camp.nights == 1 ? "" : "s", camp.place.name);
    if (camp.canopy > 0.0)
      text += fmt::format(", {} of the sky under crowns", whole_percent(camp.canopy));
    if (!camp.skyline.empty()) text += ", with a skyline";
    if (camp.hookup) text += ", on mains";
    lines.push_back(text);
  }
  lines.push_back(kit_line(plan));
  add_state(lines, plan, prepared);
  return lines;
}

void write_plan_summary(std::ostream& out, const Plan& plan, const PreparedPlan& prepared) {
  if (!plan.title.empty()) fmt::print(out, "{}\n", plan.title);
  const auto lines = plan_summary(plan, prepared);
  fmt::print(out, "{}\n", lines.front());
  for (std::size_t i = 1; i < lines.size(); ++i) fmt::print(out, "{}", wrapped(lines[i], 92, 2));
}

void write_budget(std::ostream& out, const Budget& budget, int nights) {
  heading(out, "An average day");
  const auto row = [&](std::string_view name, double wh) {
    fmt::print(out, "  {}{}\n", left_aligned(name, 44), right_aligned(energy(wh), 10));
  };
  for (const auto& line : budget.lines) row(line.name, line.wh_per_day);
  row("all together", budget.draw_wh_per_day);
  fmt::print(out, "  {}\n", std::string(54, '-'));
  if (budget.panels_wh_per_day > 0.0) {
    row("panels, on average", budget.panels_wh_per_day);
    row("panels, dullest day in ten", budget.panels_dull_wh_per_day);
    row("panels, clearest day in ten", budget.panels_clear_wh_per_day);
  }
  if (budget.vehicle_wh_per_day > 0.0) row("vehicle", budget.vehicle_wh_per_day);
  fmt::print(out, "{}",
             wrapped(fmt::format("A full battery gives {}: {:.1f} days of autonomy.",
                                 energy(budget.usable_wh), budget.days_of_autonomy),
                     92, 2));
  const double balance =
      budget.panels_wh_per_day + budget.vehicle_wh_per_day - budget.draw_wh_per_day;
  if (balance < -0.01 * budget.draw_wh_per_day) {
    std::string text =
        fmt::format("Each average day takes {} more than comes in", energy(-balance));
    // Days are not average: beyond the stay's own length the figure would only mislead.
    const double days = budget.usable_wh / -balance;
    if (days < nights)
      text += fmt::format(": a full battery is empty after {:.0f} such days", days);
    fmt::print(out, "{}", wrapped(text + ".", 92, 2));
  }
}

void write_text_report(std::ostream& out, const RunReport& report) {
  write_plan_summary(out, report.plan, report.prepared);
  fmt::print(out, "\n{}", wrapped(verdict(report)));
  if (report.past) fmt::print(out, "{}", wrapped(past_years_sentence(*report.past)));
  write_days(out, report);
  write_generator(out, report);
  write_budget(out, report.budget, report.plan.nights());
  if (report.guesses) write_guesses(out, *report.guesses);
  write_list(out, "What the figures rest on", report_notes(report));
  write_list(out, "Cautions", report_cautions(report.plan));
  fmt::print(out, "\n{} stays, seed {}, {} instructions. Intervals are 95 %.\n",
             grouped(report.result.stays), report.result.seed,
             to_string(report.result.instruction_set));
}

}  // namespace dullspell
