#include "reports/note_text.hpp"

#include <fmt/format.h>

#include "reports/reading_text.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {
namespace {

using namespace plan_note;

struct InWords {
  const Plan& plan;

  std::string operator()(const DriveBeforeArrival&) const {
    return "drive_in_h of the first camp lies before arrival and has no effect; "
           "battery.start_charge says how full the battery arrives.";
  }

  std::string operator()(const VehicleNeverDriven&) const {
    return "vehicle.charge_w has no effect: no later camp has drive_in_h.";
  }

  std::string operator()(const ControllersWithoutPanels&) const {
    return "There are controllers, but no [[panels]].";
  }

  std::string operator()(const CableTakesMuch& note) const {
    return fmt::format(
        "The cable of \"{}\" takes {:.0f} % of what they give in full sun, {:.1f} A: a thicker or "
        "a shorter one, or panels in series on an MPPT controller, would bring most of it in.",
        note.panels, 100.0 * note.share, note.current_a);
  }

  std::string operator()(const InverterMisfit& note) const {
    return fmt::format(
        "The inverter's efficiency at {:.0f} % load is modeled as {:.3f}, not {:.3f}: its points "
        "and its standby do not fit together.",
        100.0 * note.load_share, note.modelled_efficiency, note.stated_efficiency);
  }

  std::string operator()(const LoadBesideInverterHours& note) const {
    return fmt::format(
        "\"{}\" needs the inverter at times when inverter.on has it off: it does not run then.",
        note.load);
  }

  std::string operator()(const LoadAboveInverter& note) const {
    return fmt::format(
        "\"{}\" asks for {:.0f} W of an inverter rated {:.0f} W: the rest counts as shortfall.",
        note.load, note.load_w, note.rated_w);
  }

  std::string operator()(const LoadsAboveBattery& note) const {
    return fmt::format(
        "Loads that may run together ask for {:.0f} W; the battery gives up to {:.0f} W. What an "
        "hour's average needs beyond that counts as shortfall, not as flat.",
        note.loads_w, note.discharge_limit_w);
  }

  std::string operator()(const ChargerAboveBattery& note) const {
    return fmt::format(
        "The generator's charger gives up to {:.0f} W, but the battery takes {:.0f} W at most "
        "(battery.charge_limit_w, half of its capacity an hour unless stated): its hours are "
        "longer.",
        note.charger_w, note.charge_limit_w);
  }

  std::string operator()(const GeneratorBelowCharger& note) const {
    return fmt::format(
        "The charger needs {:.0f} W for all that it gives; the generator is rated {:.0f} W.",
        note.charger_takes_w, note.rated_w);
  }

  std::string operator()(const ForecastSetAside&) const {
    return "The plan's forecast and yesterday's sky hold for its own dates and place: left out "
           "here.";
  }

  std::string operator()(const CorrectedByReadings& note) const {
    std::string changes;
    for (const CorrectedByReadings::Change& change : note.changes) {
      changes += fmt::format("{}{} {} → {}{}", changes.empty() ? "" : ", ", change.name,
                             figure_number(change.stated, change.unit),
                             figure_number(change.corrected, change.unit),
                             change.unit.empty() ? "" : " " + change.unit);
    }
    const std::string readings =
        note.readings == 1 ? "A reading" : fmt::format("{} readings", note.readings);
    if (changes.empty()) return readings + " of the display bear the plan's figures out.";
    return fmt::format(
        "{} of the display {} the plan's figures: {}. `dullspell audit` says how and how surely.",
        readings, note.readings == 1 ? "corrects" : "correct", changes);
  }

  std::string operator()(const ReadingDoesNotFit& note) const {
    return fmt::format(
        "Reading {} does not fit the plan and the other readings (off by {:.1f} standard errors): "
        "check it with `dullspell audit` before you rely on the answer.",
        note.reading + 1, note.off_by);
  }
};

}  // namespace

std::string note_text(const PlanNote& note, const Plan& plan) {
  return std::visit(InWords{plan}, note);
}

std::vector<std::string> plan_note_texts(const Plan& plan) {
  std::vector<std::string> out;
  for (const PlanNote& note : plan.notes) out.push_back(note_text(note, plan));
  return out;
}

}  // namespace dullspell
