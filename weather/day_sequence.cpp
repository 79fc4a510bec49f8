#include "weather/day_sequence.hpp"

#include <array>
#include <cmath>

#include "weather/grid_rounding.hpp"
#include "weather/random_stream.hpp"
#include "weather/standard_normal_pair.hpp"
#include "weather/temperature.hpp"

namespace dullspell {
namespace {

double rest(double part) {
  return std::sqrt(1.0 - part * part);
}

}  // namespace

DayLink day_link(const DateClimate& climate) {
  const double phi = climate.k_persistence.value, share = climate.k_year_share.value;
  const double innovation_phi = independent_temperature_persistence(
      climate.temp_persistence.value, climate.temp_k_correlation.value,
      share + (1.0 - share) * phi);
  return {on_grid(phi),
          on_grid(rest(phi)),
          on_grid(std::sqrt(share)),
          on_grid(std::sqrt(1.0 - share)),
          on_grid(innovation_phi),
          on_grid(rest(innovation_phi))};
}

void DaySequence::draw(std::uint64_t seed, std::uint32_t stay, std::span<DayDeviates> out) const {
  const StandardNormalPair normal_pair;
  RandomStream year_stream({seed, stay, 0, DrawPurpose::year});
  double year = normal_pair(year_stream).first;
  // The same normals are drawn whether days are known or not.
  const std::size_t known = known_.days();
  std::array<double, KnownDays::kMostDays + 1> fresh_sky{};
  if (known > 0) {
    fresh_sky[0] = year;
    year = known_.year(fresh_sky);
  }
  double z = 0.0, temp_innovation = 0.0;
  for (std::size_t d = 0; d < links_.size(); ++d) {
    const DayLink& link = links_[d];
    RandomStream stream({seed, stay, static_cast<std::uint32_t>(d), DrawPurpose::weather});
    const NormalPair fresh = normal_pair(stream);
    if (d < known) {
      fresh_sky[d + 1] = fresh.first;
      z = known_.sky(d, fresh_sky);
    } else {
      z = d == 0 ? fresh.first : link.sky_kept * z + link.sky_new * fresh.first;
    }
    temp_innovation =
        d == 0 ? fresh.second
               : link.innovation_kept * temp_innovation + link.innovation_new * fresh.second;
    out[d] = {link.of_year * year + link.of_day * z, temp_innovation};
  }
}

}  // namespace dullspell
