#include "reports/json_parts.hpp"

#include <cmath>
#include <ostream>

namespace dullspell {

Json limit(double watts) {
  return std::isfinite(watts) ? Json(watts) : Json(nullptr);
}

Json share(const Proportion& p) {
  return {{"p", p.p}, {"low", p.interval.low}, {"high", p.interval.high}};
}

Json share(const Proportion& p, const std::optional<Interval>& climate) {
  Json out = share(p);
  out["climate_low"] = climate ? Json(climate->low) : Json(nullptr);
  out["climate_high"] = climate ? Json(climate->high) : Json(nullptr);
  return out;
}

Json share(const YearsShare& s) {
  return {{"p", s.p}, {"low", s.interval.low}, {"high", s.interval.high}};
}

Json quantiles(const ChargeQuantiles& q) {
  return {{"p05", q.p05}, {"p25", q.p25}, {"p50", q.p50}, {"p75", q.p75}, {"p95", q.p95}};
}

Json spread(const Spread& s) {
  return {{"mean", s.mean}, {"p50", s.p50}, {"p90", s.p90}, {"p99", s.p99}};
}

void write_json(std::ostream& out, const Json& json) {
  out << json.dump(2, ' ', false, Json::error_handler_t::replace) << '\n';
}

}  // namespace dullspell
