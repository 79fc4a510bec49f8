#pragma once

#include <cstddef>
#include <vector>

#include "weather/random_stream.hpp"

namespace dullspell {

/// Normal deviates at equal steps of probability, in a random order: one dimension of a Latin
/// hypercube (McKay, Beckman & Conover 1979, Technometrics 21:239). Each key has an order of its
/// own.
std::vector<double> shuffled_normals(std::size_t count, const DrawKey& key);

}  // namespace dullspell
