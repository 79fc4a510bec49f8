#pragma once

#include <string>

#include <fmt/format.h>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/uniform_int_distribution.hpp>
#include <boost/random/uniform_real_distribution.hpp>

namespace dullspell {

/// Plans of all kinds of kit, invented by chance: the same number makes the same plan.
class RandomPlan {
 public:
  explicit RandomPlan(unsigned number) : engine_(number) {}

  std::string toml() {
    std::string out = fmt::format("arrive = 2027-{:02}-{:02}T{:02}:00:00\nleave = \"{:02}:00\"\n",
                                  whole(1, 12), whole(1, 28), whole(0, 23), whole(0, 23));
    const int camps = whole(1, 2);
    for (int i = 0; i < camps; ++i) out += camp(i);
    out += battery();
    const bool inverter = often();
    if (inverter) {
      out += fmt::format("[inverter]\nrated_w = {:.1f}\nstandby_w = {:.1f}\n", real(150, 2000),
                         real(0, 25));
      if (rarely()) out += "on = [[\"07:00\", \"22:30\"]]\n";
    }
    for (int i = whole(0, 3); i > 0; --i) out += panels();
    for (int i = whole(1, 5); i > 0; --i) out += load(i, inverter);
    if (rarely()) out += furnace();
    if (rarely()) {
      out += fmt::format("[fridge]\nrunning_w = {:.1f}\nside = \"{}\"\n", real(20, 80),
                         inverter && often() ? "ac" : "dc");
    }
    if (often()) out += generator();
    if (camps > 1) out += fmt::format("[vehicle]\ncharge_w = {:.1f}\n", real(0, 600));
    if (hookup_) out += fmt::format("[hookup]\ncharger_w = {:.1f}\n", real(100, 1500));
    return out;
  }

 private:
  int whole(int low, int high) {
    return boost::random::uniform_int_distribution<int>(low, high)(engine_);
  }
  double real(double low, double high) {
    return boost::random::uniform_real_distribution<double>(low, high)(engine_);
  }
  bool often() { return whole(0, 2) > 0; }
  bool rarely() { return whole(0, 2) == 0; }

  std::string camp(int number) {
    constexpr const char* kPlaces[] = {"crescent-city-ca", "south-lake-tahoe-ca", "moab-ut",
                                       "tucson-az", "miami-fl"};
    std::string out = fmt::format("[[camp]]\nplace = \"{}\"\nnights = {}\ncanopy = {:.2f}\n",
                                  kPlaces[whole(0, 4)], whole(1, 4), rarely() ? real(0, 0.8) : 0.0);
    if (number > 0 && often()) out += fmt::format("drive_in_h = {:.2f}\n", real(0, 5));
    if (whole(0, 5) == 0) {
      out += "hookup = true\n";
      hookup_ = true;
    }
    return out;
  }

  std::string battery() {
    std::string out =
        fmt::format("[battery]\ncapacity_wh = {:.1f}\nhealth = {:.2f}\nstart_charge = {:.3f}\n",
                    real(300, 4000), real(0.6, 1.0), rarely() ? real(0.0, 1.0) : 1.0);
    if (rarely()) out += "where = \"outside\"\n";
    if (rarely()) out += "chemistry = \"nmc\"\n";
    if (rarely()) out += fmt::format("charge_limit_w = {:.1f}\n", real(50, 900));
    if (rarely()) out += fmt::format("discharge_limit_w = {:.1f}\n", real(60, 900));
    if (rarely()) out += fmt::format("charge_min_c = {:.1f}\n", real(-10, 8));
    if (rarely()) out += "taper_from = 1.0\n";
    return out;
  }

  std::string panels() {
    std::string out = fmt::format("[[panels]]\nrated_w = {:.1f}\n", real(50, 800));
    if (often()) {
      out += fmt::format("mount = {{ tilt_deg = {:.1f}, azimuth_deg = {:.1f} }}\n", real(0, 70),
                         real(90, 270));
    }
    if (rarely()) out += fmt::format("controller_limit_w = {:.1f}\n", real(50, 500));
    if (rarely()) out += "vmp_v = 36\ncable_m = 6\ncable_awg = 10\n";
    return out;
  }

  std::string load(int number, bool inverter) {
    constexpr const char* kSides[] = {"dc", "ac", "dc-via-ac"};
    std::string out = fmt::format("[[load]]\nname = \"load {}\"\nside = \"{}\"\nwatts = {:.1f}\n",
                                  number, inverter ? kSides[whole(0, 2)] : "dc", real(2, 180));
    if (often()) {
      out +=
          fmt::format("between = [\"08:00\", \"21:30\"]\nhours_per_day = {:.2f}\n", real(0.5, 8));
      if (often()) out += fmt::format("varies = {:.2f}\n", real(0, 0.8));
    }
    if (rarely()) out += fmt::format("dull_day_factor = {:.2f}\n", real(0.5, 2.5));
    if (rarely()) out += fmt::format("only = \"{}\"\n", often() ? "dark" : "daylight");
    if (rarely()) out += fmt::format("optional_below = {:.2f}\n", real(0.05, 0.6));
    return out;
  }

  std::string furnace() {
    std::string out = fmt::format(
        "[furnace]\nblower_w = {:.1f}\noutput_w = {:.1f}\nheat_loss_w_per_k = {:.1f}\ngains_w = "
        "{:.1f}\nhold_c = [{{ from = \"21:30\", to = \"07:00\", c = {:.1f} }}]\n",
        real(10, 110), real(1000, 6000), real(30, 300), real(0, 300), real(5, 22));
    if (often()) out += fmt::format("other_heat_c = {:.1f}\n", real(5, 20));
    return out;
  }

  std::string generator() {
    std::string out = fmt::format(
        "[generator]\nrated_w = {:.1f}\ncharger_w = {:.1f}\nmin_run_h = {:.2f}\nallowed = "
        "[[\"08:00\", \"10:00\"], [\"16:30\", \"20:00\"]]\n",
        real(300, 2500), real(50, 1200), real(0, 2));
    if (rarely()) {
      const double below = real(0.1, 0.5);
      out += fmt::format("rule = \"below\"\nstart_below = {:.2f}\nstop_at = {:.2f}\n", below,
                         below + real(0.1, 0.4));
    }
    constexpr const char* kFuels[] = {"gasoline", "diesel", "propane"};
    if (rarely()) out += fmt::format("fuel = \"{}\"\n", kFuels[whole(0, 2)]);
    return out;
  }

  boost::random::mt19937 engine_;
  bool hookup_ = false;
};

}  // namespace dullspell
