#pragma once

#include <limits>

namespace dullspell {

constexpr double kNoLimit_w = std::numeric_limits<double>::infinity();

}  // namespace dullspell
