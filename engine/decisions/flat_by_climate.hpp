#pragma once

#include <vector>

#include "engine/stay/prepared_plan.hpp"
#include "engine/study/study.hpp"

namespace dullspell {

/// Shares of stays that run flat under the stated climate (entry 0) and under each alternative, see
/// run_climates().
struct FlatByClimate {
  std::vector<double> home;
  std::vector<double> along;  ///< zeros without a generator
};

FlatByClimate flat_by_climate(const std::vector<ClimateCounts>& climates);
FlatByClimate flat_by_climate(const PreparedPlan& plan, const StudyOptions& options);

}  // namespace dullspell
