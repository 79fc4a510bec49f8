#pragma once

#include <string>
#include <utility>
#include <vector>

#include "engine/plan/plan_file.hpp"
#include "engine/stay/expected_stay.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/stay/sky.hpp"
#include "engine/stay/stay.hpp"
#include "engine/study/prepare.hpp"
#include "tests/support/one_hour.hpp"

namespace dullspell {

inline Plan plan_of(const std::string& toml, const std::vector<std::string>& settings = {}) {
  return parse_plan({"plan.toml", toml}, PlaceCatalogue::built_in(), settings);
}

/// The plan with what its camps' places, or the built-in ones nearest to them, state by themselves,
/// without leaning on others.
inline Plan with_stated_places(Plan plan) {
  const PlaceCatalogue& places = PlaceCatalogue::built_in();
  for (Camp& camp : plan.camps) {
    camp.place = *places.place(camp.place.id.empty() ? places.by_distance(camp.where)[0].place->id
                                                     : camp.place.id);
  }
  return plan;
}

inline PreparedPlan prepared_of(const std::string& toml) {
  return prepare(plan_of(toml));
}

/// A battery without losses or limits; in the warm it gives all it holds.
inline Battery lossless_battery(double capacity_wh) {
  Battery battery;
  battery.capacity_wh = capacity_wh;
  battery.charge_efficiency = battery.discharge_efficiency = 1.0;
  battery.taper_from = 1.0;
  battery.self_discharge_per_month = 0.0;
  return battery;
}

/// Dates of one segment each with only the stated clock hours, one controller without panels yet,
/// no loads, a lossless battery: the frame of a storage problem.
inline PreparedPlan bare_plan(int days, const std::vector<int>& clock_hours, double capacity_wh) {
  PreparedPlan plan;
  plan.battery = lossless_battery(capacity_wh);
  plan.controller_limit_w = {kNoLimit_w};
  for (int day = 0; day < days; ++day) {
    plan.dates.push_back(make_date(2027, 6, 1) + std::chrono::days{day});
    Segment segment;
    segment.day = day;
    segment.first_hour = static_cast<int>(plan.hours.size());
    for (const int hour : clock_hours) {
      HourSlot slot;
      slot.segment = day;
      slot.day = day;
      slot.hour_of_day = hour;
      plan.hours.push_back(slot);
    }
    segment.end_hour = static_cast<int>(plan.hours.size());
    segment.power.resize(1);
    plan.segments.push_back(std::move(segment));
  }
  return plan;
}

/// Panels that give `watts` times K in one clock hour of every day, at any temperature.
inline void set_panels(PreparedPlan& plan, int clock_hour, double watts) {
  for (Segment& segment : plan.segments) {
    for (int node = 0; node < kClearnessNodes; ++node) {
      segment.power[0].at_25(node, clock_hour) = watts * node / kNodesPerUnit;
    }
  }
  for (HourSlot& slot : plan.hours) {
    if (slot.hour_of_day == clock_hour) slot.panels_lit = true;
  }
}

/// A direct-current load in one clock hour of every day.
inline void set_load(PreparedPlan& plan, int clock_hour, double watts) {
  for (HourSlot& slot : plan.hours) {
    if (slot.hour_of_day == clock_hour) slot.fixed_dc_w = watts;
  }
}

/// Lets the generator run for a share of one hour.
inline void allow_generator(HourSlot& slot, double share) {
  slot.source = share > 0.0 ? Source::generator : Source::none;
  slot.source_share = share;
}

/// The cabin of a plan in one clock hour.
inline Cabin<double> cabin_of(const PreparedPlan& plan, int hour_of_day, double air_c) {
  return cabin_at(StayTables(plan).hours().furnace, hour_of_day, air_c);
}

/// Its fridge's power at an ambient temperature, W.
inline double fridge_of(const PreparedPlan& plan, double ambient_c) {
  return fridge_w(StayTables(plan).hours().fridge, ambient_c);
}

/// Its panels' power in one hour, W.
inline double panels_of(const PreparedPlan& plan, const HourSlot& slot, double k, double air_c) {
  return panel_power_w(StayTables(plan).hours(), slot, k, air_c);
}

/// A day at 25 C all through, at which cells give all they hold and modules what they are rated.
constexpr SegmentSky mild_day(double k) {
  return {k, 25.0, 0.0};
}

/// The same sky on every day of every stay.
inline ScriptedSky steady_sky(SegmentSky day) {
  return ScriptedSky([day](std::uint32_t, std::span<SegmentSky> out) {
    for (SegmentSky& segment : out) segment = day;
  });
}

/// Keeps every hour of a stay: the track at home, then the one along.
class HourRecorder : public HourWitness {
 public:
  struct Hour {
    HourNeeds needs;
    HourFlow flow;
  };

  void hour(std::size_t hour, const HourNeeds& needs, const HourFlow& flow) override {
    if (hour == 0) tracks_.emplace_back();
    tracks_.back().push_back({needs, flow});
  }

  /// Hours of the latest stay or stays, tracks in the order in which they ran.
  const std::vector<std::vector<Hour>>& tracks() const { return tracks_; }
  const std::vector<Hour>& home() const { return tracks_.at(0); }
  const std::vector<Hour>& along() const { return tracks_.at(1); }
  void clear() { tracks_.clear(); }

 private:
  std::vector<std::vector<Hour>> tracks_;
};

/// Stay 0 of a plan under a sky, with all its hours.
struct WatchedStay {
  StayTrace trace;
  HourRecorder hours;

  WatchedStay(const PreparedPlan& plan, const Sky& sky, std::uint32_t stay = 0,
              std::uint64_t seed = 1) {
    trace = StayRunner(plan, sky, seed).run(stay, &hours);
  }
};

}  // namespace dullspell
