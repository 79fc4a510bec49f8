#include "reports/size_verdict.hpp"

#include <fmt/format.h>

#include "engine/stay/expected_stay.hpp"
#include "reports/cautions.hpp"
#include "reports/run_tables.hpp"
#include "reports/size_tables.hpp"

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

}  // namespace

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

namespace {

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
      "Every size meets the same simulated weather. The size given was simulated and meets the "
      "target; the next smaller one tried does not.");
  if (study.answer.rises_again) {
    notes.push_back(
        "With a generator a larger size is not always safer: some sizes below the one given would "
        "do, but a somewhat larger one than those would not. From the size given on every one "
        "tried "
        "does.");
  }
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
        "make it safer.",
        study.allowed, grouped(study.run.stays)));
  }
  const StudyResult result = result_at(study);
  const RunReport report{study.plan, study.prepared, result, study.budget, nullptr, nullptr, units};
  for (auto& note : report_notes(report)) notes.push_back(std::move(note));
  return notes;
}

bool stated_meets(const SizeStudy& study) {
  return study.answer.stated.flat.count <= study.allowed;
}

std::string size_verdict(const Plan& plan, const SizeStudy& study) {
  if (study.no_size) return no_size_text(plan, study);
  const LeastSize& answer = study.answer;
  const bool battery = sizes_battery(study);
  const bool meets = stated_meets(study);
  const double least = answer.least->size;
  std::string text;
  if (meets) {
    text += fmt::format("The plan's {} {}: the battery runs flat in {} ({}){}. ",
                        size_text(answer.of, answer.stated.size),
                        battery ? "is enough" : "are enough", in_words(answer.stated.flat),
                        percent_interval(answer.stated.flat), generator_text(plan, study.question));
  }
  text += fmt::format(
      "To last in {}{}, {} {} ({} for this number of stays{}){}.", target_text(study.question),
      meets ? "" : generator_text(plan, study.question),
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
  if (meets && least < answer.stated.size) {
    text += fmt::format(" That is {} less than the plan has.",
                        whole_percent(1.0 - least / answer.stated.size));
  }
  if (study.next_common) {
    text +=
        fmt::format(" With the next common size, {}, it runs flat in {}.",
                    common_text(study, study.next_common->size), in_words(study.next_common->flat));
  }
  if (!meets) text += fmt::format(" {}.", stated_text(study));
  if (!study.frontier.empty()) text += frontier_text(study);
  return text;
}

Tone size_tone(const SizeStudy& study) {
  return tone_of(study.answer.stated.flat, study.question.accept_risk);
}

}  // namespace dullspell
