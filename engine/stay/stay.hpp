#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "engine/hour/hour_flow.hpp"
#include "engine/stay/sky.hpp"
#include "engine/stay/stay_tables.hpp"

namespace dullspell {

/// What one stay did on one of its two tracks.
struct TrackTrace {
  std::vector<double> charge;      ///< state of charge at the end of each hour, 0..1
  std::vector<std::uint8_t> flat;  ///< by hour
  double demand_wh = 0.0;          ///< that loads asked for, without what was given up
  double shortfall_wh = 0.0;
  double given_up_wh = 0.0;  ///< optional loads left out
  double spilled_wh = 0.0;
  double generator_h = 0.0;
  double fuel_l = 0.0;
  int generator_starts = 0;

  int flat_h() const;
  bool ever_flat() const { return flat_h() > 0; }
};

/// One stay, on the same weather with the generator left at home and with it along.
struct StayTrace {
  TrackTrace home;
  TrackTrace along;  ///< empty without a generator in the plan
  /// Hours that would do with perfect foresight, run as late as they can be; absent where all
  /// allowed hours do not suffice.
  std::optional<double> least_generator_h;
  double panels_wh = 0.0;  ///< harvest offered to the battery's side
};

/// Sees every hour of every track; for checks of the energy balance.
class HourWitness {
 public:
  virtual ~HourWitness() = default;
  virtual void hour(std::size_t hour, const HourNeeds& needs, const HourFlow& flow) = 0;
};

/// How much of a stay is worked out; `risk_only` leaves out the least generator hours.
enum class StayDetail { all, risk_only };

/// Runs stays of one prepared plan, one after the other, without allocating between them. One for
/// each thread; the plan and the sky are shared and must outlive it.
class StayRunner {
 public:
  StayRunner(const PreparedPlan& prepared, const Sky& sky, std::uint64_t seed,
             StayDetail detail = StayDetail::all);

  /// The trace stays valid until the next call. `witness` may be null.
  const StayTrace& run(std::uint32_t stay, HourWitness* witness = nullptr);

 private:
  enum class Track { home, along };
  struct Hour {
    HourNeeds needs;  // with optional loads
    double powerless_battery_c = 20.0;
  };
  struct UseOfStay {
    const double* use;
    double operator()(int load) const { return use[load]; }
  };

  void draw_use(std::uint32_t stay);
  void prepare_hours();
  const double* load_w(std::size_t hour) const;
  UseOfStay use_at(std::size_t hour) const;
  HourNeeds needs_at(std::size_t hour, double stored_wh, bool was_flat, double& given_up_wh) const;
  const OutsidePower& outside_at(std::size_t hour, Track track) const;
  Rates<double> rates_at(const HourNeeds& needs, const OutsidePower& outside,
                         double stored_wh) const;
  void run_track(Track track, TrackTrace& trace, HourWitness* witness);
  std::optional<double> least_hours();
  void find_needed_energy();

  const PreparedPlan& plan_;
  const Sky& sky_;
  std::uint64_t seed_;
  StayDetail detail_;
  StayTables tables_;

  Indexed<SegmentIndex, SegmentSky> weather_;
  std::vector<double> use_;  // [segment][flexible load]
  std::vector<Hour> hours_;
  double wanted_wh_ = 0.0;         // by all loads of the stay
  std::vector<double> needed_wh_;  // least_hours: at the start of each hour, and at the end
  StayTrace trace_;
};

}  // namespace dullspell
