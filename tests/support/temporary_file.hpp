#pragma once

#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>

#include <stdlib.h>
#include <unistd.h>

namespace dullspell {

/// A file of its own name that goes away with this object.
class TemporaryFile {
 public:
  explicit TemporaryFile(std::string_view content)
      : path_((std::filesystem::temp_directory_path() / "dullspell-XXXXXX").string()) {
    close(mkstemp(path_.data()));
    std::ofstream(path_, std::ios::binary) << content;
  }
  ~TemporaryFile() { std::filesystem::remove(path_); }
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;

  const std::string& path() const { return path_; }

 private:
  std::string path_;
};

}  // namespace dullspell
