#pragma once

#include <ostream>

namespace dullspell {

/// The only way to standard output. A write that fails throws std::runtime_error in words for
/// people, at once, so that long work ends there.
std::ostream& standard_output();

/// Sends what is still held back; to be called at the end of every command. Throws likewise.
void finish_standard_output();

}  // namespace dullspell
