#pragma once

#include <chrono>
#include <cstdint>
#include <string>

namespace dullspell {

/// One line on standard error that is written over while stays run; silent unless that is a
/// terminal, and for the first moment, so that quick work shows nothing.
class ProgressLine {
 public:
  ProgressLine();
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  void show(std::uint64_t done, std::uint64_t planned, const char* what = "stays");

 private:
  using Clock = std::chrono::steady_clock;

  bool terminal_;
  bool shown_ = false;
  Clock::time_point next_;
};

}  // namespace dullspell
