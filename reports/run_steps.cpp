#include "reports/run_steps.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "engine/plan/guarding_load.hpp"
#include "reports/plan_summary.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

// Losses follow from what is used; only an inverter that idles can be switched off.
bool can_be_saved(const BudgetLine& line) {
  return line.kind != BudgetLine::Kind::loss;
}

void add_largest_uses(std::vector<Step>& steps, const Budget& budget) {
  constexpr std::size_t kNamed = 3;
  std::vector<BudgetLine> lines = budget.lines;
  std::erase_if(lines, [](const BudgetLine& l) {
    return l.wh_per_day < 1.0 || guards_people(l.name) || !can_be_saved(l);
  });
  std::stable_sort(lines.begin(), lines.end(),
                   [](const auto& a, const auto& b) { return a.wh_per_day > b.wh_per_day; });
  if (lines.empty()) return;
  Prose text = "Cut the biggest uses first: ";
  for (std::size_t i = 0; i < std::min(kNamed, lines.size()); ++i) {
    if (i > 0) text += ", ";
    text += Prose::name(lines[i].name) + fmt::format(" ({} a day)", energy(lines[i].wh_per_day));
  }
  steps.push_back({text + "."});
}

void add_generator(std::vector<Step>& steps, const RunReport& report) {
  if (!report.result.generator) return;
  if (const auto text = fuel_text(report)) steps.push_back({*text});
  const Generator& generator = *report.plan.generator;
  steps.push_back(
      {fmt::format("Run it as planned: {}. `dullspell generator` {}.", generator_rule(generator),
                   generator.rule == GeneratorRule::below
                       ? "finds figures by date and hour, for less risk or fewer hours"
                       : "says when, as charges to start below and to stop at")});
}

void add_watch(std::vector<Step>& steps, const RunReport& report) {
  const auto& days = report.result.home.days;
  const auto& usual = report.result.home.usual_failure;
  const auto beyond = std::find_if(days.begin(), days.end(), [&](const DayRisk& day) {
    return day.flat_by_day.interval.high > report.plan.accept_risk;
  });
  if (!usual || beyond == days.end()) return;
  steps.push_back({fmt::format(
      "{} the battery early: from {} on the risk is beyond what you accept; the likeliest first "
      "time is {}.",
      report.result.generator ? "Without the generator, check" : "Check", short_date(beyond->date),
      night_name(report.prepared, usual->day, usual->hour_of_day))});
}

void add_guesses(std::vector<Step>& steps, const RunReport& report) {
  if (!report.guesses || report.guesses->parts.empty()) return;
  const auto& first = report.guesses->parts.front();
  steps.push_back({"Measure " + Prose::name(first.name) +
                   fmt::format(" first: of the doubt that the plan's guesses bring, {} comes from "
                               "it.",
                               whole_percent(first.share))});
}

}  // namespace

std::optional<std::string> fuel_text(const RunReport& report) {
  const Generator& generator = *report.plan.generator;
  const Spread& burnt_l = report.result.generator->fuel_l;
  constexpr double kHardlyAny_l = 0.05;  // shows as 0.0
  if (burnt_l.p99 < kHardlyAny_l) return std::nullopt;
  const bool seldom = burnt_l.p90 < kHardlyAny_l;
  const auto amount = [&](double litres) { return fuel(litres, generator.fuel, report.units); };
  std::string text =
      fmt::format("{} {} of {} to have enough in {}", report.plan.now ? "Keep" : "Carry",
                  amount(seldom ? burnt_l.p99 : burnt_l.p90), to_string(generator.fuel),
                  seldom ? "99 of 100 stays; 90 of them burn hardly any."
                         : fmt::format("90 of 100 stays, {} in 99.", amount(burnt_l.p99)));
  if (generator.tank_l) {
    const auto tanks = [&](double litres) {
      return fmt::format("{:.1f}", litres / *generator.tank_l);
    };
    text += fmt::format(" That is {}{} tanks of {}.", seldom ? "" : tanks(burnt_l.p90) + " and ",
                        tanks(burnt_l.p99), tank(*generator.tank_l, generator.fuel, report.units));
  }
  return text;
}

std::vector<Step> run_steps(const RunReport& report) {
  const TrackRisk& home = report.result.home;
  std::vector<Step> steps;
  if (standing(home.flat, report.plan.accept_risk) == RiskStanding::within) {
    steps.push_back(
        {fmt::format("{}, and keep to the plan's loads and hours: the figures hold for "
                     "them only.",
                     !report.result.generator ? "Go as planned"
                     : report.plan.now        ? "Do without the generator"
                                              : "Leave the generator at home")});
  } else {
    add_generator(steps, report);
    add_watch(steps, report);
    add_largest_uses(steps, report.budget);
    steps.push_back(step_to_change_plan());
  }
  if (may_turn(home, report.plan.accept_risk)) {
    steps.push_back(
        {"The weather record leaves the other answer open: look at the forecast before you leave, "
         "and run the plan again with it."});
  }
  add_guesses(steps, report);
  return steps;
}

}  // namespace dullspell
