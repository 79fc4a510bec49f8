#include "reports/comparison_report.hpp"

#include <algorithm>
#include <cstdint>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "reports/cautions.hpp"
#include "reports/comparison_tables.hpp"
#include "reports/csv_writer.hpp"
#include "reports/difference_text.hpp"
#include "reports/json_report.hpp"
#include "reports/number_text.hpp"
#include "reports/text_report.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Plans = std::vector<ComparedPlan>;

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
  const std::size_t best = safest_plan(plans, view);
  const std::uint64_t stays = plans.front().outcomes.stays;
  std::vector<std::size_t> beaten, level;
  for (std::size_t i = 0; i < plans.size(); ++i) {
    if (i == best) continue;
    (difference_of(plans[i], plans[best], view).is_clear() ? beaten : level).push_back(i);
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
                            plan_letter(best),
                            plans.size() == 2 ? "safer"
                            : level.empty()   ? fmt::format("the safest of {}", plans.size())
                                              : "among the safest",
                            flat(best), plan_letter(other), flat(other),
                            points_in_words(difference_of(plans[other], plans[best], view))));
    text += climate_sentence(plans[other], plans[best], view);
    const double accepted = plans[best].plan.accept_risk;
    if (standing(risk_of(plans[best], view).flat, accepted) == RiskStanding::exceeded) {
      text += fmt::format(" Even so {} is beyond the {} that it accepts.", plan_letter(best),
                          accepted_text(accepted));
    }
    if (beaten.size() > 1 && *next != other) {
      text += fmt::format(" The next is {} with {}.", plan_letter(*next), flat(*next));
    }
    for (const std::size_t i : level) {
      text += ' ';
      text += cannot_tell(plan_letter(i), plan_letter(best),
                          difference_of(plans[i], plans[best], view), stays);
    }
    return text;
  }
  for (const std::size_t i : level) {
    const std::size_t a = std::min(i, best), b = std::max(i, best);
    const std::string pair =
        cannot_tell(plan_letter(a), plan_letter(b), difference_of(plans[a], plans[b], view), stays);
    text += text.empty() ? said(pair) : fmt::format(" {}", pair);
  }
  return text + fmt::format(" {} runs flat in {}.", plan_letter(best), flat(best));
}

std::string generator_sentence(const Plans& plans) {
  std::string text;
  for (std::size_t i = 1; i < plans.size(); ++i) {
    const auto d = plan_difference(plans.front().outcomes, plans[i].outcomes).generator_h;
    if (!d || (d->interval.low <= 0.0 && d->interval.high >= 0.0)) continue;
    text += fmt::format("{} the generator of {} runs {} h {} a stay", text.empty() ? "" : ",",
                        plan_letter(i), hours(*d), d->difference < 0.0 ? "less" : "more");
  }
  if (text.empty()) return "";
  return fmt::format(" Against A,{} on average.", text);
}

// Letters of the plans for which something holds against the first: "B, C".
template <class Differs>
std::string letters(const Plans& plans, Differs differs) {
  std::string out;
  for (std::size_t i = 1; i < plans.size(); ++i) {
    if (differs(plans.front(), plans[i])) out += (out.empty() ? "" : ", ") + plan_letter(i);
  }
  return out;
}

std::vector<std::string> notes_of(const ComparedPlan& plan, Units units) {
  return report_notes(
      RunReport{plan.plan, plan.prepared, plan.result, plan.budget, nullptr, nullptr, units});
}

