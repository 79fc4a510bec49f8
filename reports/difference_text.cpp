#include "reports/difference_text.hpp"

#include <cmath>
#include <cstdint>

#include <fmt/format.h>

#include "reports/number_text.hpp"

namespace dullspell {
namespace {

// Decimals of points, as of percentages.
int point_decimals(const Interval& interval) {
  const double half = interval.half_width();
  return half >= 0.005 ? 0 : half >= 0.0005 ? 1 : 2;
}

int hour_decimals(const Interval& interval) {
  return interval.half_width() >= 0.05 ? 1 : 2;
}

std::string signed_range(const Interval& interval, double unit, int decimals) {
  return fmt::format("{} to {}", signed_number(interval.low * unit, decimals),
                     signed_number(interval.high * unit, decimals));
}

}  // namespace

std::string signed_points(const PairedDifference& d) {
  return signed_number(100.0 * d.difference, point_decimals(d.interval));
}

std::string signed_points_range(const Interval& interval) {
  return signed_range(interval, 100.0, point_decimals(interval));
}

std::string signed_points_interval(const PairedDifference& d) {
  return signed_points_range(d.interval);
}

std::string points(const PairedDifference& d) {
  const std::string number =
      fmt::format("{:.{}f}", 100.0 * std::abs(d.difference), point_decimals(d.interval));
  return number + (number == "1" ? " point" : " points");
}

std::string points_range(const Interval& interval) {
  const int decimals = point_decimals(interval);
  if (interval.low < 0.0) return signed_points_range(interval);
  return fmt::format("{:.{}f}–{:.{}f}", 100.0 * interval.low, decimals, 100.0 * interval.high,
                     decimals);
}

std::string points_in_words(const PairedDifference& d) {
  const Interval away =
      d.difference < 0.0 ? Interval{-d.interval.high, -d.interval.low} : d.interval;
  return fmt::format("{} ({})", points(d), points_range(away));
}

std::string hours(const MeanDifference& d) {
  return fmt::format("{:.{}f}", std::abs(d.difference), hour_decimals(d.interval));
}

std::string signed_hours(const MeanDifference& d) {
  return signed_number(d.difference, hour_decimals(d.interval));
}

std::string signed_hours_interval(const MeanDifference& d) {
  return signed_range(d.interval, 1.0, hour_decimals(d.interval));
}

std::string about(double stays) {
  const double unit = std::pow(10.0, std::max(0.0, std::floor(std::log10(stays)) - 1.0));
  return grouped(static_cast<std::uint64_t>(std::ceil(stays / unit) * unit));
}

Data difference_data(const PairedDifference& d) {
  return {{"difference", d.difference}, {"low", d.interval.low},        {"high", d.interval.high},
          {"only_first", d.only_first}, {"only_second", d.only_second}, {"is_clear", d.is_clear()}};
}

Data difference_data(const MeanDifference& d) {
  return {{"difference", d.difference}, {"low", d.interval.low}, {"high", d.interval.high}};
}

}  // namespace dullspell
