#include "weather/input/unit_twin.hpp"

#include <algorithm>
#include <cmath>

namespace dullspell {
namespace {

struct TwinUnit {
  std::string_view metric_unit;
  std::string_view metric_words, us_words;  // in the keys' names
  std::string_view us_unit;
  UsUnit unit;
};

constexpr TwinUnit kTwinUnits[] = {
    {"C", "c", "f", "F", kFahrenheit},
    {"C", "duty_at", "duty_at_f", "F", kFahrenheit},
    {"K", "c", "f", "F, a difference", kFahrenheitStep},
    {"m", "m", "ft", "ft", kFoot},
    {"cm", "cm", "in", "in", kInchInCm},
    {"mm", "mm", "in", "in", kInchInMm},
    {"km", "km", "mi", "mi", kMile},
    {"kg", "kg", "lb", "lb", kPound},
    {"kg/h", "kg_per_h", "lb_per_h", "lb/h", kPound},
    {"kg/kWh", "kg_per_kwh", "lb_per_kwh", "lb/kWh", kPound},
    {"L", "l", "gal", "gal", kGallon},
    {"L/h", "l_per_h", "gal_per_h", "gal/h", kGallon},
    {"L/kWh", "l_per_kwh", "gal_per_kwh", "gal/kWh", kGallon},
    {"W of heat", "w", "btu_h", "BTU/h", kBtuPerHour},
    {"W/K", "w_per_k", "btu_h_per_f", "BTU/h per F", kBtuPerHourAndStep},
};

// Where whole words stand in a key, the last time.
std::size_t find_words(std::string_view key, std::string_view words) {
  const auto ends_word = [&](std::size_t at) { return at == key.size() || key[at] == '_'; };
  for (std::size_t at = key.rfind(words); at != std::string_view::npos;
       at = at == 0 ? std::string_view::npos : key.rfind(words, at - 1)) {
    if ((at == 0 || key[at - 1] == '_') && ends_word(at + words.size())) return at;
  }
  return std::string_view::npos;
}

// The round number next to a bound, on its side `inward`: +1 above it, -1 below.
double rounded_inward(double bound, double inward, const UsUnit& unit) {
  const double exact = unit.from_metric(bound);
  if (exact == 0.0 || !std::isfinite(exact)) return exact;
  const double scale = std::pow(10.0, std::max(0.0, 2.0 - std::floor(std::log10(std::abs(exact)))));
  const double nearest = std::round(exact * scale);
  const bool inside = (unit.to_metric(nearest / scale) - bound) * inward >= 0.0;
  return (inside ? nearest : nearest + inward) / scale;
}

}  // namespace

Range UnitTwin::shown(const Range& metric) const {
  return {rounded_inward(metric.low, 1.0, unit), rounded_inward(metric.high, -1.0, unit), us_unit};
}

std::optional<UnitTwin> unit_twin(std::string_view key, std::string_view metric_unit) {
  for (const TwinUnit& row : kTwinUnits) {
    if (row.metric_unit != metric_unit) continue;
    const std::size_t at = find_words(key, row.metric_words);
    if (at == std::string_view::npos) continue;
    std::string name(key);
    name.replace(at, row.metric_words.size(), row.us_words);
    return UnitTwin{std::move(name), row.metric_unit, row.us_unit, row.unit};
  }
  return std::nullopt;
}

}  // namespace dullspell
