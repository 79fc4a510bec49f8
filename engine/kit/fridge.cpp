#include "engine/kit/fridge.hpp"

#include "weather/grid_rounding.hpp"

namespace dullspell {

FridgeTables fridge_tables(const Fridge& fridge, double converter_efficiency) {
  FridgeTables out;
  out.model.present = true;
  out.model.ac = fridge.side != LoadSide::dc;
  const double running_w =
      on_grid(fridge.side == LoadSide::dc_via_ac ? fridge.running_w / converter_efficiency
                                                 : fridge.running_w);
  const auto& points = fridge.duty_at;
  out.model.coldest_w = running_w * points.front().second;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const auto [from_c, duty] = points[i - 1];
    const double per_k = (points[i].second - duty) / (points[i].first - from_c);
    double length_k = points[i].first - from_c;
    // Beyond the last pair its slope goes on: a fridge in the heat runs until it never stops.
    if (i + 1 == points.size() && per_k != 0.0) {
      length_k = ((per_k > 0.0 ? 1.0 : 0.0) - duty) / per_k;
    }
    out.pieces.push_back({from_c, length_k, running_w * per_k});
  }
  out.model.pieces = static_cast<int>(out.pieces.size());
  return out;
}

}  // namespace dullspell
