#pragma once

#include <algorithm>
#include <cstdint>
#include <functional>
#include <memory>
#include <mutex>
#include <vector>

#include "engine/kernel/block_runner.hpp"
#include "engine/study/parallel.hpp"

namespace dullspell {

/// Stays that one thread runs one block after the other, all under one sky.
struct BlockPart {
  std::size_t sky;      ///< number of the sky
  std::uint32_t first;  ///< stay
  std::uint32_t stays;
};

/// Cuts stays `first` .. `first + stays - 1`, under each of the skies, into parts of at most
/// `grain` stays, a multiple of kBlockStays; parts never depend on the number of threads.
inline std::vector<BlockPart> block_parts(std::size_t skies, std::uint64_t first,
                                          std::uint64_t stays, std::uint32_t grain) {
  std::vector<BlockPart> parts;
  for (std::size_t sky = 0; sky < skies; ++sky) {
    for (std::uint64_t begin = 0; begin < stays; begin += grain) {
      parts.push_back({sky, static_cast<std::uint32_t>(first + begin),
                       static_cast<std::uint32_t>(std::min<std::uint64_t>(grain, stays - begin))});
    }
  }
  return parts;
}

/// Runs all parts on up to `threads` threads (0: all that the machine has). A `Worker`, of which
/// `make()` gives one to each thread, has run_block(part, first, stays) called for blocks of at
/// most kBlockStays stays; `done(worker, part)` is called one part at a time. Which worker gets
/// which part depends on timing: what they count must not depend on the order. Returns the workers.
template <class Worker, class Make, class Done>
std::vector<std::unique_ptr<Worker>> run_parts(const std::vector<BlockPart>& parts, int threads,
                                               Make make, Done done) {
  std::mutex mutex;
  std::vector<std::unique_ptr<Worker>> idle;
  for_each_range(parts.size(), 1, threads, [&](std::size_t begin, std::size_t) {
    std::unique_ptr<Worker> worker;
    {
      const std::lock_guard lock(mutex);
      if (!idle.empty()) {
        worker = std::move(idle.back());
        idle.pop_back();
      }
    }
    if (!worker) worker = std::make_unique<Worker>(make());
    const BlockPart& part = parts[begin];
    for (std::uint32_t i = 0; i < part.stays; i += kBlockStays) {
      worker->run_block(part, part.first + i,
                        static_cast<int>(std::min<std::uint32_t>(part.stays - i, kBlockStays)));
    }
    const std::lock_guard lock(mutex);
    done(*worker, part);
    idle.push_back(std::move(worker));
  });
  return idle;
}

}  // namespace dullspell
