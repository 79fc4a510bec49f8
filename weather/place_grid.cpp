#include "weather/place_grid.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "weather/coast.hpp"
#include "weather/time_zone.hpp"
#include "weather/towns.hpp"

namespace dullspell {
namespace {

bool is_wanted(const Coordinates& where, const PlaceFilter& filter) {
  if (filter.box && !filter.box->holds(where)) return false;
  return !filter.circle || distance_km(filter.circle->centre, where) <= filter.circle->radius_km;
}

// Wide cells with towns of a country in them or next to them: no others need be looked at.
class RoughCountry {
 public:
  explicit RoughCountry(const std::string& country) : is_near_(kRows * kColumns, false) {
    for (const Coordinates& town : TownTable::built_in().towns_of(country)) {
      const auto [row, column] = cell_of(town);
      for (int r = std::max(0, row - 1); r <= std::min(kRows - 1, row + 1); ++r) {
        for (int c = column - 1; c <= column + 1; ++c) {
          is_near_[index(r, (c + kColumns) % kColumns)] = true;
        }
      }
    }
  }

  bool may_hold(const Coordinates& where) const {
    const auto [row, column] = cell_of(where);
    return is_near_[index(row, column)];
  }

 private:
  static constexpr int kStep_deg = 5, kRows = 180 / kStep_deg, kColumns = 360 / kStep_deg;

  static std::size_t index(int row, int column) {
    return static_cast<std::size_t>(row) * kColumns + static_cast<std::size_t>(column);
  }
  static std::pair<int, int> cell_of(const Coordinates& where) {
    return {
        std::clamp(static_cast<int>((where.latitude_deg + 90.0) / kStep_deg), 0, kRows - 1),
        std::clamp(static_cast<int>((where.longitude_deg + 180.0) / kStep_deg), 0, kColumns - 1)};
  }

  std::vector<bool> is_near_;
};

PlaceSummary place_at(const Coordinates& where, std::string country) {
  PlaceSummary place;
  place.id = fmt::format("{:.6g},{:.6g}", where.latitude_deg, where.longitude_deg);
  place.name = fmt::format("{:.6g}, {:.6g}", where.latitude_deg, where.longitude_deg);
  place.country = std::move(country);
  place.where = where;
  place.utc_offset_h = TimeZoneTable::built_in().at(where).utc_offset_h;
  place.record = RecordKind::blended;
  place.source = "a world grid and the stations around";
  return place;
}

}  // namespace

std::optional<std::vector<PlaceSummary>> grid_places(double step_deg, const PlaceFilter& filter) {
  std::vector<Coordinates> middles;
  std::optional<RoughCountry> country;
  if (filter.country) country.emplace(*filter.country);
  const int rows = static_cast<int>(180.0 / step_deg), columns = static_cast<int>(360.0 / step_deg);
  for (int row = rows - 1; row >= 0; --row) {
    for (int column = 0; column < columns; ++column) {
      const Coordinates where{-90.0 + (row + 0.5) * step_deg, -180.0 + (column + 0.5) * step_deg};
      if (!is_wanted(where, filter) || (country && !country->may_hold(where))) continue;
      if (!Coast::built_in().is_land(where)) continue;
      middles.push_back(where);
      if (middles.size() > kMostCells && !filter.country) return std::nullopt;
    }
  }
  const std::vector<std::string> countries = TownTable::built_in().countries_at(middles);
  std::vector<PlaceSummary> out;
  for (std::size_t i = 0; i < middles.size(); ++i) {
    if (filter.country && countries[i] != *filter.country) continue;
    out.push_back(place_at(middles[i], countries[i]));
  }
  if (out.size() > kMostCells) return std::nullopt;
  return out;
}

}  // namespace dullspell
