#include "reports/size_report.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "engine/plan_edit.hpp"
#include "reports/cautions.hpp"
#include "reports/number_text.hpp"
#include "reports/plan_json.hpp"
#include "reports/text_report.hpp"

namespace dullspell {
namespace {

bool sizes_battery(const SizeStudy& study) {
  return study.question.of == SizeOf::battery;
}

std::string amount(SizeOf of, double size) {
  if (of == SizeOf::panels) return fmt::format("{:.0f} W", size);
  const bool whole = size >= 10'000.0 && std::fmod(size, 1'000.0) == 0.0;
  return whole ? fmt::format("{:.0f} kWh", size / 1000.0) : energy(size);
}

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

// A least size is never rounded to one that would be too small.
double rounded_least(const LeastSize& answer) {
  const double size = answer.least->size;
  return rounded_up(size, step_of(size, answer.sampling));
}

std::string least_text(const LeastSize& answer) {
  return amount(answer.of, rounded_least(answer));
}

std::string range_text(SizeOf of, double least, const Interval& interval) {
  const double step = step_of(least, interval);
  const double low = rounded_down(interval.low, step);
  if (!std::isfinite(interval.high)) return amount(of, low) + " or more";
  const double high = rounded_up(interval.high, step);
  // One unit for both ends.
  if (of == SizeOf::battery && high >= 9999.5) {
    const int decimals = step >= 1000.0 ? 0 : step >= 100.0 ? 1 : 2;
    return fmt::format("{:.{}f}–{:.{}f} kWh", low / 1000.0, decimals, high / 1000.0, decimals);
  }
  return fmt::format("{:.0f}–{:.0f} {}", low, high, of == SizeOf::battery ? "Wh" : "W");
}

std::string of_100(double share) {
  return fmt::format("{:.6g} of 100", 100.0 * share);
}

std::string target_text(const SizeQuestion& question) {
  const double confidence = 1.0 - question.accept_risk;
  return confidence >= 1.0 ? "every stay" : of_100(confidence) + " stays";
}

std::string generator_text(const Plan& plan, const SizeQuestion& question) {
  if (!plan.generator) return "";
  return question.with_generator ? " with the generator along" : " with the generator left at home";
}

std::string ah_text(const SizeStudy& study, double wh) {
  return fmt::format("{:.0f} Ah", wh / study.nominal_v());
}

std::string common_text(const SizeStudy& study, double size) {
  return sizes_battery(study)
             ? fmt::format("{} ({})", ah_text(study, size), amount(SizeOf::battery, size))
             : amount(SizeOf::panels, size);
}

std::string stated_text(const SizeStudy& study) {
  const SizeRisk& stated = study.answer.stated;
  return fmt::format("With the plan's {} it runs flat in {} ({})",
                     amount(study.answer.of, stated.size), in_words(stated.flat),
                     percent_interval(stated.flat));
}

// With the fewest and with the most panels, beside the plan's.
std::string frontier_text(const SizeStudy& study) {
  std::string text;
  for (const FrontierPoint* point : {&study.frontier.front(), &study.frontier.back()}) {
    if (!point->battery.least) continue;
    text += fmt::format("{} {} of panels {}", text.empty() ? " With" : ", with",
                        amount(SizeOf::panels, point->panels_w), least_text(point->battery));
  }
  return text.empty() ? "" : text + " would do.";
}

std::string help_text(const Plan& plan, const SizeStudy& study) {
  std::vector<std::string> helps;
  if (sizes_battery(study)) {
    helps.push_back("more panels or panels that face the sun");
  } else {
    helps.push_back("a larger battery");
  }
  helps.push_back("fewer or shorter loads");
  if (!study.question.with_generator) {
    helps.push_back(plan.generator ? "the generator (--with-generator)" : "a generator");
  } else {
    helps.push_back("more hours for the generator");
  }
  helps.push_back("a camp with more sun");
  std::string text;
  for (std::size_t i = 0; i < helps.size(); ++i) {
    text += (i == 0 ? "" : i + 1 < helps.size() ? ", " : " or ") + helps[i];
  }
  return fmt::format(" What would help: {}.", text);
}

std::string reason_text(const SizeStudy& study, NoSizeReason reason) {
  const Budget& b = study.no_size->budget;
  const double in_wh = b.panels_wh_per_day + b.vehicle_wh_per_day;
  switch (reason) {
    case NoSizeReason::balance:
      return fmt::format(
          "Each average day takes {} more than comes in: panels{} give {}, everything together "
          "takes {}.",
          energy(b.draw_wh_per_day - in_wh), b.vehicle_wh_per_day > 0.0 ? " and vehicle" : "",
          energy(in_wh), energy(b.draw_wh_per_day));
    case NoSizeReason::empty_at_first:
      return "It begins the stay with hardly anything to use in it (start_charge), whatever its "
             "size.";
    case NoSizeReason::cold_store:
      return "The cold of a usual night keeps a fifth or more of what a battery holds in it: keep "
             "it warm.";
    case NoSizeReason::cold_charge:
      return "Much of the sun comes while the cells are too cold to be charged: keep them warm.";
    case NoSizeReason::charge_limit:
      return fmt::format("The battery takes {:.0f} W at most, which leaves much of the sun unused.",
                         study.plan.battery.charge_limit_w);
    case NoSizeReason::controllers:
      return "The controllers' limits hold back larger panels.";
    case NoSizeReason::night:
      return fmt::format("A usual night takes more than the battery's {}, whatever the day brings.",
                         energy(b.usable_wh));
    case NoSizeReason::dull_days:
      return "On average enough comes in, but not on dull days in a row.";
  }
  return {};
}

std::string no_size_text(const Plan& plan, const SizeStudy& study) {
  const SizeRisk& largest = study.answer.largest;
  std::string text =
      fmt::format("No size of {} lasts in {}{}: even with {} the battery runs flat in {} ({}).",
                  sizes_battery(study) ? "battery" : "panels", target_text(study.question),
                  generator_text(plan, study.question), amount(study.answer.of, largest.size),
                  in_words(largest.flat), percent_interval(largest.flat));
  for (const NoSizeReason reason : study.no_size->reasons) {
    text += fmt::format(" {}", reason_text(study, reason));
  }
  return text + help_text(plan, study);
}

void heading(std::ostream& out, std::string_view text) {
  fmt::print(out, "\n{}\n", text);
}

void write_rows(std::ostream& out, const SizeStudy& study) {
  if (study.rows.empty()) return;
  const bool battery = sizes_battery(study);
  heading(out, battery ? "Batteries" : "Panels");
  const auto row = [&](std::string_view size, std::string_view second, std::string_view third,
                       std::string_view flat, std::string_view sampling, const std::string& what) {
    fmt::print(out, "  {}{}{}{}  {}\n", right_aligned(size, 10), right_aligned(second, 13),
               right_aligned(third, 11), right_aligned(flat, 9),
               what.empty() ? std::string(sampling) : left_aligned(sampling, 15) + what);
  };
  row(battery ? "on label" : "rated",
      battery ? fmt::format("at {:g} V", study.nominal_v()) : "a day gives",
      battery ? "autonomy" : "of use", "flat", "sampling", "");
  for (const SizeRow& r : study.rows) {
    const char* what = r.kind == SizeRow::Kind::least    ? "the least"
                       : r.kind == SizeRow::Kind::stated ? "the plan's"
                                                         : "";
    const double size = r.kind == SizeRow::Kind::least ? rounded_least(study.answer) : r.risk.size;
    row(amount(study.answer.of, size), battery ? ah_text(study, size) : energy(r.panels_wh_per_day),
        battery ? fmt::format("{:.1f} days", r.days_of_autonomy)
                : whole_percent(r.panels_wh_per_day / r.draw_wh_per_day),
        percent(r.risk.flat), percent_interval(r.risk.flat), what);
  }
}

void write_frontier(std::ostream& out, const SizeStudy& study) {
  if (study.frontier.empty()) return;
  heading(out, "The least battery with so many panels");
  const auto row = [&](std::string_view panels, std::string_view battery, std::string_view ah,
                       std::string_view autonomy, std::string_view sampling,
                       std::string_view climate) {
    fmt::print(out, "  {}{}{}{}  {}{}\n", right_aligned(panels, 8), right_aligned(battery, 12),
               right_aligned(ah, 10), right_aligned(autonomy, 11), left_aligned(sampling, 20),
               climate);
  };
  row("panels", "battery", fmt::format("at {:g} V", study.nominal_v()), "autonomy", "sampling",
      "climate");
  for (const FrontierPoint& point : study.frontier) {
    const std::string panels = amount(SizeOf::panels, point.panels_w);
    const LeastSize& battery = point.battery;
    if (!battery.least) {
      fmt::print(out, "  {}{}\n", right_aligned(panels, 8), right_aligned("none does", 12));
      continue;
    }
    row(panels, least_text(battery), ah_text(study, rounded_least(battery)),
        fmt::format("{:.1f} days", point.days_of_autonomy),
        range_text(SizeOf::battery, battery.least->size, battery.sampling),
        battery.climate ? range_text(SizeOf::battery, battery.least->size, *battery.climate) : "–");
  }
}

std::string price_text(const Plan& plan, double price) {
  const std::string number = fmt::format("{:.10g}", price);
  return plan.currency.empty() ? number : number + " " + plan.currency;
}

std::string options_sentence(const Plan& plan, const SizeStudy& study) {
  const bool any = std::any_of(study.options.begin(), study.options.end(),
                               [](const OptionRisk& o) { return o.meets; });
  if (!any) return fmt::format("No option lasts in {}.", target_text(study.question));
  std::string text;
  const auto add = [&](std::string_view kind, std::optional<double> KitOption::*figure,
                       const auto& figure_text) {
    if (const auto best = least_of(study.options, figure)) {
      const KitOption& option = study.options[*best].option;
      const bool open = study.options[*best].climate.high > study.question.accept_risk;
      text += fmt::format("{}The {} that {}lasts in {} is {} ({}).", text.empty() ? "" : " ", kind,
                          open ? "probably " : "", target_text(study.question), option.name,
                          figure_text(*(option.*figure)));
    }
  };
  add("cheapest", &KitOption::price, [&](double price) { return price_text(plan, price); });
  add("lightest", &KitOption::weight_kg, [](double kg) { return fmt::format("{:g} kg", kg); });
  if (text.empty()) text = "None of those that last states a price or a weight.";
  return text;
}

void write_options(std::ostream& out, const Plan& plan, const SizeStudy& study) {
  if (study.options.empty()) return;
  heading(out, "Options");
  const auto row = [&](std::string_view name, std::string_view battery, std::string_view panels,
                       std::string_view flat, std::string_view sampling, std::string_view climate,
                       std::string_view weight, std::string_view price, std::string_view lasts) {
    fmt::print(out, "  {}{}{}{}  {}{}{}{}  {}\n", left_aligned(name, 15), right_aligned(battery, 9),
               right_aligned(panels, 8), right_aligned(flat, 8), left_aligned(sampling, 13),
               left_aligned(climate, 11), right_aligned(weight, 8), right_aligned(price, 9), lasts);
  };
  row("", "battery", "panels", "flat", "sampling", "climate", "weight", "price", "lasts");
  for (const OptionRisk& o : study.options) {
    const std::string name = o.option.name;
    const bool fits = display_width(name) <= 14;
    if (!fits) fmt::print(out, "  {}\n", name);
    const auto& weight = o.option.weight_kg;
    row(fits ? name : "", energy(o.option.battery_wh.value_or(plan.battery.capacity_wh)),
        amount(SizeOf::panels, o.option.panels_w.value_or(rated_panels_w(plan))), percent(o.flat),
        percent_interval(o.flat), percent_interval(o.climate),
        weight ? fmt::format("{:g} kg", *weight) : "–",
        o.option.price ? fmt::format("{:.10g}", *o.option.price) : "–", o.meets ? "yes" : "no");
  }
  fmt::print(out, "{}", wrapped(options_sentence(plan, study), 92, 2));
}

RunReport as_run(const SizeStudy& study, const StudyResult& result) {
  return {study.plan, study.prepared, result, study.budget};
}

// What the notes of a run ask about, at the size that is shown.
StudyResult result_at(const SizeStudy& study) {
  StudyResult result;
  result.seed = study.run.seed;
  result.stays = study.run.stays;
  result.instruction_set = study.run.instruction_set;
  result.home.flat = study.answer.least ? study.answer.least->flat : study.answer.largest.flat;
  return result;
}

// Of the hours' averages that the plan expects, without what comes in.
double greatest_draw_w(const PreparedPlan& plan) {
  double most_w = 0.0;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    const auto segment = static_cast<std::size_t>(plan.hours[h].segment);
    most_w = std::max(most_w, expected_hour(plan, h, plan.segments[segment].k_mean).draw_w);
  }
  return most_w;
}

