#include "tests/calibration/smooth_day_study.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "engine/stay/stay.hpp"
#include "engine/study/parallel.hpp"
#include "engine/study/prepare.hpp"
#include "weather/hourly_shape.hpp"

namespace dullspell::calibration {
namespace {

constexpr int kYear_days = 365;
constexpr double kLosses = 0.10;

Plan year_plan(const HourlySite& site, double tilt_deg) {
  Plan plan;
  plan.arrive = make_date(kTypicalYear, 1, 1);
  plan.arrive_hour = 0;
  plan.leave_hour = 24;
  Camp camp;
  camp.place = site.place;
  camp.where = site.place.where;
  camp.nights = kYear_days + kStay_days - 1;
  plan.camps.push_back(camp);
  plan.clock_offset_h = site.place.utc_offset_h;
  plan.battery.charge_limit_w = plan.battery.discharge_limit_w = 1e6;
  plan.battery.taper_from = 1.0;
  plan.battery.capacity_wh = 1.0;
  plan.controllers.push_back({"sun", kNoLimit_w});
  PanelGroup panels;
  panels.rated_w = kArray_w;
  panels.losses = kLosses;
  panels.mount = PlaneDirection{tilt_deg, 180.0};
  plan.panels.push_back(panels);
  return plan;
}

// A flat plane sees what was measured, whatever part of it is diffuse.
void put_flat_hour(PowerTable& table, int hour, double ghi_wh_m2, double sunlit_share) {
  // The record's sun may rise a little before ours; a sliver of an hour would be too bright.
  const double lit = std::max(0.5, sunlit_share);
  const ModuleLine line = module_line(DullLight::usual, ghi_wh_m2 / lit);
  const double full_w = kArray_w * (1.0 - kLosses) * lit;
  for (int node = 0; node < kClearnessNodes; ++node) {
    table.at_25(node, hour) = full_w * line.at_25;
    table.per_k(node, hour) = full_w * line.per_k;
  }
}

void put_measured_hours(PreparedPlan& plan, const Segment& segment, PowerTable& table,
                        const RecordedHours& measured, const HourlySite& site, double tilt_deg) {
  const Date date = plan.dates[segment.day];
  const SolarDay day = solar_day(date, site.place.where, site.place.utc_offset_h);
  const DaylightShares shares = daylight_shares(day);
  const auto& ghi_wh_m2 = measured.ghi_wh_m2;
  const double day_wh_m2 = std::accumulate(ghi_wh_m2.begin(), ghi_wh_m2.end(), 0.0);
  if (!std::isfinite(day_wh_m2)) throw std::runtime_error(site.name + " lacks an hour");
  for (int h = segment.first_hour; h < segment.end_hour; ++h) {
    HourSlot& slot = plan.hours[static_cast<std::size_t>(h)];
    const auto hour = static_cast<std::size_t>(slot.hour_of_day);
    if (tilt_deg == 0.0) {
      put_flat_hour(table, slot.hour_of_day, ghi_wh_m2[hour], day.hours[hour].share);
      slot.panels_lit = ghi_wh_m2[hour] > 0.0;
      continue;
    }
    // The day's split into beam and diffuse light is kept: only the hours' totals change.
    const double smooth_wh_m2 = day_wh_m2 * shares.total[hour];
    const double ratio = smooth_wh_m2 > 0.0 ? ghi_wh_m2[hour] / smooth_wh_m2 : 0.0;
    for (int node = 0; node < kClearnessNodes; ++node) {
      table.at_25(node, slot.hour_of_day) *= ratio;
      table.per_k(node, slot.hour_of_day) *= ratio;
    }
  }
}

// Clearness and temperatures of the record's days, the same for both forms of the day.
class TypicalDays : public Sky {
 public:
  TypicalDays(const HourlySite& site, int first)
      : past_(site.record, site.place.where), first_(first) {}

  void fill(std::uint32_t, std::span<SegmentSky> out) const override {
    for (std::size_t d = 0; d < out.size(); ++d) {
      const int of_year = (first_ + static_cast<int>(d)) % kYear_days;
      const PastDay& day = past_.on(make_date(kTypicalYear, 1, 1) + std::chrono::days{of_year});
      out[d] = {day.k, day.temp_mean_c.value(), day.temp_range_c.value()};
    }
  }

  void begin_on(int first) { first_ = first; }

