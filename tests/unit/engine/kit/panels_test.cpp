#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "engine/kit/panels.hpp"
#include "engine/study/prepare.hpp"
#include "tests/support/engine_plan.hpp"
#include "weather/diffuse_split.hpp"
#include "weather/extraterrestrial_radiation.hpp"

namespace dullspell::panels_test {

namespace {

std::string plan_text(const std::string& camp_keys, const std::string& panels) {
  return "arrive = 2027-04-15T00:00:00\nleave = \"23:00\"\n[[camp]]\nplace = \"bishop-ca\"\n"
         "nights = 1\n" +
         camp_keys + "[battery]\ncapacity_wh = 1000\n[[load]]\nname = \"lamp\"\nwatts = 5\n" +
         panels;
}

const HourSlot& slot_at(const PreparedPlan& plan, int clock_hour) {
  return plan.hours.at(static_cast<std::size_t>(clock_hour));
}

double watts(const PreparedPlan& plan, int clock_hour, double k, double air_c = 15.0) {
  return panels_of(plan, slot_at(plan, clock_hour), k, air_c);
}

double day_wh(const PreparedPlan& plan, double k, double air_c = 15.0) {
  double sum = 0.0;
  for (int h = 0; h < 24; ++h) sum += watts(plan, h, k, air_c);
  return sum;
}

/// The first group's power straight from irradiance and module, without tables.
class DirectPanels {
 public:
  explicit DirectPanels(const Plan& plan)
      : group_(plan.panels[0]),
        day_(solar_day(plan.arrive, plan.camps[0].where, plan.clock_offset_h)),
        shares_(daylight_shares(day_)),
        shade_(plan.camps[0].canopy, plan.camps[0].skyline),
        flat_sky_view_factor_(shade_.sky_view_factor({0.0, 180.0})) {
    for (const PlaneDirection& plane :
         mount_directions(group_.mount, day_, plan.camps[0].where.latitude_deg)) {
      const bool same = !views_.empty() && views_.back().plane.tilt_deg == plane.tilt_deg &&
                        views_.back().plane.azimuth_deg == plane.azimuth_deg;
      views_.push_back(
          {plane, same ? views_.back().sky_view_factor : shade_.sky_view_factor(plane)});
    }
  }

  double watts(int clock_hour, double k, double air_c) const {
    const auto hour = static_cast<std::size_t>(clock_hour);
    const double irradiance =
        PlaneHour(hour, day_, shares_, shade_, flat_sky_view_factor_, views_[hour])
            .irradiance_w_m2(k);
    const double share =
        module_power_share(group_.dull_light, irradiance, cell_temperature_c(irradiance, air_c));
    return group_.rated_w * (1.0 - group_.losses) * day_.hours[hour].share * std::max(0.0, share);
  }