std::vector<std::string> size_notes(const SizeStudy& study) {
  std::vector<std::string> notes;
  if (sizes_battery(study)) {
    notes.push_back(fmt::format(
        "Sizes are those on the label, of a battery with the plan's health of {} and usable share "
        "of {}. Ah are at {:g} V{}.",
        whole_percent(study.plan.battery.health), whole_percent(study.plan.battery.usable_share),
        study.nominal_v(),
        study.plan.battery.nominal_v ? "" : ", since battery.nominal_v is not stated"));
  } else {
    notes.push_back(
        "Panels are those of the plan in another size, mounted and shared among controllers as "
        "they are; controllers keep their limits.");
  }
  notes.push_back(
      "Every size meets the same drawn weather. A size that is given has itself few enough flat "
      "stays, and the next smaller one that was tried has not.");
  if (const double most_w = greatest_draw_w(study.prepared);
      most_w > study.plan.battery.discharge_limit_w) {
    notes.push_back(
        fmt::format("In some hours the loads ask for {:.0f} W, and a battery of {} gives up to "
                    "{:.0f} W: what is missing then counts as shortfall, not as flat.",
                    most_w, amount(SizeOf::battery, study.plan.battery.capacity_wh),
                    study.plan.battery.discharge_limit_w));
  }
  constexpr std::uint64_t kFew = 5;
  if (study.allowed < kFew) {
    notes.push_back(fmt::format(
        "So few stays may run flat ({} of {}) that the size hangs on single ones: more --stays "
        "make it surer.",
        study.allowed, grouped(study.run.stays)));
  }
  const StudyResult result = result_at(study);
  for (auto& note : report_notes(as_run(study, result))) notes.push_back(std::move(note));
  return notes;
}

