#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace dullspell {

/// A text with the name that a person knows it by, so that errors can quote their line.
struct SourceText {
  std::string name;
  std::string text;

  /// Text of line `line` (from 1) without its end; empty if there is none.
  std::string line(int line) const;
};

/// Reads a whole text file, "-" being standard input.
/// Throws InputError for a missing or unreadable file, a directory, an empty file, a file beyond
/// `largest_bytes` and for bytes that no text holds (NUL). `what` names the kind of file ("plan").
SourceText read_source(const std::string& path, std::string_view what, std::size_t largest_bytes);

}  // namespace dullspell
