#pragma once

#include <cstddef>
#include <functional>

namespace dullspell {

/// Calls `body(begin, end)` for disjoint ranges of at most `grain` indices that cover 0..count, on
/// up to `threads` threads (0: all that the machine has). Ranges never depend on the number of
/// threads. An exception from a body ends the loop and reaches the caller.
void for_each_range(std::size_t count, std::size_t grain, int threads,
                    const std::function<void(std::size_t begin, std::size_t end)>& body);

/// Threads that `threads = 0` stands for on this machine.
int machine_threads();

}  // namespace dullspell
