#include "reports/comparison_verdict.hpp"

#include <algorithm>
#include <cstdint>

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/comparison_tables.hpp"
#include "reports/difference_text.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Plans = std::vector<ComparedPlan>;

std::string stays_needed(const PairedDifference& d, std::uint64_t stays) {
  const auto needed = stays_to_tell(d, stays);
  if (!needed) return "";
  if (*needed > static_cast<double>(kMostStays)) {
    return fmt::format(" If the difference is real, more than {} stays are needed to show it.",
                       grouped(kMostStays));
  }
  return fmt::format(" If the difference is real, about {} stays should show it.",
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
  return fmt::format(" Allowing for gaps in the weather record, anywhere from {} points.",
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
    const bool is_beyond = standing(risk_of(plans[best], view).flat,
                                    plans[best].plan.accept_risk) == RiskStanding::exceeded;
    text = said(fmt::format(
        "{} is {}. It runs flat in {}, {} in {}: on the same simulated weather {} fewer.",
        plan_letter(best),
        plans.size() == 2 ? "safer"
        : !level.empty()  ? "among the safest"
        : is_beyond       ? fmt::format("the least risky of {}, and still not safe", plans.size())
                          : fmt::format("the safest of {}", plans.size()),
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

}  // namespace

std::string comparison_verdict(const std::vector<ComparedPlan>& plans) {
  if (!any_generator(plans)) return verdict_for(plans, View::home, "");
  return verdict_for(plans, View::home, "With generators left at home") + " " +
         verdict_for(plans, View::planned, "As written, generators along") +
         generator_sentence(plans);
}

std::vector<std::string> comparison_notes(const std::vector<ComparedPlan>& plans, Units units) {
  std::vector<std::string> out{
      "Every plan meets the same simulated weather, stay by stay: the difference rests only on "
      "stays that come "
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
    out.push_back(fmt::format(
        "{} against A: other {}. The simulated weather is the same, but the climates differ, and "
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

}  // namespace dullspell
