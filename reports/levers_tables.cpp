#include "reports/levers_tables.hpp"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "reports/difference_text.hpp"
#include "reports/risk_summary_parts.hpp"
#include "reports/run_tables.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

constexpr const char* kAsItIs = "the plan as it is";

const char* group_head(Help help) {
  switch (help) {
    case Help::helps:
      return "helps:";
    case Help::unclear:
      return "makes no clear difference:";
    case Help::hurts:
      return "makes it worse:";
  }
  return "";
}

const char* standing_text(const Proportion& flat, double accepted) {
  switch (standing(flat, accepted)) {
    case RiskStanding::within:
      return "within it";
    case RiskStanding::too_close:
      return "too close to call";
    case RiskStanding::exceeded:
      return "above it";
  }
  return "";
}

std::string tenths(double hours) {
  return fmt::format("{:.1f}", hours);
}

// Every row at 0 or at 100 %: only hours tell the changes apart.
bool only_hours_tell(const LeversReport& report) {
  const auto& effects = report.study.effects;
  return tells_nothing(report.study.base.home.flat) &&
         std::all_of(effects.begin(), effects.end(),
                     [](const LeverEffect& effect) { return tells_nothing(effect.flat); });
}

}  // namespace

Help help_of(const LeverEffect& effect) {
  // Where nearly all stays run flat, or none, hours tell more.
  if (effect.difference.is_clear()) {
    return effect.difference.difference < 0.0 ? Help::helps : Help::hurts;
  }
  if (!effect.flat_h_difference.is_clear()) return Help::unclear;
  return effect.flat_h_difference.difference < 0.0 ? Help::helps : Help::hurts;
}

std::vector<const LeverEffect*> grouped_effects(const LeversReport& report) {
  std::vector<const LeverEffect*> out;
  for (const LeverEffect& effect : report.study.effects) out.push_back(&effect);
  std::stable_sort(out.begin(), out.end(), [](const LeverEffect* a, const LeverEffect* b) {
    return help_of(*a) < help_of(*b);
  });
  return out;
}

Table levers_table(const LeversReport& report, std::size_t top) {
  const auto& generator = report.study.base.generator;
  const bool hours_tell = only_hours_tell(report);
  Table table{
      "levers",
      generator ? "One change at a time, " + generator_unused(report.plan) : "One change at a time",
      {{"change", Align::left},
       {"flat"},
       {"points", Align::right, 1},
       {"points, 95\u00A0%", Align::left, hours_tell ? 4 : 0},
       {"climate", Align::left, 5},
       {"hours flat", Align::right, hours_tell ? 0 : 4}},
      {},
      "flat: share of stays that run flat with the change; points: against the plan as it "
      "is; hours flat: mean of a stay."};
  table.bars_rank = 4;
  if (generator) {
    table.columns.insert(table.columns.end(), {{"gen.\u00A0h", Align::right, 3},
                                               {"gen.\u00A0h, 95\u00A0%", Align::left, 2}});
    table.legend +=
        " gen. h: hours a stay that the generator, were it along, runs as planned; for the plan "
        "as it is their mean, else the mean difference.";
  }
  const auto add = [&](const Proportion& flat, std::vector<std::string> cells) {
    table.rows.push_back({std::move(cells), ShareBar{flat.p, flat.interval.high},
                          tone_of(flat, report.plan.accept_risk)});
  };
  const Proportion& flat = report.study.base.home.flat;
  add(flat, {kAsItIs, percent(flat), "–", "", "", tenths(report.study.base.home.flat_h.mean),
             generator ? fmt::format("{:.1f}", generator->hours.mean) : ""});
  const std::vector<const LeverEffect*> effects = grouped_effects(report);
  const std::size_t shown = std::min(top, effects.size());
  std::optional<Help> group;
  for (std::size_t i = 0; i < shown; ++i) {
    const LeverEffect& effect = *effects[i];
    if (help_of(effect) != group) {
      group = help_of(effect);
      table.rows.push_back({{group_head(*group)}});
    }
    const auto& h = effect.generator_h;
    add(effect.flat,
        {effect.lever.change, percent(effect.flat), signed_points(effect.difference),
         signed_points_interval(effect.difference), signed_points_range(effect.difference_climate),
         tenths(effect.flat_h), h ? signed_hours(*h) : "", h ? signed_hours_interval(*h) : ""});
  }
  if (shown < effects.size()) {
    table.rows.push_back(
        {{fmt::format("and {} more (--top {})", effects.size() - shown, effects.size())}});
  }
  return table;
}

Table risks_after_table(const LeversReport& report) {
  const double accepted = report.plan.accept_risk;
  Table table{"after",
              "Running flat with each change",
              {{"change", Align::left},
               {"flat"},
               {"sampling", Align::left},
               {fmt::format("the {} that you accept", accepted_text(accepted)), Align::left}},
              {}};
  const auto add = [&](const std::string& name, const Proportion& flat) {
    table.rows.push_back(
        {{name, percent(flat), percent_interval(flat), standing_text(flat, accepted)},
         {},
         tone_of(flat, accepted)});
  };
  add(kAsItIs, report.study.base.home.flat);
  for (const LeverEffect* effect : grouped_effects(report)) {
    add(effect->lever.change, effect->flat);
  }
  return table;
}

}  // namespace dullspell
