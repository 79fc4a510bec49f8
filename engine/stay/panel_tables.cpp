#include "engine/stay/panel_tables.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <tuple>

#include "weather/grid_rounding.hpp"

namespace dullspell {
namespace {

// Sky views cost a sum over the whole hemisphere: each camp and direction is worked out once.
class SkyViews {
 public:
  explicit SkyViews(const Plan& plan) {
    for (const Camp& camp : plan.camps) shades_.emplace_back(camp.canopy, camp.skyline);
  }

  const Shade& shade(CampIndex camp) const { return shades_[camp]; }

  double share(CampIndex camp, const PlaneDirection& plane) {
    const auto key = std::make_tuple(camp.value, plane.tilt_deg, plane.azimuth_deg);
    const auto [it, is_new] = known_.try_emplace(key, 0.0);
    if (is_new) it->second = shades_[camp].sky_view_factor(plane);
    return it->second;
  }

 private:
  Indexed<CampIndex, Shade> shades_;
  std::map<std::tuple<int, double, double>, double> known_;
};

template <class F>
void for_each_entry(PowerTable& table, F f) {
  for (auto& row : table.row) {
    for (double& entry : row) f(entry);
  }
}

std::vector<PowerTable> power_on(const Plan& plan, const SolarDay& day, CampIndex camp,
                                 SkyViews& views) {
  std::vector<PowerTable> power(plan.controllers.size());
  const double flat_share = views.share(camp, {0.0, 180.0});
  for (const PanelGroup& group : plan.panels) {
    std::vector<PlaneView> seen;
    for (const auto& plane :
         mount_directions(group.mount, day, plan.camps[camp].where.latitude_deg)) {
      seen.push_back({plane, views.share(camp, plane)});
    }
    add_panel_power(power[group.controller], group, day, views.shade(camp), flat_share, seen);
  }
  for (PowerTable& table : power) {
    for_each_entry(table, [](double& entry) { entry = on_grid(entry); });
  }
  return power;
}

bool reaches_limit(const PanelTables& tables, std::size_t controller) {
  constexpr double kColdestAir_c = -60.0;  // cold panels give more
  const double limit_w = tables.controller_limit_w[controller];
  return std::any_of(tables.power.begin(), tables.power.end(), [&](const auto& power) {
    const PowerTable& table = power[controller];
    for (int node = 0; node < kClearnessNodes; ++node) {
      for (int h = 0; h < 24; ++h) {
        if (table.at_25(node, h) + table.per_k(node, h) * (kColdestAir_c - 25.0) > limit_w) {
          return true;
        }
      }
    }
    return false;
  });
}

void add_table(PowerTable& to, const PowerTable& other) {
  for (int node = 0; node < kClearnessNodes; ++node) {
    for (int column = 0; column < kPowerColumns; ++column) {
      to.row[node][column] += other.row[node][column];
    }
  }
}

// Controllers whose limit no weather reaches are as good as one without a limit, and an hour asks
// for the power of each.
void join_free_controllers(PanelTables& tables) {
  std::optional<std::size_t> joined;
  for (std::size_t c = 0; c < tables.controller_limit_w.size();) {
    if (reaches_limit(tables, c)) {
      ++c;
      continue;
    }
    if (!joined) {
      tables.controller_limit_w[c] = kNoLimit_w;
      joined = c++;
      continue;
    }
    const auto place = static_cast<std::ptrdiff_t>(c);
    for (auto& power : tables.power) {
      add_table(power[*joined], power[c]);
      power.erase(power.begin() + place);
    }
    tables.controller_limit_w.erase(tables.controller_limit_w.begin() + place);
  }
}

}  // namespace

PanelTables panel_tables(const Plan& plan, const StayCalendar& calendar,
                         const Indexed<SegmentIndex, SolarDay>& days) {
  PanelTables out;
  for (const auto& c : plan.controllers) out.controller_limit_w.push_back(on_grid(c.limit_w));
  SkyViews views(plan);
  for (std::size_t i = 0; i < calendar.camp_days.size(); ++i) {
    out.power.push_back(power_on(plan, days[i], calendar.camp_days[i].camp, views));
  }
  join_free_controllers(out);
  return out;
}

}  // namespace dullspell
