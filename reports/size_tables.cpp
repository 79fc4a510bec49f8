#include "reports/size_tables.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "engine/plan/plan_edit.hpp"
#include "reports/run_tables.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

// What sizes are rounded to: 1, 2 or 5 times a power of ten within a fifth of the half-width, and
// at least one unit. Coarser steps could pass over the next common size.
double step_of(double least, const Interval& interval) {
  const double half = std::isfinite(interval.high) ? interval.half_width() : least - interval.low;
  const double fine = std::max(1.0, half / 5.0);
  const double power = std::pow(10.0, std::floor(std::log10(fine)));
  return (fine >= 5.0 * power ? 5.0 : fine >= 2.0 * power ? 2.0 : 1.0) * power;
}

double rounded_down(double size, double step) {
  return std::floor(size / step + 1e-9) * step;
}
double rounded_up(double size, double step) {
  return std::ceil(size / step - 1e-9) * step;
}

std::string volts_head(const SizeStudy& study) {
  return fmt::format("at\u00A0{:g}\u00A0V", study.nominal_v());
}

std::string days_text(double days) {
  return fmt::format("{:.1f} days", days);
}

std::string price_text(const Plan& plan, double price) {
  const std::string number = fmt::format("{:.10g}", price);
  return plan.currency.empty() ? number : number + " " + plan.currency;
}

ShareBar bar_of(const Proportion& flat) {
  return {flat.p, flat.interval.high};
}

}  // namespace

bool sizes_battery(const SizeStudy& study) {
  return study.question.of == SizeOf::battery;
}

std::string size_text(SizeOf of, double size) {
  if (of == SizeOf::panels) return fmt::format("{:.0f} W", size);
  const bool whole = size >= 10'000.0 && std::fmod(size, 1'000.0) == 0.0;
  return whole ? fmt::format("{:.0f} kWh", size / 1000.0) : energy(size);
}

double rounded_least(const LeastSize& answer) {
  const double size = answer.least->size;
  return rounded_up(size, step_of(size, answer.sampling));
}

std::string least_text(const LeastSize& answer) {
  return size_text(answer.of, rounded_least(answer));
}

std::string size_range(SizeOf of, double least, const Interval& interval) {
  const double step = step_of(least, interval);
  const double low = rounded_down(interval.low, step);
  if (!std::isfinite(interval.high)) return size_text(of, low) + " or more";
  const double high = rounded_up(interval.high, step);
  // One unit for both ends.
  if (of == SizeOf::battery && high >= 9999.5) {
    const int decimals = step >= 1000.0 ? 0 : step >= 100.0 ? 1 : 2;
    return fmt::format("{:.{}f}–{:.{}f} kWh", low / 1000.0, decimals, high / 1000.0, decimals);
  }
  return fmt::format("{:.0f}–{:.0f} {}", low, high, of == SizeOf::battery ? "Wh" : "W");
}

std::string ah_text(const SizeStudy& study, double wh) {
  return fmt::format("{:.0f} Ah", wh / study.nominal_v());
}

std::string common_text(const SizeStudy& study, double size) {
  return sizes_battery(study)
             ? fmt::format("{} ({})", ah_text(study, size), size_text(SizeOf::battery, size))
             : size_text(SizeOf::panels, size);
}

std::string target_text(const SizeQuestion& question) {
  const double confidence = 1.0 - question.accept_risk;
  return confidence >= 1.0 ? "every stay" : fmt::format("{:.6g} of 100 stays", 100.0 * confidence);
}

std::string generator_text(const Plan& plan, const SizeQuestion& question) {
  if (!plan.generator) return "";
  return " with the " + (question.with_generator ? generator_used(plan) : generator_unused(plan));
}

Table sizes_table(const SizeStudy& study) {
  const bool battery = sizes_battery(study);
  Table table{"sizes",
              battery ? "Batteries" : "Panels",
              {{battery ? "rated" : "rated"},
               {battery ? volts_head(study) : "a day gives", Align::right, 3},
               {battery ? "autonomy" : "of use", Align::right, 4},
               {"flat"},
               {"sampling", Align::left},
               {"it is", Align::left, 1}},
              {}};
  for (const SizeRow& r : study.rows) {
    const bool least = r.kind == SizeRow::Kind::least;
    const double size = least ? rounded_least(study.answer) : r.risk.size;
    table.rows.push_back({{size_text(study.answer.of, size),
                           battery ? ah_text(study, size) : energy(r.panels_wh_per_day),
                           battery ? days_text(r.days_of_autonomy)
                                   : whole_percent(r.panels_wh_per_day / r.draw_wh_per_day),
                           percent(r.risk.flat), percent_interval(r.risk.flat),
                           least                             ? "the least"
                           : r.kind == SizeRow::Kind::stated ? "the plan's"
                                                             : ""},
                          bar_of(r.risk.flat),
                          tone_of(r.risk.flat, study.question.accept_risk)});
  }
  return table;
}

