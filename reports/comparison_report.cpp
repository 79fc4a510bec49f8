#include "reports/comparison_report.hpp"

#include <algorithm>
#include <cstdint>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "reports/cautions.hpp"
#include "reports/csv_field.hpp"
#include "reports/difference_text.hpp"
#include "reports/json_report.hpp"
#include "reports/number_text.hpp"
#include "reports/text_report.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Plans = std::vector<ComparedPlan>;

enum class View { home, planned };

std::string letter(std::size_t plan) {
  return std::string(1, static_cast<char>('A' + plan));
}

bool any_generator(const Plans& plans) {
  return std::any_of(plans.begin(), plans.end(),
                     [](const ComparedPlan& plan) { return plan.result.generator.has_value(); });
}

const TrackRisk& risk_of(const ComparedPlan& plan, View view) {
  return view == View::home ? plan.result.home : risk_as_planned(plan.result);
}

PairedDifference difference(const ComparedPlan& first, const ComparedPlan& second, View view) {
  const PlanDifference all = plan_difference(first.outcomes, second.outcomes);
  return view == View::planned ? all.planned.value_or(all.home) : all.home;
}

// The first of those with the fewest flat stays.
std::size_t safest(const Plans& plans, View view) {
  const auto fewer = [&](const ComparedPlan& a, const ComparedPlan& b) {
    return risk_of(a, view).flat.count < risk_of(b, view).flat.count;
  };
  return static_cast<std::size_t>(std::min_element(plans.begin(), plans.end(), fewer) -
                                  plans.begin());
}

std::string stays_needed(const PairedDifference& d, std::uint64_t stays) {
  const auto needed = stays_to_tell(d, stays);
  if (!needed) return "";
  if (*needed > static_cast<double>(kMostStays)) {
    return fmt::format(" Were it as large as it looks, more than {} stays would be needed.",
                       grouped(kMostStays));
  }
  return fmt::format(" Were it as large as it looks, about {} stays would probably show it.",
                     about(std::max(*needed, static_cast<double>(stays) + 1.0)));
}

std::string cannot_tell(const std::string& a, const std::string& b, const PairedDifference& d,
                        std::uint64_t stays) {
  if (d.only_first + d.only_second == 0) {
    return fmt::format(
        "{} and {} come out the same in every one of {} stays: if there is a difference, it lies "
        "within {} points.",
        a, b, grouped(stays), signed_points_interval(d));
  }
  return fmt::format("{} stays cannot tell {} and {} apart: the difference is {} points.{}",
                     grouped(stays), a, b, signed_points_interval(d), stays_needed(d, stays));
}

std::string climate_sentence(const ComparedPlan& first, const ComparedPlan& second, View view) {
  const auto climate = difference_climate(first, second);
  if (!climate) return "";
  const Interval& change = view == View::home ? climate->home : climate->planned;
  return fmt::format(" Counting what the weather record cannot tell, it may be {} points.",
                     points_range({-change.high, -change.low}));
}

std::string verdict_for(const Plans& plans, View view, std::string_view when) {
  const std::size_t best = safest(plans, view);
  const std::uint64_t stays = plans.front().outcomes.stays;
  std::vector<std::size_t> beaten, level;
  for (std::size_t i = 0; i < plans.size(); ++i) {
    if (i == best) continue;
    (difference(plans[i], plans[best], view).is_clear() ? beaten : level).push_back(i);
  }
  const auto flat = [&](std::size_t i) { return in_words(risk_of(plans[i], view).flat); };
  const auto said = [&](std::string text) {
    if (when.empty()) return text;
    return fmt::format("{}: {}", when, text);
  };
  std::string text;
  if (!beaten.empty()) {
    // Against the first plan, which the others are changes of, or the next best.
    const auto next = std::min_element(beaten.begin(), beaten.end(), [&](auto a, auto b) {
      return risk_of(plans[a], view).flat.count < risk_of(plans[b], view).flat.count;
    });
    const std::size_t other = beaten.front() == 0 ? 0 : *next;
    text = said(fmt::format("{} is {}. It runs flat in {}, {} in {}: on the same draws {} fewer.",
                            letter(best),
                            plans.size() == 2 ? "safer"
                            : level.empty()   ? fmt::format("the safest of {}", plans.size())
                                              : "among the safest",
                            flat(best), letter(other), flat(other),
                            points_in_words(difference(plans[other], plans[best], view))));
    text += climate_sentence(plans[other], plans[best], view);
    if (beaten.size() > 1 && *next != other) {
      text += fmt::format(" The next is {} with {}.", letter(*next), flat(*next));
    }
    for (const std::size_t i : level) {
      text += ' ';
      text += cannot_tell(letter(i), letter(best), difference(plans[i], plans[best], view), stays);
    }
    return text;
  }
  for (const std::size_t i : level) {
    const std::size_t a = std::min(i, best), b = std::max(i, best);
    const std::string pair =
        cannot_tell(letter(a), letter(b), difference(plans[a], plans[b], view), stays);
    text += text.empty() ? said(pair) : fmt::format(" {}", pair);
  }
  return text + fmt::format(" {} runs flat in {}.", letter(best), flat(best));
}

