#include "engine/statistics/latin_hypercube.hpp"

#include <utility>

#include <boost/random/uniform_int_distribution.hpp>

#include "weather/clearness_table.hpp"

namespace dullspell {

std::vector<double> shuffled_normals(std::size_t count, const DrawKey& key) {
  std::vector<double> out;
  for (std::size_t i = 0; i < count; ++i) {
    out.push_back(
        standard_normal_quantile((static_cast<double>(i) + 0.5) / static_cast<double>(count)));
  }
  RandomStream stream(key);
  for (std::size_t i = out.size() - 1; i > 0; --i) {
    std::swap(out[i], out[boost::random::uniform_int_distribution<std::size_t>(0, i)(stream)]);
  }
  return out;
}

}  // namespace dullspell