Table tried_table(const SizeStudy& study) {
  Table table{"tried",
              sizes_battery(study) ? "All batteries that were tried" : "All panels that were tried",
              {{sizes_battery(study) ? "rated" : "rated"}, {"flat"}, {"sampling", Align::left}},
              {}};
  for (const SizeRisk& risk : study.answer.curve) {
    table.rows.push_back(
        {{size_text(study.answer.of, risk.size), percent(risk.flat), percent_interval(risk.flat)}});
  }
  return table;
}

Table frontier_table(const SizeStudy& study) {
  Table table{"frontier",
              "The least battery with so many panels",
              {{"panels"},
               {"battery"},
               {volts_head(study), Align::right, 2},
               {"autonomy", Align::right, 3},
               {"sampling", Align::left},
               {"climate", Align::left, 1}},
              {}};
  for (const FrontierPoint& point : study.frontier) {
    const std::string panels = size_text(SizeOf::panels, point.panels_w);
    const LeastSize& battery = point.battery;
    if (!battery.least) {
      table.rows.push_back({{panels, "none does"}});
      continue;
    }
    const double least = battery.least->size;
    table.rows.push_back(
        {{panels, least_text(battery), ah_text(study, rounded_least(battery)),
          days_text(point.days_of_autonomy), size_range(SizeOf::battery, least, battery.sampling),
          battery.climate ? size_range(SizeOf::battery, least, *battery.climate) : "–"}});
  }
  return table;
}

Table options_table(const Plan& plan, const SizeStudy& study, Units units) {
  Table table{"options",
              "Options",
              {{"option", Align::left},
               {"battery", Align::right, 5},
               {"panels", Align::right, 6},
               {"flat"},
               {"sampling", Align::left},
               {"climate", Align::left, 2},
               {"weight", Align::right, 4},
               {plan.currency.empty() ? "price" : fmt::format("price ({})", plan.currency),
                Align::right, 3},
               {"lasts", Align::left, 1}},
              {}};
  for (const OptionRisk& o : study.options) {
    const KitOption& kit = o.option;
    table.rows.push_back(
        {{kit.name, energy(kit.battery_wh.value_or(plan.battery.capacity_wh)),
          size_text(SizeOf::panels, kit.panels_w.value_or(rated_panels_w(plan))), percent(o.flat),
          percent_interval(o.flat), percent_interval(o.climate),
          kit.weight_kg ? weight(*kit.weight_kg, units) : "–",
          kit.price ? fmt::format("{:.10g}", *kit.price) : "–", o.meets ? "yes" : "no"},
         ShareBar{o.flat.p, o.climate.high},
         tone_of(o.flat, study.question.accept_risk)});
  }
  return table;
}

std::vector<BestOption> best_options(const Plan& plan, const SizeStudy& study, Units units) {
  std::vector<BestOption> out;
  const auto add = [&](std::string_view kind, std::optional<double> KitOption::*figure,
                       const auto& figure_text) {
    const auto best = least_of(study.options, figure);
    if (!best) return;
    const OptionRisk& option = study.options[*best];
    out.push_back({kind, option, figure_text(*(option.option.*figure)),
                   option.climate.high <= study.question.accept_risk});
  };
  add("cheapest", &KitOption::price, [&](double price) { return price_text(plan, price); });
  add("lightest", &KitOption::weight_kg, [&](double kg) { return weight(kg, units); });
  return out;
}

std::string options_sentence(const Plan& plan, const SizeStudy& study, Units units) {
  if (std::none_of(study.options.begin(), study.options.end(), [](auto& o) { return o.meets; })) {
    return fmt::format("No option lasts in {}.", target_text(study.question));
  }
  std::string text;
  for (const BestOption& best : best_options(plan, study, units)) {
    text += fmt::format("{}The {} that {}lasts in {} is {} ({}).", text.empty() ? "" : " ",
                        best.kind, best.sure ? "" : "probably ", target_text(study.question),
                        best.option.option.name, best.figure);
  }
  return text.empty() ? "None of those that last states a price or a weight." : text;
}

}  // namespace dullspell