 private:
  PastWeather past_;
  int first_;
};

struct Week {
  PreparedPlan smooth;
  PreparedPlan hours;
  int first;
};

double harvest_wh(const PreparedPlan& week, const Sky& sky) {
  return StayRunner(week, sky, 1).run(0).panels_wh;
}

bool runs_flat(const PreparedPlan& week, const Sky& sky) {
  return StayRunner(week, sky, 1).run(0).home.ever_flat();
}

void set_limit(Week& week, double share) {
  week.smooth.controller_limit_w[0] = week.hours.controller_limit_w[0] = share * kArray_w;
}

void set_kit(PreparedPlan& week, double load_w, double autonomy_d) {
  week.battery.capacity_wh = autonomy_d * 24.0 * load_w / week.battery.discharge_efficiency;
  for (HourSlot& slot : week.hours) slot.fixed_dc_w = load_w;
}

}  // namespace

YearPlans year_plans(const HourlySite& site, double tilt_deg) {
  YearPlans out;
  out.smooth = prepare(year_plan(site, tilt_deg));
  out.hours = out.smooth;
  for (Segment& segment : out.hours.segments) {
    const auto of_year = static_cast<std::size_t>(segment.day.value % kYear_days);
    put_measured_hours(out.hours, segment, segment.power[0], site.record.hours.at(of_year), site,
                       tilt_deg);
  }
  return out;
}

PreparedPlan week_of(const PreparedPlan& year, int first) {
  PreparedPlan week;
  week.battery = year.battery;
  week.controller_limit_w = year.controller_limit_w;
  for (int d = 0; d < kStay_days; ++d) {
    const auto of_year = static_cast<std::size_t>(first + d);
    week.dates.push_back(year.dates[of_year]);
    Segment segment = year.segments[of_year];
    const int begin = segment.first_hour, end = segment.end_hour;
    segment.day = d;
    segment.first_hour = static_cast<int>(week.hours.size());
    for (int h = begin; h < end; ++h) {
      week.hours.push_back(year.hours[static_cast<std::size_t>(h)]);
      week.hours.back().segment = d;
      week.hours.back().day = d;
    }
    segment.end_hour = static_cast<int>(week.hours.size());
    week.segments.push_back(std::move(segment));
  }
  return week;
}

std::vector<Comparison> compare_month(const HourlySite& site, std::size_t index,
                                      const YearPlans& plans, int month) {
  std::vector<Week> weeks;
  for (int first = 0; first < kYear_days; ++first) {
    if (month_index(plans.smooth.dates[static_cast<std::size_t>(first)]) != month) continue;
    weeks.push_back({week_of(plans.smooth, first), week_of(plans.hours, first), first});
  }
  TypicalDays sky(site, 0);
  std::vector<Comparison> out;
  double unlimited_wh = 0.0;
  for (std::size_t limit = 0; limit < kLimitShares.size(); ++limit) {
    Comparison harvest;
    harvest.site = index;
    harvest.month = month;
    harvest.limit = limit;
    harvest.stays = static_cast<int>(weeks.size());
    for (Week& week : weeks) {
      set_limit(week, kLimitShares[limit]);
      sky.begin_on(week.first);
      harvest.smooth_wh += harvest_wh(week.smooth, sky);
      harvest.hours_wh += harvest_wh(week.hours, sky);
    }
    if (limit == 0) unlimited_wh = harvest.smooth_wh;
    harvest.unlimited_wh = unlimited_wh;
    for (std::size_t ratio = 0; ratio < kSunToLoads.size(); ++ratio) {
      // The load follows the harvest that a budget would show: smooth, after the limit.
      const double load_w =
          harvest.smooth_wh / (harvest.stays * kStay_days * 24.0 * kSunToLoads[ratio]);
      for (std::size_t autonomy = 0; autonomy < kAutonomies_d.size(); ++autonomy) {
        Comparison kit = harvest;
        kit.sun_to_load = ratio;
        kit.autonomy = autonomy;
        for (Week& week : weeks) {
          set_kit(week.smooth, load_w, kAutonomies_d[autonomy]);
          set_kit(week.hours, load_w, kAutonomies_d[autonomy]);
          sky.begin_on(week.first);
          kit.smooth_flat += runs_flat(week.smooth, sky);
          kit.hours_flat += runs_flat(week.hours, sky);
        }
        out.push_back(kit);
      }
    }
  }
  return out;
}

HourlySite with_smooth_hours(HourlySite site) {
  for (RecordedHours& hours : site.record.hours) {
    const double day_wh_m2 = std::accumulate(hours.ghi_wh_m2.begin(), hours.ghi_wh_m2.end(), 0.0);
    const DaylightShares shares =
        daylight_shares(solar_day(hours.date, site.place.where, site.place.utc_offset_h));
    for (std::size_t h = 0; h < 24; ++h) hours.ghi_wh_m2[h] = day_wh_m2 * shares.total[h];
  }
  return site;
}

std::vector<Comparison> compare_all(const std::vector<HourlySite>& sites, double tilt_deg) {
  std::vector<YearPlans> plans(sites.size());
  for_each_range(sites.size(), 1, 0, [&](std::size_t begin, std::size_t) {
    plans[begin] = year_plans(sites[begin], tilt_deg);
  });
  std::vector<std::vector<Comparison>> parts(sites.size() * 12);
  for_each_range(parts.size(), 1, 0, [&](std::size_t begin, std::size_t) {
    const std::size_t site = begin / 12;
    parts[begin] = compare_month(sites[site], site, plans[site], static_cast<int>(begin % 12));
  });
  std::vector<Comparison> out;
  for (const auto& part : parts) out.insert(out.end(), part.begin(), part.end());
  return out;
}

}  // namespace dullspell::calibration
