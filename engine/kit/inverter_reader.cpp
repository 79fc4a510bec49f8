#include "engine/kit/inverter_reader.hpp"

#include <cmath>

#include <fmt/format.h>

#include "engine/kit/key_ranges.hpp"

namespace dullspell {
namespace {

// Points far from the fitted curve, where points and standby do not fit together.
std::vector<plan_note::InverterMisfit> misfits(const Inverter& inverter,
                                               const std::vector<EfficiencyPoint>& points) {
  std::vector<plan_note::InverterMisfit> out;
  for (const EfficiencyPoint& point : points) {
    const double fitted = inverter.efficiency(point.load_share * inverter.rated_w);
    if (std::abs(fitted - point.efficiency) > 0.01) {
      out.push_back({point.load_share, fitted, point.efficiency});
    }
  }
  return out;
}

std::vector<EfficiencyPoint> read_points(TomlSection& section,
                                         const std::vector<std::vector<double>>& rows) {
  std::vector<EfficiencyPoint> points;
  for (const auto& row : rows) {
    if (row[0] <= 0.0 || row[1] < 0.3) {
      section.fail("efficiency_at", fmt::format("has the point [{}, {}]", row[0], row[1]),
                   "a load share above 0 with an efficiency of 0.3 to 1");
    }
    points.push_back({row[0], row[1]});
  }
  if (points.empty()) section.fail("efficiency_at", "is empty", "one to several points");
  return points;
}

}  // namespace

ReadInverter read_inverter(TomlSection& section) {
  const double rated_w = section.required_number("rated_w", {20.0, 30000.0, "W"});
  const double standby_w = section.number_or("standby_w", 12.0, {0.0, 500.0, "W"});
  const auto rows = section.number_rows("efficiency_at", {kShareRange, kShareRange},
                                        "Pairs of load share and efficiency, standby included: "
                                        "[[0.1, 0.91], [0.5, 0.93], [1.0, 0.90]].");
  ReadInverter out;
  out.inverter.rated_w = rated_w;
  out.inverter.standby_w = standby_w;
  out.inverter.linear = 0.02;  // common practice: 0.93 at half load with a standby of 0.7 %
  out.inverter.quadratic = 0.08;
  if (rows) {
    const std::vector<EfficiencyPoint> points = read_points(section, *rows);
    out.inverter = fit_inverter(rated_w, standby_w, points);
    out.misfits = misfits(out.inverter, points);
  }
  out.inverter.on = without_overlaps(section.windows("on"));
  if (out.inverter.on.empty()) out.inverter.on = {kWholeDay};
  section.finish();
  return out;
}

Converter read_converter(TomlSection& section) {
  Converter converter;
  converter.efficiency = section.number_or("efficiency", 0.85, {0.3, 1.0});
  converter.standby_w = section.number_or("standby_w", 0.0, kWattsRange);
  section.finish();
  return converter;
}

}  // namespace dullspell