std::string generator_sentence(const Plans& plans) {
  std::string text;
  for (std::size_t i = 1; i < plans.size(); ++i) {
    const auto d = plan_difference(plans.front().outcomes, plans[i].outcomes).generator_h;
    if (!d || (d->interval.low <= 0.0 && d->interval.high >= 0.0)) continue;
    text += fmt::format("{} the generator of {} runs {} h {} a stay", text.empty() ? "" : ",",
                        letter(i), hours(*d), d->difference < 0.0 ? "less" : "more");
  }
  if (text.empty()) return "";
  return fmt::format(" Against A,{} on average.", text);
}

std::string climate_text(const std::optional<Interval>& climate) {
  return climate ? percent_interval(*climate) : "–";
}

void write_risks(std::ostream& out, const Plans& plans, View view, std::string_view title) {
  fmt::print(out, "\n{}\n", title);
  const auto row = [&](std::string_view plan, std::string_view risk, std::string_view sampling,
                       std::string_view climate, std::string_view points, std::string_view interval,
                       std::string_view tells) {
    std::string line =
        fmt::format("  {}{}  {}{}{}  {}{}", left_aligned(plan, 6), right_aligned(risk, 7),
                    left_aligned(sampling, 15), left_aligned(climate, 12), right_aligned(points, 9),
                    left_aligned(interval, 18), tells);
    line.erase(line.find_last_not_of(' ') + 1);
    fmt::print(out, "{}\n", line);
  };
  row("plan", "flat", "sampling", "climate", "against A", "points, 95 %", "");
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const TrackRisk& risk = risk_of(plans[i], view);
    const std::string climate = climate_text(risk.flat_climate);
    if (i == 0) {
      row(letter(i), percent(risk.flat), percent_interval(risk.flat), climate, "–", "", "");
      continue;
    }
    const PairedDifference d = difference(plans.front(), plans[i], view);
    row(letter(i), percent(risk.flat), percent_interval(risk.flat), climate, signed_points(d),
        signed_points_interval(d),
        d.is_clear() ? (d.difference < 0.0 ? "safer" : "riskier") : "no clear difference");
  }
}

void write_generators(std::ostream& out, const Plans& plans) {
  fmt::print(out, "\nGenerator along, by its rule\n");
  const auto row = [&](std::string_view plan, std::string_view h, std::string_view h_1_in_10,
                       std::string_view litres, std::string_view litres_1_in_10,
                       std::string_view against, std::string_view interval) {
    std::string line =
        fmt::format("  {}{}{}{}{}{}  {}", left_aligned(plan, 6), right_aligned(h, 11),
                    right_aligned(h_1_in_10, 9), right_aligned(litres, 12),
                    right_aligned(litres_1_in_10, 9), right_aligned(against, 14), interval);
    line.erase(line.find_last_not_of(' ') + 1);
    fmt::print(out, "{}\n", line);
  };
  row("plan", "h typical", "1 in 10", "L typical", "1 in 10", "h against A", "mean, 95 %");
  for (std::size_t i = 0; i < plans.size(); ++i) {
    if (!plans[i].result.generator) {
      row(letter(i), "none", "", "", "", "", "");
      continue;
    }
    const GeneratorResult& g = *plans[i].result.generator;
    const auto number = [](double v) { return fmt::format("{:.1f}", v); };
    const auto d = plan_difference(plans.front().outcomes, plans[i].outcomes).generator_h;
    const bool other = i > 0 && d;
    row(letter(i), number(g.hours.p50), number(g.hours.p90), number(g.fuel_l.p50),
        number(g.fuel_l.p90), other ? signed_hours(*d) : "–",
        other ? signed_hours_interval(*d) : "");
  }
}

void write_balances(std::ostream& out, const Plans& plans) {
  fmt::print(out, "\nAn average day\n");
  const auto row = [&](std::string_view plan, std::string_view nights, std::string_view uses,
                       std::string_view panels, std::string_view holds, std::string_view autonomy) {
    fmt::print(out, "  {}{}{}{}{}{}\n", left_aligned(plan, 6), right_aligned(nights, 7),
               right_aligned(uses, 11), right_aligned(panels, 13), right_aligned(holds, 14),
               right_aligned(autonomy, 19));
  };
  row("plan", "nights", "uses", "panels give", "battery holds", "days of autonomy");
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const Budget& b = plans[i].budget;
    row(letter(i), fmt::format("{}", plans[i].plan.nights()), energy(b.draw_wh_per_day),
        energy(b.panels_wh_per_day), energy(b.usable_wh),
        fmt::format("{:.1f}", b.days_of_autonomy));
  }
}

