#include "weather/blend/world_grid.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "weather/embedded_file.hpp"

DULLSPELL_EMBED(dullspell_world_grid, DULLSPELL_WORLD_FOLDER "/grid.txt");

namespace dullspell {
namespace {

constexpr double kCell_deg = 2.5;
constexpr int kRows = 72, kColumns = 144;
constexpr std::size_t kLine = 128;

// A whole number, blanks before it.
int number(std::string_view text) {
  int sign = 1, value = 0;
  for (const char c : text) {
    if (c == '-') sign = -1;
    if (c >= '0' && c <= '9') value = 10 * value + (c - '0');
  }
  return sign * value;
}

void read_months(std::string_view text, std::size_t width, double unit,
                 std::array<double, 12>& out) {
  for (std::size_t m = 0; m < 12; ++m) out[m] = unit * number(text.substr(width * m, width));
}

GridMonths cell(std::string_view lines, int row, int column) {
  const std::string_view line =
      lines.substr(kLine * static_cast<std::size_t>(kColumns * row + column), kLine);
  GridMonths out;
  out.elevation_m = number(line.substr(0, 4));
  out.land_share = 0.01 * number(line.substr(4, 3));
  read_months(line.substr(7), 3, 0.001, out.k_mean);
  read_months(line.substr(43), 4, 0.1, out.temp_mean_c);
  read_months(line.substr(91), 3, 0.1, out.temp_range_c);
  return out;
}

void add(GridMonths& sum, double weight, const GridMonths& cell) {
  sum.elevation_m += weight * cell.elevation_m;
  sum.land_share += weight * cell.land_share;
  for (std::size_t m = 0; m < 12; ++m) {
    sum.k_mean[m] += weight * cell.k_mean[m];
    sum.temp_mean_c[m] += weight * cell.temp_mean_c[m];
    sum.temp_range_c[m] += weight * cell.temp_range_c[m];
  }
}

// The cells around a spot, from the south-west on, and how far it lies beyond the first.
struct Corners {
  int row, column, next_column;
  double north, east;  // 0..1

  explicit Corners(const Coordinates& where) {
    const double y = std::clamp((where.latitude_deg + 90.0) / kCell_deg - 0.5, 0.0, kRows - 1.0);
    const double x = (where.longitude_deg + 180.0) / kCell_deg - 0.5;
    row = std::min(static_cast<int>(y), kRows - 2);
    const double west = std::floor(x);
    const int index = static_cast<int>(west);
    column = (index + kColumns) % kColumns;
    next_column = (index + 1 + kColumns) % kColumns;
    north = y - row;
    east = x - west;
  }
};

}  // namespace

WorldGrid::WorldGrid(std::string_view lines) : lines_(lines) {}

const WorldGrid& WorldGrid::built_in() {
  static const WorldGrid grid(std::string_view(
      dullspell_world_grid_begin,
      static_cast<std::size_t>(dullspell_world_grid_end - dullspell_world_grid_begin)));
  return grid;
}

GridMonths WorldGrid::at(const Coordinates& where) const {
  const Corners at(where);
  GridMonths out;
  add(out, (1.0 - at.north) * (1.0 - at.east), cell(lines_, at.row, at.column));
  add(out, (1.0 - at.north) * at.east, cell(lines_, at.row, at.next_column));
  add(out, at.north * (1.0 - at.east), cell(lines_, at.row + 1, at.column));
  add(out, at.north * at.east, cell(lines_, at.row + 1, at.next_column));
  return out;
}

double WorldGrid::relief_m(const Coordinates& where) const {
  const Corners at(where);
  double sum = 0.0, squares = 0.0;
  for (const int row : {at.row, at.row + 1}) {
    for (const int column : {at.column, at.next_column}) {
      const double m = cell(lines_, row, column).elevation_m;
      sum += 0.25 * m;
      squares += 0.25 * m * m;
    }
  }
  return std::sqrt(std::max(0.0, squares - sum * sum));
}

}  // namespace dullspell
