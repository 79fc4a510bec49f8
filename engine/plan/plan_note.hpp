#pragma once

#include <cstddef>
#include <string>
#include <variant>
#include <vector>

namespace dullspell {

/// What a plan allows and a reader of its results should know. Each is a fact; camps are indices
/// into Plan::camps. Words for them are made where results are shown.
namespace plan_note {

/// A drive into the first camp lies before arrival: without effect.
struct DriveBeforeArrival {
  bool operator==(const DriveBeforeArrival&) const = default;
};

/// The vehicle charges, but no drive lies within the stay: without effect.
struct VehicleNeverDriven {
  bool operator==(const VehicleNeverDriven&) const = default;
};

/// A cable takes much of what its panels give in full sun.
struct CableTakesMuch {
  std::string panels;
  double share;      ///< 0..1
  double current_a;  ///< then
  bool operator==(const CableTakesMuch&) const = default;
};

/// Controllers, but no panels.
struct ControllersWithoutPanels {
  bool operator==(const ControllersWithoutPanels&) const = default;
};

/// The inverter's loss cannot be what was stated at this point: points and standby do not fit.
struct InverterMisfit {
  double load_share;           ///< 0..1, of the rated power
  double modelled_efficiency;  ///< 0..1
  double stated_efficiency;    ///< 0..1
  bool operator==(const InverterMisfit&) const = default;
};

/// A load asks for hours in which the inverter is off: it does not run then.
struct LoadBesideInverterHours {
  std::string load;
  bool operator==(const LoadBesideInverterHours&) const = default;
};

/// A load asks for more than the inverter is rated for: the rest counts as shortfall.
struct LoadAboveInverter {
  std::string load;
  double load_w;
  double rated_w;
  bool operator==(const LoadAboveInverter&) const = default;
};

/// Loads that may run in the same hour ask for more than the battery may give at once.
struct LoadsAboveBattery {
  double loads_w;
  double discharge_limit_w;
  bool operator==(const LoadsAboveBattery&) const = default;
};

/// The generator's charger could give more than the battery takes.
struct ChargerAboveBattery {
  double charger_w;
  double charge_limit_w;
  bool operator==(const ChargerAboveBattery&) const = default;
};

/// The generator cannot feed all that its charger could give.
struct GeneratorBelowCharger {
  double rated_w;
  double charger_takes_w;
  bool operator==(const GeneratorBelowCharger&) const = default;
};

/// Forecast and yesterday's sky were set aside: they hold for the plan's own dates and place.
struct ForecastSetAside {
  bool operator==(const ForecastSetAside&) const = default;
};

/// Readings of the display moved what the plan states. Guesses that hardly moved are left out.
struct CorrectedByReadings {
  struct Change {
    std::string name;
    double stated, corrected;
    std::string unit;  ///< "" for shares
    bool operator==(const Change&) const = default;
  };
  std::size_t readings;
  std::vector<Change> changes;
  bool operator==(const CorrectedByReadings&) const = default;
};

/// A reading that does not fit what the others and the plan make expect.
struct ReadingDoesNotFit {
  std::size_t reading;  ///< its number in the plan
  double off_by;        ///< standard errors
  bool operator==(const ReadingDoesNotFit&) const = default;
};

}  // namespace plan_note

using PlanNote = std::variant<
    plan_note::DriveBeforeArrival, plan_note::VehicleNeverDriven,
    plan_note::ControllersWithoutPanels, plan_note::CableTakesMuch, plan_note::InverterMisfit,
    plan_note::LoadBesideInverterHours, plan_note::LoadAboveInverter, plan_note::LoadsAboveBattery,
    plan_note::ChargerAboveBattery, plan_note::GeneratorBelowCharger, plan_note::ForecastSetAside,
    plan_note::CorrectedByReadings, plan_note::ReadingDoesNotFit>;

}  // namespace dullspell
