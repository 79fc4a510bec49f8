#include "reports/generator_tables.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include <fmt/format.h>

#include "reports/run_tables.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

constexpr int kAlike = 3;          // points of charge: few displays are better
constexpr int kHardlyCharged = 2;  // a battery so empty has cut off

int percent_up(double wh, double usable_wh) {
  return static_cast<int>(std::ceil(std::max(0.0, 100.0 * wh / usable_wh) - 1e-9));
}

bool alike(const ShownLevel& a, const ShownLevel& b) {
  return std::abs(a.start_below - b.start_below) <= kAlike &&
         std::abs(a.run_until - b.run_until) <= kAlike;
}

void raise(ShownLevel& kept, const ShownLevel& other) {
  kept.start_below = std::max(kept.start_below, other.start_below);
  kept.run_until = std::max(kept.run_until, other.run_until);
}

std::vector<ShownLevel> levels_of_day(const PreparedPlan& prepared, int day) {
  std::vector<ShownLevel> out;
  for (const HourSlot& slot : prepared.hours) {
    if (slot.day != day || slot.source != Source::generator) continue;
    const ShownLevel level = shown_level(prepared, slot);
    if (!is_worth_a_look(level)) continue;
    if (!out.empty() && out.back().last_hour + 1 == level.first_hour && alike(out.back(), level)) {
      out.back().last_hour = level.last_hour;
      raise(out.back(), level);
    } else {
      out.push_back(level);
    }
  }
  return out;
}

bool alike(const std::vector<ShownLevel>& a, const std::vector<ShownLevel>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const ShownLevel& one, const ShownLevel& other) {
                      return one.first_hour == other.first_hour &&
                             one.last_hour == other.last_hour && alike(one, other);
                    });
}

std::string hours_text(const ShownLevel& level) {
  if (level.first_hour == level.last_hour) return fmt::format("{:02}:00", level.first_hour);
  return fmt::format("{:02}:00 to {:02}:00", level.first_hour, level.last_hour);
}

std::string dates_text(const PreparedPlan& prepared, const ShownLevels& shown) {
  const auto date = [&](int day) { return short_date(prepared.dates[DayIndex(day)]); };
  if (shown.first_day == shown.last_day) return date(shown.first_day);
  return date(shown.first_day) + " to " + date(shown.last_day);
}

}  // namespace

ShownLevel shown_level(const PreparedPlan& prepared, const HourSlot& slot) {
  const int start = percent_up(slot.start_below_wh, prepared.usable_wh());
  return {slot.hour_of_day, slot.hour_of_day, start,
          std::max(start, percent_up(slot.stop_at_wh, prepared.usable_wh()))};
}

bool is_worth_a_look(const ShownLevel& level) {
  return level.start_below >= kHardlyCharged;
}

std::vector<ShownLevels> shown_levels(const PreparedPlan& prepared) {
  std::vector<ShownLevels> out;
  for (int day = 0; day < prepared.days(); ++day) {
    std::vector<ShownLevel> hours = levels_of_day(prepared, day);
    if (hours.empty()) continue;
    if (out.empty() || out.back().last_day + 1 != day || !alike(out.back().hours, hours)) {
      out.push_back({day, day, std::move(hours)});
      continue;
    }
    out.back().last_day = day;
    for (std::size_t i = 0; i < hours.size(); ++i) raise(out.back().hours[i], hours[i]);
  }
  return out;
}

Table levels_table(const PreparedPlan& prepared) {
  Table table{"levels",
              "When to run it",
              {{"at", Align::left}, {"start below"}, {"run until"}},
              {},
              "Look at the display at these times: below the first figure start it, and let it run "
              "to the second, or to the end of its allowed hours; while it runs the figure of the "
              "hour counts. At other allowed times it can wait."};
  const double least_h = prepared.generator->min_run_h;
  for (const ShownLevels& shown : shown_levels(prepared)) {
    table.rows.push_back({{dates_text(prepared, shown) + ":"}});
    for (const ShownLevel& level : shown.hours) {
      // A run that is worth a start goes beyond what is needed.
      const bool least_run = level.run_until <= level.start_below && least_h > 0.0;
      table.rows.push_back({{hours_text(level), fmt::format("{} %", level.start_below),
                             least_run ? fmt::format("{:g} h later", least_h)
                                       : fmt::format("{} %", level.run_until)}});
    }
  }
  return table;
}

Table careful_table(const GeneratorReport& report) {
  const GeneratorSchedule& schedule = report.schedule;
  Table table{
      "careful",
      "More and less careful rules",
      {{"rule", Align::left},
       {"flat"},
       {"sampling", Align::left},
       {"hours flat"},
       {"generator hours"}},
      {},
      "flat: share of stays that run flat; hours flat and generator hours: mean of a stay."};
  const auto add = [&](std::string name, const RuleOutcome& rule) {
    table.rows.push_back({{std::move(name), percent(rule.flat), percent_interval(rule.flat),
                           fmt::format("{:.2f}", rule.flat_h), fmt::format("{:.2f}", rule.hours)},
                          {},
                          tone_of(rule.flat, report.plan.accept_risk)});
  };
  const GeneratorResult& own = *schedule.result.generator;
  add("the rule above", {own.risk.flat, own.risk.flat_h.mean, own.hours.mean});
  for (const CarefulRule& rule : schedule.careful) {
    add(fmt::format("lasts in {:g} of 100 nights", 100.0 * rule.lasts_in), rule);
  }
  if (const auto& plain = schedule.plain) {
    add(fmt::format("always below {} until {}", whole_percent(plain->start_below),
                    whole_percent(plain->stop_at)),
        *plain);
  }
  return table;
}

std::string other_rules_text(const GeneratorReport& report) {
  const GeneratorSchedule& schedule = report.schedule;
  const GeneratorResult& own = *schedule.result.generator;
  const CarefulRule& most = schedule.careful.back();
  std::string text;
  if (most.flat.p < own.risk.flat.p) {
    text = fmt::format(
        "The most careful rule runs it for {:.2f} h a stay on average in place of {:.2f} h, and "
        "leaves {} of stays flat: a smaller accept_risk asks for it. ",
        most.hours, own.hours.mean, percent(most.flat));
  }
  if (!schedule.plain) {
    return text + "No single pair of figures for all times keeps within the risk that you accept.";
  }
  return text +
         fmt::format(
             "One pair of figures for all times keeps within what you accept, too: start below {}, "
             "run until {}. It leaves {} of stays flat, and takes {:.1f} h a stay on average in "
             "place of {:.1f} h.",
             whole_percent(schedule.plain->start_below), whole_percent(schedule.plain->stop_at),
             percent(schedule.plain->flat), schedule.plain->hours, own.hours.mean);
}

}  // namespace dullspell
