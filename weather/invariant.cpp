#include "weather/invariant.hpp"

#include <cstdio>
#include <cstdlib>

namespace dullspell {

void invariant_broken(const char* words, const char* file, int line) noexcept {
  std::fprintf(stderr, "%s:%d: should hold: %s\n", file, line, words);
  std::abort();
}

}  // namespace dullspell