// Letters of the plans for which something holds against the first: "B, C".
template <class Differs>
std::string letters(const Plans& plans, Differs differs) {
  std::string out;
  for (std::size_t i = 1; i < plans.size(); ++i) {
    if (differs(plans.front(), plans[i])) out += (out.empty() ? "" : ", ") + letter(i);
  }
  return out;
}

std::vector<std::string> notes_of(const ComparedPlan& plan) {
  return report_notes(RunReport{plan.plan, plan.prepared, plan.result, plan.budget});
}

// Each once; those that not all plans share say whose they are.
std::vector<std::string> joined_notes(const Plans& plans) {
  std::vector<std::string> all, out;
  std::vector<std::string> whose;
  for (std::size_t i = 0; i < plans.size(); ++i) {
    for (const std::string& note : notes_of(plans[i])) {
      const auto at = std::find(all.begin(), all.end(), note);
      if (at == all.end()) {
        all.push_back(note);
        whose.push_back(letter(i));
      } else {
        whose[static_cast<std::size_t>(at - all.begin())] += letter(i);
      }
    }
  }
  for (std::size_t n = 0; n < all.size(); ++n) {
    const bool shared = whose[n].size() == plans.size();
    out.push_back(shared ? all[n] : fmt::format("{}: {}", fmt::join(whose[n], ", "), all[n]));
  }
  return out;
}

std::vector<std::string> joined_cautions(const Plans& plans) {
  std::vector<std::string> out;
  for (const ComparedPlan& plan : plans) {
    for (std::string& caution : report_cautions(plan.plan)) {
      if (std::find(out.begin(), out.end(), caution) == out.end()) {
        out.push_back(std::move(caution));
      }
    }
  }
  return out;
}

Json generator_json(const ComparedPlan& plan) {
  if (!plan.result.generator) return nullptr;
  const GeneratorResult& g = *plan.result.generator;
  return {{"flat", share(g.risk.flat, g.risk.flat_climate)},
          {"hours", spread(g.hours)},
          {"fuel_l", spread(g.fuel_l)},
          {"starts", spread(g.starts)}};
}

Json against_json(const ComparedPlan& first, const ComparedPlan& second) {
  const PlanDifference d = plan_difference(first.outcomes, second.outcomes);
  const auto climate = difference_climate(first, second);
  const auto paired = [&](const PairedDifference& p, Interval DifferenceClimate::*which) {
    Json out = difference_json(p);
    out["climate_low"] = climate ? Json(((*climate).*which).low) : Json(nullptr);
    out["climate_high"] = climate ? Json(((*climate).*which).high) : Json(nullptr);
    out["stays_to_tell"] =
        p.is_clear() ? Json(nullptr) : or_null(stays_to_tell(p, first.outcomes.stays));
    return out;
  };
  return {{"flat_home", paired(d.home, &DifferenceClimate::home)},
          {"flat_as_planned", paired(d.planned.value_or(d.home), &DifferenceClimate::planned)},
          {"generator_h", d.generator_h ? difference_json(*d.generator_h) : Json(nullptr)}};
}

}  // namespace

std::string comparison_verdict(const std::vector<ComparedPlan>& plans) {
  if (!any_generator(plans)) return verdict_for(plans, View::home, "");
  return verdict_for(plans, View::home, "With generators left at home") + " " +
         verdict_for(plans, View::planned, "As written, generators along") +
         generator_sentence(plans);
}

std::vector<std::string> comparison_notes(const std::vector<ComparedPlan>& plans) {
  std::vector<std::string> out{
      "Every plan meets the same draws, stay by stay: the difference rests only on stays that come "
      "out differently, and is known better than either share. Its interval is that of having "
      "drawn so many stays."};
  const std::string dates = letters(plans, [](const ComparedPlan& a, const ComparedPlan& b) {
    return !same_dates(a.prepared, b.prepared);
  });
  const std::string places = letters(plans, [](const ComparedPlan& a, const ComparedPlan& b) {
    return !same_places(a.plan, b.plan);
  });
  const auto climates = [&](const std::string& which, std::string_view differ) {
    if (which.empty()) return;
    out.push_back(
        fmt::format("{} against A: other {}. The draws are the same, but the climates differ, and "
                    "how well each "
                    "of them is known is not in the interval of the difference.",
                    which, differ));
  };
  if (dates == places) {
    climates(dates, "dates and places");
  } else {
    climates(dates, "dates");
    climates(places, "places, or other nights at them");
  }
  const std::string lengths = letters(plans, [](const ComparedPlan& a, const ComparedPlan& b) {
    return a.prepared.hours.size() != b.prepared.hours.size();
  });
  if (!lengths.empty()) {
    out.push_back(fmt::format(
        "{} against A: another length. A longer stay has more nights in which to run flat.",
        lengths));
  }
  const auto rest = joined_notes(plans);
  out.insert(out.end(), rest.begin(), rest.end());
  return out;
}