Json interval_json(const Interval& interval) {
  return {{"low", interval.low}, {"high", limit(interval.high)}};
}

Json risk_json(const SizeStudy& study, const SizeRisk& risk) {
  Json out = {{sizes_battery(study) ? "battery_wh" : "panels_w", risk.size}};
  out["flat_stays"] = risk.flat.count;
  out["flat"] = share(risk.flat);
  return out;
}

const char* reason_word(NoSizeReason reason) {
  switch (reason) {
    case NoSizeReason::balance:
      return "balance";
    case NoSizeReason::empty_at_first:
      return "empty_at_first";
    case NoSizeReason::cold_store:
      return "cold_store";
    case NoSizeReason::cold_charge:
      return "cold_charge";
    case NoSizeReason::charge_limit:
      return "charge_limit";
    case NoSizeReason::controllers:
      return "controllers";
    case NoSizeReason::night:
      return "night";
    case NoSizeReason::dull_days:
      return "dull_days";
  }
  return "";
}

Json no_size_json(const SizeStudy& study) {
  if (!study.no_size) return nullptr;
  Json reasons = Json::array();
  for (const NoSizeReason reason : study.no_size->reasons) {
    reasons.push_back({{"reason", reason_word(reason)}, {"text", reason_text(study, reason)}});
  }
  return {{"largest", risk_json(study, study.answer.largest)},
          {"panels_wh_per_day", study.no_size->budget.panels_wh_per_day},
          {"vehicle_wh_per_day", study.no_size->budget.vehicle_wh_per_day},
          {"draw_wh_per_day", study.no_size->budget.draw_wh_per_day},
          {"reasons", reasons}};
}

