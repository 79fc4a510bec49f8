#include "reports/text_report.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "reports/cautions.hpp"
#include "reports/hindcast_report.hpp"
#include "reports/number_text.hpp"
#include "reports/run_tables.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

std::string clock_name(const Plan& plan) {
  return fmt::format("UTC{:+g}{}", plan.clock_offset_h, plan.summer_time ? ", summer time" : "");
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

void write_generator(TextWriter& writer, const RunReport& report) {
  if (!report.result.generator) return;
  Table table = generator_table(report);
  writer.heading("Generator along");
  writer.paragraph(generator_rule(*report.plan.generator) + ".", 2);
  table.title.clear();
  writer.table(table);
  writer.paragraph(generator_leaves(report), 2);
}

void write_budget(TextWriter& writer, const Plan& plan, const Budget& budget) {
  writer.table(budget_table(budget));
  writer.paragraph(autonomy_text(budget), 2);
  const double balance =
      budget.panels_wh_per_day + budget.vehicle_wh_per_day - budget.draw_wh_per_day;
  if (budget.camps.size() > 1) {
    writer.table(camps_table(plan, budget));
    return;
  }
  if (balance >= -0.01 * budget.draw_wh_per_day) return;
  std::string text = fmt::format("Each average day takes {} more than comes in", energy(-balance));
  // Days are not average: beyond the stay's own length the figure would only mislead.
  const double days = budget.usable_wh / -balance;
  if (days < plan.nights()) {
    text += fmt::format(": a full battery is empty after {:.0f} such days", days);
  }
  writer.paragraph(text + ".", 2);
}

void write_guesses(TextWriter& writer, const GuessDoubt& doubt) {
  Table table = guesses_table(doubt);
  writer.heading(table.title);
  writer.paragraph(guesses_sentence(doubt) + " Of that doubt each brings by itself:", 2);
  table.title.clear();
  writer.table(table);
  constexpr double kHardlyAny = 0.02;  // what chance alone may bring
  if (doubt.parts.front().share < kHardlyAny) return;
  writer.paragraph(fmt::format("Measure \"{}\" first. Spreads are assumed unless the plan states "
                               "its own in [guesses]; 0 is measured.",
                               doubt.parts.front().name),
                   2);
}

}  // namespace

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

// Where a camp is, and whose weather it has if that is another place.
std::string camp_name(const Camp& camp, Units units) {
  constexpr double kElsewhere_km = 1.0;
  if (camp.distance_km < kElsewhere_km) return camp.place.name;
  return fmt::format("{:.2f}, {:.2f} (weather of {}, {} away)", camp.where.latitude_deg,
                     camp.where.longitude_deg, camp.place.name, distance(camp.distance_km, units));
}

std::vector<std::string> plan_summary(const Plan& plan, const PreparedPlan& prepared, Units units) {
  std::vector<std::string> lines{
      fmt::format("{} {:02}:00 to {} {:02}:00 ({}), {} night{}", long_date(plan.arrive),
                  plan.arrive_hour, long_date(plan.departure()), plan.leave_hour,
                  clock_name(plan), plan.nights(), plan.nights() == 1 ? "" : "s")};
  for (const Camp& camp : plan.camps) {
    std::string text = fmt::format("{} night{} at {}", camp.nights, camp.nights == 1 ? "" : "s",
                                   camp_name(camp, units));
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

void write_plan_summary(TextWriter& writer, const Plan& plan, const PreparedPlan& prepared,
                        Units units) {
  if (!plan.title.empty()) writer.title(plan.title);
  const auto lines = plan_summary(plan, prepared, units);
  writer.paragraph(lines.front());
  for (std::size_t i = 1; i < lines.size(); ++i) writer.paragraph(lines[i], 2);
}

std::string study_footer(std::uint64_t stays, std::uint64_t seed, InstructionSet instructions) {
  return fmt::format("{} stays, seed {}, {} instructions. Intervals are 95 %.", grouped(stays),
                     seed, to_string(instructions));
}

void write_budget_text(std::ostream& out, const Plan& plan, const PreparedPlan& prepared,
                       Units units, TextStyle style) {
  TextWriter writer(out, style);
  write_plan_summary(writer, plan, prepared, units);
  write_budget(writer, plan, budget_with_shade(plan, prepared));
}

void write_text_report(std::ostream& out, const RunReport& report, TextStyle style) {
  const StudyResult& result = report.result;
  TextWriter writer(out, style);
  write_plan_summary(writer, report.plan, report.prepared, report.units);
  writer.verdict(verdict(report), tone_of(result.home.flat, report.plan.accept_risk));
  if (report.past) writer.paragraph(past_years_sentence(*report.past));
  writer.table(days_table(report));
  write_generator(writer, report);
  write_budget(writer, report.plan, report.budget);
  if (report.guesses) write_guesses(writer, *report.guesses);
  writer.list("What the figures rest on", report_notes(report));
  writer.list("Cautions", report_cautions(report.plan));
  writer.footer(study_footer(result.stays, result.seed, result.instruction_set));
}

}  // namespace dullspell