// Each once; those that not all plans share say whose they are.
std::vector<std::string> joined_notes(const Plans& plans, Units units) {
  std::vector<std::string> all, out;
  std::vector<std::string> whose;
  for (std::size_t i = 0; i < plans.size(); ++i) {
    for (const std::string& note : notes_of(plans[i], units)) {
      const auto at = std::find(all.begin(), all.end(), note);
      if (at == all.end()) {
        all.push_back(note);
        whose.push_back(plan_letter(i));
      } else {
        whose[static_cast<std::size_t>(at - all.begin())] += plan_letter(i);
      }
    }
  }
  for (std::size_t n = 0; n < all.size(); ++n) {
    const bool shared = whose[n].size() == plans.size();
    out.push_back(shared ? all[n] : fmt::format("{}: {}", fmt::join(whose[n], ", "), all[n]));
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

std::vector<std::string> comparison_notes(const std::vector<ComparedPlan>& plans, Units units) {
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
  const auto rest = joined_notes(plans, units);
  out.insert(out.end(), rest.begin(), rest.end());
  return out;
}

std::vector<std::string> comparison_cautions(const std::vector<ComparedPlan>& plans) {
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

void write_comparison_text(std::ostream& out, const std::vector<ComparedPlan>& plans,
                           TextStyle style, Units units) {
  TextWriter writer(out, style);
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const std::string name = fmt::format("{}: {}", plan_letter(i), plans[i].plan.file);
    i == 0 ? writer.title(name) : writer.heading(name);
    write_plan_summary(writer, plans[i].plan, plans[i].prepared, units);
  }
  writer.verdict(comparison_verdict(plans), Tone::plain);
  writer.table(risks_table(plans, View::home));
  if (any_generator(plans)) {
    writer.table(risks_table(plans, View::planned));
    writer.table(generators_table(plans, units));
  }
  writer.table(balances_table(plans));
  writer.list("What the figures rest on", comparison_notes(plans, units));
  writer.list("Cautions", comparison_cautions(plans));
  const StudyResult& result = plans.front().result;
  writer.footer(study_footer(result.stays, result.seed, result.instruction_set));
}

Json comparison_json(const std::vector<ComparedPlan>& plans, std::string_view program,
                     Units units) {
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
        {{"letter", plan_letter(i)},
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
  json["notes"] = comparison_notes(plans, units);
  json["cautions"] = comparison_cautions(plans);
  return json;
}

void write_comparison_json(std::ostream& out, const std::vector<ComparedPlan>& plans,
                           std::string_view program, Units units) {
  write_json(out, comparison_json(plans, program, units));
}

void write_comparison_csv(std::ostream& out, const std::vector<ComparedPlan>& plans) {
  CsvWriter csv(out,
                "plan,file,title,flat_home,flat_home_low,flat_home_high,flat_as_planned,"
                "flat_as_planned_low,flat_as_planned_high,generator_h_mean,generator_h_p50,"
                "generator_h_p90,fuel_l_mean,fuel_l_p50,fuel_l_p90,days_of_autonomy,"
                "flat_home_difference,flat_home_difference_low,flat_home_difference_high,"
                "flat_as_planned_difference,flat_as_planned_difference_low,"
                "flat_as_planned_difference_high,generator_h_difference,"
                "generator_h_difference_low,generator_h_difference_high");
  const auto with_interval = [&](double value, const Interval& interval) {
    csv.cells(value, interval.low, interval.high);
  };
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const ComparedPlan& p = plans[i];
    const Proportion &home = p.result.home.flat, &planned = risk_as_planned(p.result).flat;
    csv.cells(plan_letter(i), p.plan.file, p.plan.title);
    with_interval(home.p, home.interval);
    with_interval(planned.p, planned.interval);
    if (const auto& g = p.result.generator) {
      csv.cells(g->hours.mean, g->hours.p50, g->hours.p90, g->fuel_l.mean, g->fuel_l.p50,
                g->fuel_l.p90);
    } else {
      csv.empty(6);
    }
    csv.cells(p.budget.days_of_autonomy);
    if (i > 0) {
      const PlanDifference d = plan_difference(plans.front().outcomes, p.outcomes);
      const PairedDifference& as_planned = d.planned ? *d.planned : d.home;
      with_interval(d.home.difference, d.home.interval);
      with_interval(as_planned.difference, as_planned.interval);
      if (d.generator_h) {
        with_interval(d.generator_h->difference, d.generator_h->interval);
      } else {
        csv.empty(3);
      }
    } else {
      csv.empty(9);
    }
    csv.end_row();
  }
}

}  // namespace dullspell