Json least_json(const SizeStudy& study) {
  if (!study.answer.least) return nullptr;
  Json out = risk_json(study, *study.answer.least);
  out["sampling"] = interval_json(study.answer.sampling);
  out["climate"] = study.answer.climate ? interval_json(*study.answer.climate) : Json(nullptr);
  if (sizes_battery(study)) {
    out["nominal_v"] = study.nominal_v();
    out["capacity_ah"] = study.answer.least->size / study.nominal_v();
  }
  out["days_of_autonomy"] = study.budget.days_of_autonomy;
  out["panels_wh_per_day"] = study.budget.panels_wh_per_day;
  out["draw_wh_per_day"] = study.budget.draw_wh_per_day;
  return out;
}

Json frontier_json(const SizeStudy& study) {
  Json out = Json::array();
  for (const FrontierPoint& point : study.frontier) {
    const LeastSize& battery = point.battery;
    Json least = nullptr;
    if (battery.least) {
      least = risk_json(study, *battery.least);
      least["sampling"] = interval_json(battery.sampling);
      least["climate"] = battery.climate ? interval_json(*battery.climate) : Json(nullptr);
      least["days_of_autonomy"] = point.days_of_autonomy;
    }
    out.push_back({{"panels_w", point.panels_w}, {"least", least}});
  }
  return out;
}

