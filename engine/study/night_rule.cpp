#include "engine/study/night_rule.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <functional>

#include "engine/kernel/block_runner.hpp"
#include "engine/statistics/interval.hpp"

namespace dullspell {
namespace {

// Of the rule alone; a study of the same seed meets its weather by an unlikely accident only.
constexpr std::uint64_t kSeed = 0x6e69676874ULL;

constexpr std::uint32_t kLearned = 1024, kTried = 1024;

constexpr std::array kShares{0.80, 0.90, 0.95, 0.98, 0.99, 0.995, 0.999, 1.0};

// A battery that takes less than this of what the charger gives is full enough where it may not
// last anyway; and there a generator is not started for less, share of the usable energy.
constexpr double kGoodRate = 0.5, kWorthAStart = 0.05;

// The stored energy above which the battery takes in too little to keep a generator running.
double useful_top_wh(const PreparedPlan& prepared) {
  const BatteryModel battery = battery_model(prepared.battery);
  const double good_w =
      kGoodRate * std::min(prepared.generator->charger_w, prepared.battery.charge_limit_w);
  double low_wh = 0.0, top_wh = battery.usable_wh;
  if (acceptance_w<double>(battery, top_wh, kInfinite) >= good_w) return top_wh;
  constexpr int kHalvings = 20;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle_wh = 0.5 * (low_wh + top_wh);
    (acceptance_w<double>(battery, middle_wh, kInfinite) >= good_w ? low_wh : top_wh) = middle_wh;
  }
  return low_wh;
}

std::size_t index_of(double share) {
  return static_cast<std::size_t>((1.0 - share) * (kLearned - 1));
}

void keep_the_most(std::vector<float>& wh) {
  const std::size_t count = index_of(kShares.front()) + 1;
  const auto end = wh.begin() + static_cast<std::ptrdiff_t>(count);
  std::nth_element(wh.begin(), end - 1, wh.end(), std::greater<>());
  std::sort(wh.begin(), end, std::greater<>());
  wh.resize(count);
}

bool keeps_the_risk(const PreparedPlan& prepared, const Sky& sky, BlockRunner& runner) {
  std::uint64_t failed = 0;
  for (std::uint32_t first = kLearned; first < kLearned + kTried; first += kBlockStays) {
    runner.run(sky, first);
    failed += static_cast<std::uint64_t>(std::popcount(runner.failed_along()));
  }
  return Proportion(failed, kTried).interval.high <= prepared.accept_risk;
}

}  // namespace

void follow(const GeneratorRuleByHour& rule, PreparedPlan& prepared) {
  for (std::size_t h = 0; h < rule.size(); ++h) {
    prepared.hours[h].start_below_wh = rule[h].start_below_wh;
    prepared.hours[h].stop_at_wh = rule[h].stop_at_wh;
  }
}

std::span<const double> NightRules::shares() {
  return kShares;
}

NightRules::NightRules(const PreparedPlan& prepared, const Sky& sky)
    : hours_(prepared.hours.size()),
      usable_wh_(prepared.usable_wh()),
      top_wh_(useful_top_wh(prepared)),
      margin_wh_(prepared.generator->margin * prepared.usable_wh()) {
  for (std::size_t h = 0; h < hours_; ++h) {
    if (prepared.hours[h].source == Source::generator) needs_.push_back({h, {}, {}});
  }
  learn(prepared, sky);
}

void NightRules::learn(const PreparedPlan& prepared, const Sky& sky) {
  const StayTables tables(prepared);
  BlockRunner runner(prepared, tables, kSeed, kernel_for(best_instruction_set()),
                     BlockDetail::flat_only);
  for (std::uint32_t first = 0; first < kLearned; first += kBlockStays) {
    const NeededEnergy needed = runner.needed_energy(sky, first);
    for (Needs& needs : needs_) {
      const std::size_t row = needs.hour * kBlockStays;
      for (std::size_t i = row; i < row + kBlockStays; ++i) {
        needs.resting_wh.push_back(static_cast<float>(needed.resting_wh[i]));
        needs.after_wh.push_back(static_cast<float>(needed.after_wh[i]));
      }
    }
  }
  for (Needs& needs : needs_) {
    keep_the_most(needs.resting_wh);
    keep_the_most(needs.after_wh);
  }
}

GeneratorRuleByHour NightRules::lasting_in(double share, double margin_wh) const {
  GeneratorRuleByHour rule(hours_, {-1.0, 0.0});
  for (const Needs& needs : needs_) {
    GeneratorLevels& levels = rule[needs.hour];
    // Where a full battery may not last in so many stays, it shall in as many as it can.
    const auto lasts = [&](double s) {
      return s <= share && needs.after_wh[index_of(s)] < usable_wh_;
    };
    const auto found = std::find_if(kShares.rbegin(), kShares.rend(), lasts);
    const bool fills = found == kShares.rend();
    const std::size_t index = index_of(fills ? share : *found);
    levels.stop_at_wh = fills ? top_wh_ : std::min(needs.after_wh[index] + margin_wh, usable_wh_);
    levels.start_below_wh = std::min(needs.resting_wh[index] + margin_wh,
                                     fills ? top_wh_ - kWorthAStart * usable_wh_ : usable_wh_);
  }
  return rule;
}

GeneratorRuleByHour night_rule(const PreparedPlan& prepared) {
  return night_rule(prepared, DrawnSky(prepared, kSeed));
}

GeneratorRuleByHour night_rule(const PreparedPlan& stated, const Sky& sky) {
  const NightRules rules(stated, sky);
  PreparedPlan prepared = stated;
  const StayTables tables(prepared);
  BlockRunner runner(prepared, tables, kSeed, kernel_for(best_instruction_set()),
                     BlockDetail::flat_only);
  // The more stays the levels last in, the fewer run flat.
  std::size_t low = 0, high = kShares.size() - 1;
  while (low < high) {
    const std::size_t middle = (low + high) / 2;
    follow(rules.lasting_in(kShares[middle], 0.0), prepared);
    if (keeps_the_risk(prepared, sky, runner)) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  return rules.lasting_in(kShares[low]);
}

}  // namespace dullspell
