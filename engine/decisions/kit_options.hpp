#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "engine/decisions/least_size.hpp"

namespace dullspell {

/// One of the plan's options, judged.
struct OptionRisk {
  KitOption option;
  Proportion flat;
  Interval climate{};  ///< 95 %, sampling included
  bool meets = false;  ///< as few flat stays as the target allows
};

/// The plan's options on the same draws, in their order. Each is what prepare() makes of the plan
/// with the option in it.
std::vector<OptionRisk> judge_options(const Plan& plan, const SizeQuestion& question,
                                      const SizeOptions& options, const Progress& progress = {});

/// Which of them meets the target with the least of a figure; none if none that states it does.
std::optional<std::size_t> least_of(const std::vector<OptionRisk>& options,
                                    std::optional<double> KitOption::*figure);

}  // namespace dullspell