Json options_json(const SizeStudy& study) {
  Json out = Json::array();
  for (const OptionRisk& o : study.options) {
    out.push_back({{"name", o.option.name},
                   {"battery_wh", or_null(o.option.battery_wh)},
                   {"panels_w", or_null(o.option.panels_w)},
                   {"weight_kg", or_null(o.option.weight_kg)},
                   {"price", or_null(o.option.price)},
                   {"flat_stays", o.flat.count},
                   {"flat", share(o.flat, o.climate)},
                   {"meets_target", o.meets}});
  }
  return out;
}

Json best_json(const SizeStudy& study, std::optional<double> KitOption::*figure) {
  const auto best = least_of(study.options, figure);
  return best ? Json(study.options[*best].option.name) : Json(nullptr);
}

// RFC 4180: quotes only where needed.
std::string csv_text(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
  return out + "\"";
}

}  // namespace

std::string size_verdict(const Plan& plan, const SizeStudy& study) {
  if (study.no_size) return no_size_text(plan, study);
  const LeastSize& answer = study.answer;
  const bool battery = sizes_battery(study);
  const bool stated_meets = answer.stated.flat.count <= study.allowed;
  const double least = answer.least->size;
  std::string text;
  if (stated_meets) {
    text += fmt::format("The plan's {} {}: the battery runs flat in {} ({}){}. ",
                        amount(answer.of, answer.stated.size), battery ? "is enough" : "are enough",
                        in_words(answer.stated.flat), percent_interval(answer.stated.flat),
                        generator_text(plan, study.question));
  }
  text += fmt::format(
      "To last in {}{}, {} {} ({} for this number of stays{}){}.", target_text(study.question),
      stated_meets ? "" : generator_text(plan, study.question),
      battery ? "the battery needs" : "it needs panels of", least_text(answer),
      range_text(answer.of, least, answer.sampling),
      answer.climate ? "; counting what the weather record cannot tell, " +
                           range_text(answer.of, least, *answer.climate)
                     : "",
      battery ? fmt::format(" on its label, which is {} at {:g} V or {:.1f} days of autonomy",
                            ah_text(study, rounded_least(answer)), study.nominal_v(),
                            study.budget.days_of_autonomy)
              : "");
  if (least == (battery ? kLeastBattery_wh : kLeastPanels_w)) {
    text += " That is the least that is tried: less may do.";
  }
  if (stated_meets && least < answer.stated.size) {
    text += fmt::format(" That is {} less than the plan has.",
                        whole_percent(1.0 - least / answer.stated.size));
  }
  if (study.next_common) {
    text +=
        fmt::format(" With the next common size, {}, it runs flat in {}.",
                    common_text(study, study.next_common->size), in_words(study.next_common->flat));
  }
  if (!stated_meets) text += fmt::format(" {}.", stated_text(study));
  if (!study.frontier.empty()) text += frontier_text(study);
  return text;
}

