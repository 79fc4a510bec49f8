#pragma once

// No library header: the engine's kernel, which may include none, checks its invariants too.

namespace dullspell {

/// Says on standard error what should have held, and where, and ends the program by abort().
[[noreturn]] void invariant_broken(const char* words, const char* file, int line) noexcept;

}  // namespace dullspell

/// What this code relies on and input cannot break, in words that finish "should hold: ". It is
/// looked at in builds without NDEBUG, that of tests under sanitizers among them; a release leaves
/// it out, so `holds` must change nothing.
#ifdef NDEBUG
#define INVARIANT(holds, words) static_cast<void>(sizeof((holds) ? 1 : 0))
#else
#define INVARIANT(holds, words) \
  ((holds) ? static_cast<void>(0) : ::dullspell::invariant_broken(words, __FILE__, __LINE__))
#endif
