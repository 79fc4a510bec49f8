#include "reports/size_report.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "engine/plan_edit.hpp"
#include "engine/stay/expected_stay.hpp"
#include "reports/cautions.hpp"
#include "reports/csv_writer.hpp"
#include "reports/plan_json.hpp"
#include "reports/run_tables.hpp"
#include "reports/size_tables.hpp"
#include "reports/text_report.hpp"

namespace dullspell {
namespace {

std::string stated_text(const SizeStudy& study) {
  const SizeRisk& stated = study.answer.stated;
  return fmt::format("With the plan's {} it runs flat in {} ({})",
                     size_text(study.answer.of, stated.size), in_words(stated.flat),
                     percent_interval(stated.flat));
}

// With the fewest and with the most panels, beside the plan's.
std::string frontier_text(const SizeStudy& study) {
  std::string text;
  for (const FrontierPoint* point : {&study.frontier.front(), &study.frontier.back()}) {
    if (!point->battery.least) continue;
    text += fmt::format("{} {} of panels {}", text.empty() ? " With" : ", with",
                        size_text(SizeOf::panels, point->panels_w), least_text(point->battery));
  }
  return text.empty() ? "" : text + " would do.";
}

std::string help_text(const Plan& plan, const SizeStudy& study) {
  const auto helps = size_helps(plan, study);
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
                  generator_text(plan, study.question), size_text(study.answer.of, largest.size),
                  in_words(largest.flat), percent_interval(largest.flat));
  for (const NoSizeReason reason : study.no_size->reasons) {
    text += fmt::format(" {}", reason_text(study, reason));
  }
  return text + help_text(plan, study);
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

}  // namespace

std::vector<std::string> size_helps(const Plan& plan, const SizeStudy& study) {
  std::vector<std::string> helps{
      sizes_battery(study) ? "more panels or panels that face the sun" : "a larger battery",
      "fewer or shorter loads"};
  if (study.question.with_generator) {
    helps.push_back("more hours for the generator");
  } else {
    helps.push_back(plan.generator ? "the generator (--with-generator)" : "a generator");
  }
  helps.push_back("a camp with more sun");
  return helps;
}

std::vector<std::string> size_notes(const SizeStudy& study, Units units) {
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
                    most_w, size_text(SizeOf::battery, study.plan.battery.capacity_wh),
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
  const RunReport report{study.plan, study.prepared, result, study.budget, nullptr, nullptr, units};
  for (auto& note : report_notes(report)) notes.push_back(std::move(note));
  return notes;
}

std::string size_verdict(const Plan& plan, const SizeStudy& study) {
  if (study.no_size) return no_size_text(plan, study);
  const LeastSize& answer = study.answer;
  const bool battery = sizes_battery(study);
  const bool stated_meets = answer.stated.flat.count <= study.allowed;
  const double least = answer.least->size;
  std::string text;
  if (stated_meets) {
    text += fmt::format("The plan's {} {}: the battery runs flat in {} ({}){}. ",
                        size_text(answer.of, answer.stated.size),
                        battery ? "is enough" : "are enough", in_words(answer.stated.flat),
                        percent_interval(answer.stated.flat), generator_text(plan, study.question));
  }
  text += fmt::format(
      "To last in {}{}, {} {} ({} for this number of stays{}){}.", target_text(study.question),
      stated_meets ? "" : generator_text(plan, study.question),
      battery ? "the battery needs" : "it needs panels of", least_text(answer),
      size_range(answer.of, least, answer.sampling),
      answer.climate ? "; counting what the weather record cannot tell, " +
                           size_range(answer.of, least, *answer.climate)
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

Tone size_tone(const SizeStudy& study) {
  return tone_of(study.answer.stated.flat, study.question.accept_risk);
}

void write_size_text(std::ostream& out, const Plan& plan, const SizeStudy& study, TextStyle style,
                     Units units) {
  TextWriter writer(out, style);
  write_plan_summary(writer, plan, prepare(plan), units);
  writer.verdict(size_verdict(plan, study), size_tone(study));
  if (!study.frontier.empty()) writer.table(frontier_table(study));
  if (!study.rows.empty()) writer.table(sizes_table(study));
  if (!study.options.empty()) {
    writer.table(options_table(plan, study, units));
    writer.paragraph(options_sentence(plan, study, units), 2);
  }
  writer.list("What the figures rest on", size_notes(study, units));
  writer.list("Cautions", report_cautions(study.plan));
  writer.footer(study_footer(study.run.stays, study.run.seed, study.run.instruction_set));
}

Json size_json(const Plan& plan, const SizeStudy& study, std::string_view program, Units units) {
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
  json["notes"] = size_notes(study, units);
  json["cautions"] = report_cautions(study.plan);
  return json;
}

void write_size_json(std::ostream& out, const Plan& plan, const SizeStudy& study,
                     std::string_view program, Units units) {
  write_json(out, size_json(plan, study, program, units));
}

void write_size_csv(std::ostream& out, const SizeStudy& study) {
  CsvWriter csv(
      out, "row,name,battery_wh,panels_w,stays,flat_stays,flat,flat_low,flat_high,meets_target");
  const auto row = [&](std::string_view kind, const std::string& name, double battery_wh,
                       double panels_w, const Proportion& flat) {
    csv.cells(kind, name, battery_wh, panels_w, flat.trials, flat.count, flat.p, flat.interval.low,
              flat.interval.high, flat.count <= study.allowed ? "yes" : "no")
        .end_row();
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
