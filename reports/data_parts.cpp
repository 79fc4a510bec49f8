#include "reports/data_parts.hpp"

#include <cmath>

namespace dullspell {

Data limit(double watts) {
  return std::isfinite(watts) ? Data(watts) : Data();
}

Data share(const Proportion& p) {
  return {{"p", p.p}, {"low", p.interval.low}, {"high", p.interval.high}};
}

Data share(const Proportion& p, const std::optional<Interval>& climate) {
  Data out = share(p);
  out["climate_low"] = climate ? Data(climate->low) : Data();
  out["climate_high"] = climate ? Data(climate->high) : Data();
  return out;
}

Data share(const YearsShare& s) {
  return {{"p", s.p}, {"low", s.interval.low}, {"high", s.interval.high}};
}

Data quantiles(const ChargeQuantiles& q) {
  return {{"p05", q.p05}, {"p25", q.p25}, {"p50", q.p50}, {"p75", q.p75}, {"p95", q.p95}};
}

Data spread(const Spread& s) {
  return {{"mean", s.mean}, {"p50", s.p50}, {"p90", s.p90}, {"p99", s.p99}};
}

void add_fuel_kg(Data& out, const Spread& fuel_l, Fuel kind) {
  if (kind != Fuel::propane) return;
  out["fuel_kg"] = spread({propane_kg(fuel_l.mean), propane_kg(fuel_l.p50), propane_kg(fuel_l.p90),
                           propane_kg(fuel_l.p99)});
}

}  // namespace dullspell