 private:
  PanelGroup group_;
  SolarDay day_;
  DaylightShares shares_;
  Shade shade_;
  double flat_sky_view_factor_;
  std::vector<PlaneView> views_;
};

const std::string kFlat = "[[panels]]\nrated_w = 400\n";

}  // namespace

TEST_CASE("tabulated panel power is within 1 W or 1 % of a direct evaluation") {
  const std::string mounts[] = {
      kFlat,
      "[[panels]]\nrated_w = 400\nmount = { tilt_deg = 60, azimuth_deg = 180 }\n",
      "[[panels]]\nrated_w = 400\nmount = { tilt_deg = 35, azimuth_deg = 90 }\n",
      "[[panels]]\nrated_w = 400\nmount = { aimed_at = [\"09:00\", \"15:00\"] }\n",
      "[[panels]]\nrated_w = 400\ndull_light = \"poor\"\n",
  };
  const std::string camps[] = {
      "", "canopy = 0.5\n",
      "skyline = [{ from_deg = 80, to_deg = 200, height_deg = 30, lets_through = 0.2 }]\n"};
  double worst_w = 0.0;
  for (const auto& camp : camps) {
    for (const auto& mount : mounts) {
      const std::string text = plan_text(camp, mount);
      CAPTURE(camp, mount);
      const Plan plan = plan_of(text);
      const PreparedPlan prepared = prepare(plan);
      const DirectPanels panels(plan);
      // The tangent of `poor` modules is exact at 25 C only.
      const bool line_is_exact = plan.panels[0].dull_light == DullLight::usual;
      for (int hour = 4; hour < 21; ++hour) {
        for (double k = 0.013; k < 0.85; k += 0.029) {
          for (const double air_c : {-10.0, 25.0, 38.0}) {
            if (!line_is_exact && air_c != 25.0) continue;
            CAPTURE(hour, k, air_c);
            const double tabulated = watts(prepared, hour, k, air_c);
            const double direct = panels.watts(hour, k, air_c);
            worst_w = std::max(worst_w, std::abs(tabulated - direct));
            CHECK(std::abs(tabulated - direct) <= std::max(1.0, 0.01 * direct));
          }
        }
      }
    }
  }
  CHECK(worst_w > 0.0);  // the two ways do differ
}

TEST_CASE("panel power is a straight line in temperature, falling with warmth") {
  const PreparedPlan plan = prepared_of(plan_text("", kFlat));
  for (const double k : {0.1, 0.4, 0.7}) {
    const double cold = watts(plan, 12, k, -5.0), mild = watts(plan, 12, k, 15.0);
    const double hot = watts(plan, 12, k, 35.0);
    CHECK(mild - cold == Approx(hot - mild));
    CHECK(hot < cold);
  }
  // About -0.35 % per kelvin at strong light, common practice.
  CHECK(watts(plan, 12, 0.7, 35.0) / watts(plan, 12, 0.7, 25.0) == Approx(0.965).margin(0.01));
}

TEST_CASE("poor modules' line touches their curve at 25 C and stays near it") {
  for (const double g : {60.0, 200.0, 500.0, 1000.0}) {
    const ModuleLine line = module_line(DullLight::poor, g);
    const auto curve = [&](double air_c) {
      return module_power_share(DullLight::poor, g, cell_temperature_c(g, air_c));
    };
    CHECK(line.at_25 == Approx(curve(25.0)));
    CHECK(line.per_k == Approx((curve(25.01) - curve(24.99)) / 0.02).epsilon(1e-6));
    for (const double air_c : {-15.0, 45.0}) {
      CHECK(line.at_25 + line.per_k * (air_c - 25.0) == Approx(curve(air_c)).epsilon(0.01));
    }
  }
}

TEST_CASE("modules give nothing in the dark and never less than nothing in twilight") {
  for (const DullLight kind : {DullLight::usual, DullLight::poor}) {
    CHECK(module_power_share(kind, 0.0, 25.0) == 0.0);
    CHECK(module_line(kind, 0.0).at_25 == 0.0);
    for (double g = 0.01; g < 20.0; g *= 1.3) CHECK(module_line(kind, g).at_25 >= 0.0);
  }
  const PreparedPlan plan = prepared_of(plan_text("", kFlat));
  for (const int hour : {0, 1, 2, 3, 21, 22}) {
    CHECK_FALSE(slot_at(plan, hour).panels_lit);
    CHECK(watts(plan, hour, 0.7) == 0.0);
  }
  for (int hour = 0; hour < 24; ++hour) CHECK(watts(plan, hour % 23, 0.0) == 0.0);
}

TEST_CASE("more clearness never gives a flat panel less power") {
  const PreparedPlan plan = prepared_of(plan_text("", kFlat));
  for (int hour = 6; hour < 19; ++hour) {
    for (double k = 0.0; k < 0.8; k += 0.01) {
      CHECK(watts(plan, hour, k + 0.01) >= watts(plan, hour, k) - 1e-9);
    }
  }
}

TEST_CASE("a controller's limit caps each hour, at any clearness and temperature") {
  const PreparedPlan open = prepared_of(plan_text("", kFlat));
  const PreparedPlan limited = prepared_of(plan_text("", kFlat + "controller_limit_w = 150\n"));
  int capped = 0;
  for (int hour = 0; hour < 23; ++hour) {
    for (double k = 0.05; k < 0.8; k += 0.05) {
      const double expected = std::min(150.0, watts(open, hour, k, 5.0));
      capped += expected == 150.0;
      CHECK(watts(limited, hour, k, 5.0) == Approx(expected));
    }
  }
  CHECK(capped > 20);
}

TEST_CASE("groups on one controller add up before its limit, others each have their own") {
  const std::string east =
      "[[panels]]\nrated_w = 200\nmount = { tilt_deg = 40, azimuth_deg = 90 }\n";
  const std::string west =
      "[[panels]]\nrated_w = 200\nmount = { tilt_deg = 40, azimuth_deg = 270 }\n";
  const PreparedPlan a = prepared_of(plan_text("", east)), b = prepared_of(plan_text("", west));
  const PreparedPlan apart = prepared_of(plan_text("", east + west));
  const std::string controller = "[[controller]]\nname = \"one\"\nlimit_w = 180\n";
  const std::string on_it = "controller = \"one\"\n";
  const PreparedPlan together =
      prepared_of(plan_text("", controller + east + on_it + west + on_it));
  REQUIRE(together.controller_limit_w.size() == 1);
  for (int hour = 5; hour < 20; ++hour) {
    CAPTURE(hour);
    const double sum = watts(a, hour, 0.65) + watts(b, hour, 0.65);
    CHECK(watts(apart, hour, 0.65) == Approx(sum));
    CHECK(watts(together, hour, 0.65) == Approx(std::min(180.0, sum)).margin(1e-3));
  }
}

TEST_CASE("controllers that their limits cannot hold back are as good as one") {
  const std::string east =
      "[[panels]]\nrated_w = 200\nmount = { tilt_deg = 40, azimuth_deg = 90 }\n";
  const std::string west =
      "[[panels]]\nrated_w = 200\nmount = { tilt_deg = 40, azimuth_deg = 270 }\n";
  const std::string limit = "controller_limit_w = ";
  const PreparedPlan apart = prepared_of(
      plan_text("", east + limit + "150\n" + west + limit + "150\n" + kFlat + limit + "120\n"));
  const PreparedPlan joined = prepared_of(
      plan_text("", east + limit + "5000\n" + west + limit + "150\n" + kFlat + limit + "5000\n"));
  CHECK(apart.controller_limit_w.size() == 3);
  REQUIRE(joined.controller_limit_w.size() == 2);
  CHECK(joined.controller_limit_w == std::vector<double>{kNoLimit_w, 150.0});
  CHECK(joined.segments.front().power.size() == 2);
  const PreparedPlan a = prepared_of(plan_text("", east)), b = prepared_of(plan_text("", west));
  const PreparedPlan c = prepared_of(plan_text("", kFlat));
  for (int hour = 5; hour < 20; ++hour) {
    CAPTURE(hour);
    const double expected = watts(a, hour, 0.7, -10.0) +
                            std::min(150.0, watts(b, hour, 0.7, -10.0)) +
                            watts(c, hour, 0.7, -10.0);
    CHECK(watts(joined, hour, 0.7, -10.0) == Approx(expected));
  }
}

TEST_CASE("panels turned by hand face the sun at the times stated and are turned back at dusk") {
  const Plan plan = plan_of(
      plan_text("", "[[panels]]\nrated_w = 400\nmount = { aimed_at = [\"16:00\", \"10:00\"] }\n"));
  const SolarDay day = solar_day(plan.arrive, plan.camps[0].where, plan.clock_offset_h);
  const auto planes = mount_directions(plan.panels[0].mount, day, plan.camps[0].where.latitude_deg);
  REQUIRE(planes.size() == 24);
  const auto sun_at = [&](double clock_h) {
    return sun_direction_from_hour_angle(plan.camps[0].where.latitude_deg, day.declination_deg,
                                         15.0 * (clock_h + day.solar_minus_clock_h - 12.0));
  };
  for (int hour = 10; hour < 16; ++hour) {
    const auto& plane = planes[static_cast<std::size_t>(hour)];
    CHECK(plane.tilt_deg == Approx(sun_at(10.0).zenith_deg));
    CHECK(plane.azimuth_deg == Approx(sun_at(10.0).azimuth_deg));
  }
  for (const int hour : {16, 20, 23}) {
    CHECK(planes[static_cast<std::size_t>(hour)].azimuth_deg == Approx(sun_at(16.0).azimuth_deg));
  }
  // Turned back at dusk, they face the morning's first time at sunrise.
  for (const int hour : {0, 6, 9}) {
    CHECK(planes[static_cast<std::size_t>(hour)].azimuth_deg == Approx(sun_at(10.0).azimuth_deg));
  }
}

TEST_CASE("turning panels by hand pays on a clear day, the more the oftener, not on a dull one") {
  const PreparedPlan flat = prepared_of(plan_text("", kFlat));
  const auto aimed_at = [](const std::string& times) {
    return prepared_of(
        plan_text("", "[[panels]]\nrated_w = 400\nmount = { aimed_at = [" + times + "] }\n"));
  };
  const PreparedPlan thrice = aimed_at(R"("09:00", "12:00", "15:00")");
  const PreparedPlan hourly = aimed_at(
      R"("06:30", "07:30", "08:30", "09:30", "10:30", "11:30", "12:30", "13:30", "14:30", "15:30",
         "16:30", "17:30", "18:30")");
  CHECK(day_wh(thrice, 0.7) > 1.05 * day_wh(flat, 0.7));
  CHECK(day_wh(hourly, 0.7) > 1.05 * day_wh(thrice, 0.7));
  // Following the sun cannot gain more than it would above the air: the solar constant all day
  // long.
  const Plan plan = plan_of(plan_text("", kFlat));
  const SolarDay day = solar_day(plan.arrive, plan.camps[0].where, plan.clock_offset_h);
  const double sunlit_h = 2.0 * day.sunset_hour_angle_deg / 15.0;
  const double most = kSolarConstant_w_m2 * day.e0 * sunlit_h / day.extraterrestrial_wh_m2;
  CHECK(day_wh(hourly, 0.7) < most * day_wh(flat, 0.7));
  CHECK(day_wh(thrice, 0.1) < day_wh(flat, 0.1));
}

TEST_CASE("shade takes light away: the denser, the more; a skyline in the hours behind it") {
  const PreparedPlan open = prepared_of(plan_text("", kFlat));
  double last = day_wh(open, 0.6);
  for (const char* canopy : {"0.2", "0.5", "0.8", "0.95"}) {
    const double wh =
        day_wh(prepared_of(plan_text("canopy = " + std::string(canopy) + "\n", kFlat)), 0.6);
    CHECK(wh < 0.9 * last);
    last = wh;
  }
  // A wall in the east, 40 degrees high: the morning is dim, the afternoon nearly as before.
  const PreparedPlan wall = prepared_of(
      plan_text("skyline = [{ from_deg = 45, to_deg = 135, height_deg = 40 }]\n", kFlat));
  CHECK(watts(wall, 7, 0.65) < 0.5 * watts(open, 7, 0.65));
  CHECK(watts(wall, 16, 0.65) > 0.9 * watts(open, 16, 0.65));
}

TEST_CASE("a flat panel in the open sees the day's irradiation, all hours together") {
  // Over the day the horizontal plane gets K times the extraterrestrial irradiation.
  const Plan plan = plan_of(plan_text("", kFlat));
  const SolarDay day = solar_day(plan.arrive, plan.camps[0].where, plan.clock_offset_h);
  const DaylightShares shares = daylight_shares(day);
  for (const double k : {0.05, 0.3, 0.6, 0.75}) {
    double sum = 0.0;
    for (std::size_t hour = 0; hour < 24; ++hour) {
      sum += day.hours[hour].share *
             PlaneHour(hour, day, shares, Shade(), 1.0, {{0.0, 180.0}, 1.0}).irradiance_w_m2(k);
    }
    CHECK(sum == Approx(k * day.extraterrestrial_wh_m2).epsilon(0.002));
  }
}

}  // namespace dullspell::panels_test
