#include "weather/time_zone.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "weather/angles.hpp"
#include "weather/input/csv_table.hpp"
#include "weather/invariant.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kCellsAcross = 32;
constexpr char kSea = '~', kSplit = '.';
constexpr int kHoursAtSea = 12;  // either way

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    lines.push_back(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return lines;
}

// A position within the cells of a row or column: which cell, and how far into it, 0..1.
struct Position {
  std::size_t cell;
  double within;
};

Position position(double along, std::size_t cells) {
  const double scaled = along * static_cast<double>(cells);
  const auto cell = std::min(cells - 1, static_cast<std::size_t>(scaled));
  return {cell, scaled - static_cast<double>(cell)};
}

// Where the tree that begins at `at` ends: each split leaves four more parts to read for its own.
std::size_t end_of_tree(std::string_view cell, std::size_t at) {
  for (std::size_t open = 1; open > 0; ++at) {
    if (cell[at] == kSplit) {
      open += 3;
    } else {
      --open;
    }
  }
  return at;
}

char leaf_at(std::string_view cell, double x, double y) {
  std::size_t at = 0;
  while (cell[at] == kSplit) {
    const Position column = position(x, 2), row = position(y, 2);
    ++at;
    for (std::size_t before = 2 * row.cell + column.cell; before > 0; --before) {
      at = end_of_tree(cell, at);
    }
    x = column.within;
    y = row.within;
  }
  return cell[at];
}

}  // namespace

TimeZoneTable::TimeZoneTable(const SourceText& clocks, std::string grid)
    : grid_(std::move(grid)), cells_(lines_of(grid_)), zone_of_(128) {
  INVARIANT(cells_.size() == kCellsAcross * kCellsAcross, "a grid of zones has 1024 lines");
  CsvTable table(clocks, CsvDelimiter::tab, {"clock", "utc_offset_h", "summer_h", "summer"});
  while (table.next()) {
    const std::string_view clock = table.text(0);
    if (clock.size() != 1 || clock[0] <= ' ' || clock[0] >= kSea || clock[0] == kSplit) {
      table.fail(0, "is not the character of a clock", "one printable character, neither . nor ~",
                 "Make the table anew with datasets/make_time_zones.py.");
    }
    const auto summer = SummerTime::parse(table.text(3), table.required_number(2));
    if (!summer) {
      table.fail(3, "is no rule of summer time",
                 "\"Mar Sun>=8 .. Nov Sun>=1\", or spans such as \"2027-03-27..2027-10-30\"",
                 "Make the table anew with datasets/make_time_zones.py.");
    }
    zone_of_[static_cast<std::size_t>(clock[0])] = {table.required_number(1), *summer};
  }
  for (int h = -kHoursAtSea; h <= kHoursAtSea; ++h) at_sea_.push_back({static_cast<double>(h), {}});
}

const TimeZone& TimeZoneTable::at(const Coordinates& where) const {
  const Position column = position((where.longitude_deg + 180.0) / 360.0, kCellsAcross);
  const Position row = position((90.0 - where.latitude_deg) / 180.0, kCellsAcross);
  const char leaf =
      leaf_at(cells_[kCellsAcross * row.cell + column.cell], column.within, row.within);
  if (leaf != kSea) return zone_of_[static_cast<std::size_t>(leaf)];
  const auto hours = static_cast<int>(std::lround(where.longitude_deg / 15.0));
  return at_sea_[static_cast<std::size_t>(hours + kHoursAtSea)];
}

std::array<const TimeZone*, 8> TimeZoneTable::around(const Coordinates& where, double km) const {
  constexpr double kDegree_km = 111.2;
  const double north_deg = km / kDegree_km;
  const double east_deg = north_deg / std::max(0.01, cos_deg(where.latitude_deg));
  std::array<const TimeZone*, 8> out{};
  double bearing_deg = 0.0;
  for (const TimeZone*& zone : out) {
    zone = &at({std::clamp(where.latitude_deg + north_deg * cos_deg(bearing_deg), -90.0, 90.0),
                wrap_to_180_deg(where.longitude_deg + east_deg * sin_deg(bearing_deg))});
    bearing_deg += 45.0;
  }
  return out;
}

}  // namespace dullspell