void write_size_text(std::ostream& out, const Plan& plan, const SizeStudy& study, TextStyle style) {
  TextWriter writer(out, style);
  write_plan_summary(writer, plan, prepare(plan));
  fmt::print(out, "\n{}", wrapped(size_verdict(plan, study)));
  write_frontier(out, study);
  write_rows(out, study);
  write_options(out, plan, study);
  writer.list("What the figures rest on", size_notes(study));
  writer.list("Cautions", report_cautions(study.plan));
  fmt::print(out, "\n{} stays, seed {}, {} instructions. Intervals are 95 %.\n",
             grouped(study.run.stays), study.run.seed, to_string(study.run.instruction_set));
}

void write_size_json(std::ostream& out, const Plan& plan, const SizeStudy& study,
                     std::string_view program) {
  Json json = {{"format", "dullspell.size/1"},
               {"program", program},
               {"seed", study.run.seed},
               {"stays", study.run.stays},
               {"instruction_set", to_string(study.run.instruction_set)},
               {"plan", plan_json(plan, study.prepared)},
               {"places", places_json(plan)},
               {"vary", !study.frontier.empty() ? "both"
                        : sizes_battery(study)  ? "battery"
                                                : "panels"},
               {"confidence", 1.0 - study.question.accept_risk},
               {"with_generator", study.question.with_generator},
               {"verdict", size_verdict(plan, study)},
               {"least", least_json(study)}};
  json["next_common"] = study.next_common ? risk_json(study, *study.next_common) : Json(nullptr);
  json["stated"] = risk_json(study, study.answer.stated);
  json["no_size"] = no_size_json(study);
  json["curve"] = Json::array();
  for (const SizeRisk& risk : study.answer.curve) json["curve"].push_back(risk_json(study, risk));
  json["frontier"] = frontier_json(study);
  json["options"] = options_json(study);
  json["cheapest"] = best_json(study, &KitOption::price);
  json["lightest"] = best_json(study, &KitOption::weight_kg);
  json["notes"] = size_notes(study);
  json["cautions"] = report_cautions(study.plan);
  write_json(out, json);
}

void write_size_csv(std::ostream& out, const SizeStudy& study) {
  fmt::print(
      out, "row,name,battery_wh,panels_w,stays,flat_stays,flat,flat_low,flat_high,meets_target\n");
  const auto row = [&](std::string_view kind, const std::string& name, double battery_wh,
                       double panels_w, const Proportion& flat) {
    fmt::print(out, "{},{},{},{},{},{},{},{},{},{}\n", kind, csv_text(name), battery_wh, panels_w,
               flat.trials, flat.count, flat.p, flat.interval.low, flat.interval.high,
               flat.count <= study.allowed ? "yes" : "no");
  };
  const LeastSize& answer = study.answer;
  const bool battery = sizes_battery(study);
  const double battery_wh = battery ? answer.stated.size : study.plan.battery.capacity_wh;
  const double panels_w = battery ? rated_panels_w(study.plan) : answer.stated.size;
  const auto sized = [&](std::string_view kind, const SizeRisk& risk) {
    row(kind, "", battery ? risk.size : battery_wh, battery ? panels_w : risk.size, risk.flat);
  };
  if (answer.least) sized("least", *answer.least);
  sized("stated", answer.stated);
  for (const SizeRisk& risk : answer.curve) sized("tried", risk);
  for (const FrontierPoint& point : study.frontier) {
    const LeastSize& found = point.battery;
    if (found.least) row("frontier", "", found.least->size, point.panels_w, found.least->flat);
  }
  for (const OptionRisk& o : study.options) {
    row("option", o.option.name, o.option.battery_wh.value_or(battery_wh),
        o.option.panels_w.value_or(panels_w), o.flat);
  }
}

}  // namespace dullspell
