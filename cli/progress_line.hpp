#pragma once

#include <chrono>
#include <cstddef>
#include <string>

#include "engine/study/progress.hpp"

namespace dullspell {

/// One line on standard error that is written over while work goes on, and gone at its end. Silent
/// unless that is a terminal that takes escape sequences, and for the first moment, so that quick
/// work shows nothing.
class ProgressLine {
 public:
  ProgressLine();
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  void show(const WorkDone& work);

  /// Before anything else is written while work goes on.
  void clear();

 private:
  using Clock = std::chrono::steady_clock;

  std::size_t width_ = 0;  ///< 0: silent
  bool shown_ = false;
  Clock::time_point next_;
};

/// What `work`, called with a Progress, returns; its line is gone before that.
template <class Work>
auto with_progress(const Work& work) {
  ProgressLine line;
  return work(Progress([&](const WorkDone& done) { line.show(done); }));
}

}  // namespace dullspell
