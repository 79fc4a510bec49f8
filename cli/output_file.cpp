#include "cli/output_file.hpp"

#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <iostream>
#include <stdexcept>

#include <fmt/format.h>

#include "cli/shared_options.hpp"

namespace dullspell {

OutputFile::OutputFile(const std::string& option, const std::string& path) : path_(path) {
  if (is_standard_output()) return;
  std::error_code error;
  if (path.empty()) refuse_option(option, "names no file", "a file, or - for standard output");
  if (std::filesystem::is_directory(path, error)) {
    refuse_option(option, fmt::format("names the directory `{}`", path), "a file in it");
  }
  const auto folder = std::filesystem::path(path).parent_path();
  if (!folder.empty() && !std::filesystem::is_directory(folder, error)) {
    refuse_option(option,
                  fmt::format("names a file in `{}`, which does not exist", folder.string()),
                  "a folder that exists");
  }
  temporary_ = fmt::format("{}.{}.part", path, getpid());
  file_.open(temporary_, std::ios::binary | std::ios::trunc);
  if (!file_) {
    refuse_option(option, fmt::format("`{}` cannot be written: {}", path, std::strerror(errno)),
                  "a file that you may write");
  }
}

OutputFile::~OutputFile() {
  if (committed_ || temporary_.empty()) return;
  file_.close();
  std::error_code ignored;
  std::filesystem::remove(temporary_, ignored);
}

std::ostream& OutputFile::stream() {
  return is_standard_output() ? std::cout : file_;
}

void OutputFile::commit() {
  if (is_standard_output()) {
    std::cout.flush();
    if (!std::cout) throw std::runtime_error("standard output cannot be written");
    return;
  }
  file_.close();
  std::error_code error;
  if (file_) std::filesystem::rename(temporary_, path_, error);
  if (!file_ || error) {
    throw std::runtime_error(fmt::format("{} could not be written: {}", path_,
                                         error ? error.message() : std::strerror(errno)));
  }
  committed_ = true;
}

}  // namespace dullspell
