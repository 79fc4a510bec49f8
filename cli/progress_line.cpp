#include "cli/progress_line.hpp"

#include <unistd.h>

#include <cstdio>

#include <fmt/format.h>

#include "cli/terminal.hpp"
#include "reports/number_text.hpp"
#include "weather/input/utf8.hpp"

namespace dullspell {
namespace {

constexpr std::chrono::milliseconds kQuiet{300};
constexpr std::chrono::milliseconds kEvery{100};

std::string text_of(const WorkDone& work) {
  if (work.planned == 0) return fmt::format("{}: {}", work.what, grouped(work.done));
  const std::string text =
      fmt::format("{} of {} {}", grouped(work.done), grouped(work.planned), work.what);
  if (!work.flat_stays) return text;
  const Proportion flat(*work.flat_stays, work.done);
  return fmt::format("{}: flat in {:.0f} of 100 so far ({})", text, 100.0 * flat.p,
                     percent_interval(flat));
}

}  // namespace

ProgressLine::ProgressLine() : next_(Clock::now() + kQuiet) {
  if (terminal_takes_escapes()) width_ = terminal_width(STDERR_FILENO).value_or(0);
}

ProgressLine::~ProgressLine() {
  clear();
}

void ProgressLine::clear() {
  if (shown_) std::fputs("\r\033[K", stderr);
  shown_ = false;
}

void ProgressLine::show(const WorkDone& work) {
  if (width_ == 0 || Clock::now() < next_) return;
  next_ = Clock::now() + kEvery;
  shown_ = true;
  // A line as wide as the window would go on in the next, which is not written over.
  std::fputs(("\r\033[K" + utf8_slice(text_of(work), 0, width_ - 1)).c_str(), stderr);
  std::fflush(stderr);
}

}  // namespace dullspell
