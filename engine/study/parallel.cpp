#include "engine/study/parallel.hpp"

#include <algorithm>

#include <tbb/blocked_range.h>
#include <tbb/global_control.h>
#include <tbb/info.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

namespace dullspell {

int machine_threads() {
  return std::max(1, tbb::info::default_concurrency());
}

void for_each_range(std::size_t count, std::size_t grain, int threads,
                    const std::function<void(std::size_t, std::size_t)>& body) {
  const std::size_t ranges = (count + grain - 1) / grain;
  const int most = threads > 0 ? threads : machine_threads();
  if (most == 1) {
    for (std::size_t i = 0; i < ranges; ++i) body(i * grain, std::min(count, (i + 1) * grain));
    return;
  }
  // More threads than cores are allowed on request; the library would ignore them otherwise.
  const tbb::global_control allowed(tbb::global_control::max_allowed_parallelism,
                                    static_cast<std::size_t>(most));
  tbb::task_arena arena(most);
  arena.execute([&] {
    tbb::parallel_for(
        tbb::blocked_range<std::size_t>(0, ranges, 1),
        [&](const tbb::blocked_range<std::size_t>& some) {
          for (std::size_t i = some.begin(); i < some.end(); ++i) {
            body(i * grain, std::min(count, (i + 1) * grain));
          }
        },
        tbb::simple_partitioner());
  });
}

}  // namespace dullspell
