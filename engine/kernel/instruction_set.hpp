#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "engine/kernel/stay_block.hpp"

namespace dullspell {

/// Instruction sets that the kernel is built for: what every machine of its kind has, and on x86-64
/// the levels v3 (AVX2) and v4 (AVX-512).
enum class InstructionSet { baseline, v3, v4 };

std::string to_string(InstructionSet set);

/// Nothing for other words.
std::optional<InstructionSet> instruction_set(std::string_view word);

/// The best one that this machine can run.
InstructionSet best_instruction_set();

/// Whether this machine can run it, and the program was built with it.
bool can_run(InstructionSet set);

/// The kernel's functions for one instruction set.
struct Kernel {
  BlockKernel run;
  BlockLeastHours least_hours;
  BlockNeededEnergy needed_energy;
  BlockDraw draw;
  BlockNormals normals;
};

/// Throws std::invalid_argument if this machine cannot run it.
Kernel kernel_for(InstructionSet set);

}  // namespace dullspell
