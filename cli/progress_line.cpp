#include "cli/progress_line.hpp"

#include <unistd.h>

#include <cstdio>

#include <fmt/format.h>

#include "reports/number_text.hpp"

namespace dullspell {
namespace {

constexpr std::chrono::milliseconds kQuiet{300};
constexpr std::chrono::milliseconds kEvery{100};

}  // namespace

ProgressLine::ProgressLine()
    : terminal_(isatty(STDERR_FILENO) == 1), next_(Clock::now() + kQuiet) {}

ProgressLine::~ProgressLine() {
  if (shown_) std::fputs("\r\033[K", stderr);
}

void ProgressLine::show(std::uint64_t done, std::uint64_t planned, const char* what) {
  if (!terminal_ || Clock::now() < next_) return;
  next_ = Clock::now() + kEvery;
  shown_ = true;
  std::fputs(fmt::format("\r\033[K{} of {} {}", grouped(done), grouped(planned), what).c_str(),
             stderr);
  std::fflush(stderr);
}

}  // namespace dullspell
