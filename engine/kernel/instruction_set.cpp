#include "engine/kernel/instruction_set.hpp"

#include <stdexcept>

namespace dullspell {

std::string to_string(InstructionSet set) {
  switch (set) {
    case InstructionSet::baseline:
      return "baseline";
    case InstructionSet::v3:
      return "v3";
    case InstructionSet::v4:
      return "v4";
  }
  return {};
}

std::optional<InstructionSet> instruction_set(std::string_view word) {
  for (const auto set : {InstructionSet::baseline, InstructionSet::v3, InstructionSet::v4}) {
    if (word == to_string(set)) return set;
  }
  return std::nullopt;
}

#define DULLSPELL_KERNEL_AT(level)                                                     \
  Kernel {                                                                             \
    run_block_##level, least_hours_##level, needed_energy_##level, draw_block_##level, \
        block_normals_##level                                                          \
  }

#ifdef DULLSPELL_X86_LEVELS

bool can_run(InstructionSet set) {
  switch (set) {
    case InstructionSet::baseline:
      return true;
    case InstructionSet::v3:
      return __builtin_cpu_supports("avx2") && __builtin_cpu_supports("bmi2") &&
             __builtin_cpu_supports("fma");
    case InstructionSet::v4:
      return can_run(InstructionSet::v3) && __builtin_cpu_supports("avx512f") &&
             __builtin_cpu_supports("avx512bw") && __builtin_cpu_supports("avx512cd") &&
             __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512vl");
  }
  return false;
}

Kernel kernel_for(InstructionSet set) {
  if (!can_run(set)) {
    throw std::invalid_argument("this machine cannot run the instruction set " + to_string(set));
  }
  switch (set) {
    case InstructionSet::baseline:
      return DULLSPELL_KERNEL_AT(baseline);
    case InstructionSet::v3:
      return DULLSPELL_KERNEL_AT(v3);
    case InstructionSet::v4:
      return DULLSPELL_KERNEL_AT(v4);
  }
  return DULLSPELL_KERNEL_AT(baseline);
}

#else

bool can_run(InstructionSet set) {
  return set == InstructionSet::baseline;
}

Kernel kernel_for(InstructionSet set) {
  if (!can_run(set)) {
    throw std::invalid_argument("this program was built without the instruction set " +
                                to_string(set));
  }
  return DULLSPELL_KERNEL_AT(baseline);
}

#endif

InstructionSet best_instruction_set() {
  static const InstructionSet best = can_run(InstructionSet::v4)   ? InstructionSet::v4
                                     : can_run(InstructionSet::v3) ? InstructionSet::v3
                                                                   : InstructionSet::baseline;
  return best;
}

}  // namespace dullspell
