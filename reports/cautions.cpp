#include "reports/cautions.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "engine/stay/expected_stay.hpp"
#include "reports/clock_notes.hpp"
#include "reports/note_text.hpp"
#include "reports/number_text.hpp"

namespace dullspell {
namespace {

std::string record_note(const Place& place) {
  switch (place.record) {
    case RecordKind::typical_year:
      return fmt::format(
          "{}: one typical year ({}), drawn toward the stations around it and a world grid, since "
          "a single year errs.",
          place.name, place.source);
    case RecordKind::measured:
      return fmt::format("{}: statistics of a measured record ({}{}{}).", place.name, place.source,
                         place.years.empty() ? "" : ", ", place.years);
    case RecordKind::monthly_means:
      return fmt::format("{}: monthly means only ({}); the day-to-day spread is a model's.",
                         place.name, place.source);
    case RecordKind::estimated:
      return fmt::format(
          "{}: estimated, not measured ({}), and drawn toward the stations around it and "
          "a world grid.{}",
          place.name, place.source,
          place.licence.empty() ? ""
                                : fmt::format(" License of these figures: {}.", place.licence));
    case RecordKind::blended:
      return fmt::format("{}: months made from {}.{}", place.name, place.source,
                         place.licence.empty()
                             ? ""
                             : fmt::format(" Some of those are estimated: {}.", place.licence));
  }
  return {};
}

// A place may serve several camps: said once.
void add_once(std::vector<std::string>& notes, std::string note) {
  if (std::find(notes.begin(), notes.end(), note) == notes.end()) notes.push_back(std::move(note));
}

}  // namespace

std::vector<std::string> place_notes(const Plan& plan, Units units) {
  std::vector<std::string> notes;
  for (const Camp& camp : plan.camps) {
    add_once(notes, record_note(camp.place));
    const bool blended = camp.place.record == RecordKind::blended;
    if (blended && !camp.elevation_m) {
      add_once(notes, fmt::format("The height of the camp at {} is not stated (elevation_m): "
                                  "temperatures are those of a usual height there.",
                                  camp.place.name));
    } else if (blended) {
      // Its temperatures are those of the camp's own height.
    } else if (camp.elevation_m && camp.place.elevation_m) {
      add_once(notes, fmt::format("{} lies at {}, the camp at {}: temperatures are moved by {}.",
                                  camp.place.name, height(*camp.place.elevation_m, units),
                                  height(*camp.elevation_m, units),
                                  units == Units::us ? "-3.6 °F per 1000 ft" : "-6.5 K per km"));
    } else if (camp.elevation_m) {
      add_once(notes,
               fmt::format("The elevation of {} is unknown: elevation_m of the camp moves no "
                           "temperature.",
                           camp.place.name));
    }
    if (!camp.place.defaults.empty()) {
      std::string list;
      for (const auto& d : camp.place.defaults) list += (list.empty() ? "" : "; ") + d;
      add_once(notes,
               fmt::format("{} does not state: {}. Defaults are used.", camp.place.name, list));
    }
    for (const auto& note : camp.place.notes) add_once(notes, camp.place.name + ": " + note + ".");
  }
  return notes;
}

namespace {

void add_forecast_notes(const RunReport& report, std::vector<std::string>& notes) {
  constexpr double kNoticeable = 0.02;
  for (const KnownDate& known : report.prepared.known) {
    if (std::abs(known.k_median - known.stated.k) < kNoticeable) continue;
    notes.push_back(fmt::format(
        "{}: clearness {:.2f} lies beyond the place's statistics for that date; {:.2f} is used.",
        short_date(known.date), known.stated.k, known.k_median));
  }
  if (report.plan.forecast.empty()) return;
  // Common practice, no source.
  notes.push_back(
      "The forecast is trusted as stated. Beyond three or four days one is little better than the "
      "place's statistics: leave those days out, or give k a wide k_spread.");
}

// Without it a reader wonders how a battery that shows a quarter can be flat.
void add_cold_note(const RunReport& report, std::vector<std::string>& notes) {
  const double cut_off = coldest_cut_off_share(report.prepared);
  if (cut_off < 0.05) return;
  notes.push_back(fmt::format(
      "A cold battery cuts off before it shows empty: in the coldest hour of a usual night "
      "of this stay at about {} of charge, on colder nights above that, in warmer hours "
      "below.",
      whole_percent(cut_off)));
}

// Where less is left of the generator than charger and steady loads ask for; loads that come and
// go come on top.
void add_derating_note(const RunReport& report, std::vector<std::string>& notes) {
  const auto& generator = report.prepared.generator;
  if (!generator || report.prepared.derating.kept() >= 1.0) return;
  double steady_w = 0.0;
  for (const HourSlot& slot : report.prepared.hours) {
    if (slot.source == Source::generator) steady_w = std::max(steady_w, slot.fixed_ac_w);
  }
  const double wanted_w = generator->charger_w / generator->charger_efficiency + steady_w;
  if (wanted_w <= generator->rated_w) return;
  const Derating& derating = report.prepared.derating;
  std::string reasons;
  const auto add = [&](const char* reason, double kept) {
    if (kept >= 0.995) return;
    reasons += fmt::format("{}{} takes {}", reasons.empty() ? "" : ", ", reason,
                           whole_percent(1.0 - kept));
  };
  add("height", derating.height);
  add("heat", derating.heat);
  add("propane in place of gasoline", derating.fuel);
  notes.push_back(fmt::format(
      "Of the generator's {:.0f} W there are {:.0f} W left at the camp where it gives least: {}, "
      "by makers' rules. Its charger and the loads that are always on ask for {:.0f} W, so it "
      "charges more slowly.",
      report.plan.generator->rated_w, generator->rated_w, reasons, wanted_w));
}

// Thresholds and figures: tests/calibration/SMOOTH_DAY.md. Below them the smooth day costs less
// than a place's record does.
void add_smooth_day_note(const RunReport& report, std::vector<std::string>& notes) {
  constexpr double kNoticeableCut = 0.05, kLargeCut = 0.15;
  constexpr double kSmall_d = 0.70, kVerySmall_d = 0.55, kNoLongerHurt_d = 2.0;
  constexpr double kHardlyEver = 0.005, kNearlyAlways = 0.98;
  const double cut = share_cut_by_limits(report.prepared, report.budget);
  const double autonomy_d = report.budget.days_of_autonomy;
  const bool limited = cut >= kNoticeableCut;
  const double flat = report.result.home.flat.p;
  const bool small = autonomy_d > 0.0 && autonomy_d < kSmall_d && flat < kNearlyAlways;
  const bool hurt = autonomy_d > 0.0 && autonomy_d < kNoLongerHurt_d && flat > kHardlyEver &&
                    flat < kNearlyAlways;
  if (!limited && !small) return;

  std::string note = "Within a day the sun follows a smooth curve.";
  if (limited) {
    note += fmt::format(
        " The controllers' limits cut {} of it here, and more where clouds pass: the harvest is "
        "some {} % too high, at times 6 %.",
        whole_percent(cut), cut < kLargeCut ? 1 : 2);
  }
  if (small) {
    const bool very_small = autonomy_d < kVerySmall_d;
    const int points = very_small ? (limited ? 25 : 20) : (limited ? 10 : 5);
    note += fmt::format(
        " A battery of {:.1f} days must also bridge dull mornings and evenings: the share of flat "
        "stays is some {} points too low, at times {}.",
        autonomy_d, points, very_small ? 50 : 25);
  } else if (hurt) {
    note += fmt::format(" The share of flat stays is some {} points too low, at times 15.",
                        cut < kLargeCut ? 3 : 5);
  }
  notes.push_back(std::move(note));
}

}  // namespace

std::vector<std::string> report_notes(const RunReport& report) {
  std::vector<std::string> notes = plan_note_texts(report.plan);
  notes.push_back(
      "The sampling interval shrinks with more stays (--stays). The climate interval does not: it "
      "reflects how long, how near and what kind of weather record there is. Neither "
      "holds errors in the plan's watts and hours.");
  for (auto& note : place_notes(report.plan, report.units)) add_once(notes, std::move(note));
  for (auto& note : clock_notes(report.plan, report.prepared.dates.front(),
                                report.prepared.dates.back(), report.units)) {
    notes.push_back(std::move(note));
  }
  add_forecast_notes(report, notes);
  if (report.result.precision && !report.result.precision_reached) {
    notes.push_back(fmt::format("The precision of {} was not reached with {} stays.",
                                *report.result.precision, grouped(report.result.stays)));
  }
  add_cold_note(report, notes);
  add_derating_note(report, notes);
  if (!report.plan.panels.empty()) {
    constexpr double kSnow_c = 3.0;  // a month's mean; its colder days bring snow
    const bool snow = std::any_of(report.prepared.segments.begin(), report.prepared.segments.end(),
                                  [](const Segment& s) { return s.temp_mean_c < kSnow_c; });
    if (snow) {
      notes.push_back(
          "It is cold enough for snow, and snow on panels is not modeled: covered "
          "panels give nothing until they are swept.");
    }
    add_smooth_day_note(report, notes);
    notes.push_back(
        "Shade dims panels in proportion to the light; a small hard shadow on one module can cost "
        "far more.");
  }
  if (report.result.generator && report.result.generator->risk.given_up_wh > 0.5) {
    notes.push_back(fmt::format(
        "Optional loads give up {} a stay with the generator along, {} "
        "without; that is neither flat nor shortfall.",
        energy(report.result.generator->risk.given_up_wh), energy(report.result.home.given_up_wh)));
  } else if (report.result.home.given_up_wh > 0.5) {
    notes.push_back(
        fmt::format("Optional loads give up {} a stay; that is neither flat nor shortfall.",
                    energy(report.result.home.given_up_wh)));
  }
  return notes;
}

namespace {

std::string fuel_caution(Fuel fuel) {
  if (fuel == Fuel::propane) {
    return "Propane is heavier than air, gathers in low places and can explode: keep cylinders "
           "upright and outside, away from tents, vehicles and flames, and shut when not in use. "
           "Look for leaks with soapy water at every connection, never with a flame; if you smell "
           "gas, shut the valve and stay away. Follow your local code and the maker's manual, and "
           "leave fixed gas lines to licensed people.";
  }
  return fmt::format(
      "Let a generator cool before you refuel it, outside and away from flames and sparks. Keep "
      "{} in closed cans made for it, never where people sleep, and do not breathe its fumes; "
      "your local code says how much you may carry and how.",
      to_string(fuel));
}

}  // namespace

std::vector<std::string> report_cautions(const Plan& plan) {
  std::vector<std::string> cautions;
  if (plan.generator) {
    cautions.push_back(
        "Carbon monoxide kills: run a generator outdoors only, at least 6 m (20 ft) from tents, "
        "vehicles and openings, exhaust pointed away, with a working CO alarm where people sleep.");
    cautions.push_back(
        "Never feed a generator into wiring that is also connected to shore power or to an "
        "inverter "
        "(back-feed): use a transfer switch fitted by a licensed electrician. Keep the camp's "
        "quiet "
        "hours.");
    cautions.push_back(fuel_caution(plan.generator->fuel));
  }
  if (plan.furnace) {
    cautions.push_back(
        "A flat battery stops the furnace's blower: have another safe source of warmth, "
        "and CO and gas alarms that work.");
  }
  cautions.push_back(
      "Lithium cells must not be charged below 0 °C (32 °F), and hold less in the cold.");
  cautions.push_back(
      "Size cables and fuses by the currents that the kit can draw, following your local "
      "code; fuse the battery at its terminal.");
  cautions.push_back(
      "If someone's health depends on a device, plan for a second source of power: no "
      "probability here replaces it.");
  return cautions;
}

}  // namespace dullspell
