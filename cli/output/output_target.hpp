#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "cli/output/descriptor.hpp"

namespace dullspell {

/// A file that an output goes to. It is looked for before the work begins and gets its bytes at the
/// end, in one go. A regular file appears or is replaced whole or not at all, and keeps its
/// permissions and, where that is allowed, its owner; a link to it stays. A device, a pipe and
/// whatever else is no regular file is written to.
class OutputTarget {
 public:
  /// Waits for a pipe's reader. Throws std::system_error if the file cannot be written.
  explicit OutputTarget(const std::string& path);

  /// To be called once. Throws std::system_error, in which case a regular file is as it was.
  void put(std::string_view bytes);

  /// The file itself, which links lead to.
  const std::filesystem::path& file() const { return file_; }

 private:
  void replace(std::string_view bytes);

  std::filesystem::path file_;
  Descriptor through_;  ///< what is no regular file
  Descriptor unnamed_;  ///< bytes of a file to come, which a kill leaves no trace of
};

}  // namespace dullspell
