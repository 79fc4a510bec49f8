#pragma once

#include <vector>

#include "engine/prepared_plan.hpp"
#include "engine/study.hpp"

namespace dullspell {

enum class Track { home, along };

/// Share of stays that run flat on one track under the stated climate (entry 0) and under each
/// alternative, see run_climates(); the track along needs a generator.
std::vector<double> flat_by_climate(const PreparedPlan& plan, Track track,
                                    const StudyOptions& options);

}  // namespace dullspell