void write_comparison_text(std::ostream& out, const std::vector<ComparedPlan>& plans,
                           TextStyle style) {
  TextWriter writer(out, style);
  for (std::size_t i = 0; i < plans.size(); ++i) {
    fmt::print(out, "{}{}: {}\n", i > 0 ? "\n" : "", letter(i), plans[i].plan.file);
    write_plan_summary(writer, plans[i].plan, plans[i].prepared);
  }
  fmt::print(out, "\n{}", wrapped(comparison_verdict(plans)));
  if (any_generator(plans)) {
    write_risks(out, plans, View::home, "Running flat, generators left at home");
    write_risks(out, plans, View::planned, "Running flat as written, generators along");
    write_generators(out, plans);
  } else {
    write_risks(out, plans, View::home, "Running flat");
  }
  write_balances(out, plans);
  writer.list("What the figures rest on", comparison_notes(plans));
  writer.list("Cautions", joined_cautions(plans));
  const StudyResult& result = plans.front().result;
  fmt::print(out, "\n{} stays, seed {}, {} instructions. Intervals are 95 %.\n",
             grouped(result.stays), result.seed, to_string(result.instruction_set));
}

void write_comparison_json(std::ostream& out, const std::vector<ComparedPlan>& plans,
                           std::string_view program) {
  const StudyResult& result = plans.front().result;
  Json json = {{"format", "dullspell.compare/1"},
               {"program", program},
               {"seed", result.seed},
               {"stays", result.stays},
               {"instruction_set", to_string(result.instruction_set)}};
  json["plans"] = Json::array();
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const ComparedPlan& p = plans[i];
    json["plans"].push_back(
        {{"letter", letter(i)},
         {"plan", plan_json(p.plan, p.prepared)},
         {"flat_home", share(p.result.home.flat, p.result.home.flat_climate)},
         {"generator", generator_json(p)},
         {"draw_wh_per_day", p.budget.draw_wh_per_day},
         {"panels_wh_per_day", p.budget.panels_wh_per_day},
         {"battery_usable_wh", p.budget.usable_wh},
         {"days_of_autonomy", p.budget.days_of_autonomy},
         {"against_first", i > 0 ? against_json(plans.front(), p) : Json(nullptr)}});
  }
  json["verdict"] = comparison_verdict(plans);
  json["notes"] = comparison_notes(plans);
  json["cautions"] = joined_cautions(plans);
  write_json(out, json);
}

void write_comparison_csv(std::ostream& out, const std::vector<ComparedPlan>& plans) {
  fmt::print(out,
             "plan,file,title,flat_home,flat_home_low,flat_home_high,flat_as_planned,"
             "flat_as_planned_low,flat_as_planned_high,generator_h_mean,generator_h_p50,"
             "generator_h_p90,fuel_l_mean,fuel_l_p50,fuel_l_p90,days_of_autonomy,"
             "flat_home_difference,flat_home_difference_low,flat_home_difference_high,"
             "flat_as_planned_difference,flat_as_planned_difference_low,"
             "flat_as_planned_difference_high,generator_h_difference,generator_h_difference_low,"
             "generator_h_difference_high\n");
  const auto three = [](const auto& d) {
    return fmt::format(",{},{},{}", d.difference, d.interval.low, d.interval.high);
  };
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const ComparedPlan& p = plans[i];
    const Proportion &home = p.result.home.flat, &planned = risk_as_planned(p.result).flat;
    std::string line =
        fmt::format("{},{},{},{},{},{},{},{},{}", letter(i), csv_field(p.plan.file),
                    csv_field(p.plan.title), home.p, home.interval.low, home.interval.high,
                    planned.p, planned.interval.low, planned.interval.high);
    if (const auto& g = p.result.generator) {
      line += fmt::format(",{},{},{},{},{},{}", g->hours.mean, g->hours.p50, g->hours.p90,
                          g->fuel_l.mean, g->fuel_l.p50, g->fuel_l.p90);
    } else {
      line += ",,,,,,";
    }
    line += fmt::format(",{}", p.budget.days_of_autonomy);
    if (i > 0) {
      const PlanDifference d = plan_difference(plans.front().outcomes, p.outcomes);
      line += three(d.home) + three(d.planned.value_or(d.home));
      line += d.generator_h ? three(*d.generator_h) : ",,,";
    } else {
      line += ",,,,,,,,,";
    }
    fmt::print(out, "{}\n", line);
  }
}

}  // namespace dullspell
