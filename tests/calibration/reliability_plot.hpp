#pragma once

#include <iosfwd>
#include <vector>

#include "tests/calibration/score.hpp"

namespace dullspell::calibration {

/// A reliability diagram as SVG: measured against predicted shares, each bin with the records' own
/// noise (band) and with how far single cases lie from their prediction (whisker).
void write_reliability_plot(std::ostream& out, const std::vector<ReliabilityPoint>& points);

}  // namespace dullspell::calibration
