#include "cli/output_file.hpp"

#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <iostream>
#include <stdexcept>
#include <vector>

#include <fmt/format.h>

#include "cli/shared_options.hpp"

namespace dullspell {
namespace {

std::vector<std::filesystem::path>& files_in_use() {
  static std::vector<std::filesystem::path> files;
  return files;
}

std::filesystem::path absolute(const std::string& path) {
  std::error_code ignored;
  return std::filesystem::weakly_canonical(std::filesystem::absolute(path, ignored), ignored);
}

}  // namespace

void note_file_in_use(const std::string& path) {
  if (path != "-") files_in_use().push_back(absolute(path));
}

OutputFile::OutputFile(const std::string& option, const std::string& path) : path_(path) {
  if (is_standard_output()) return;
  std::error_code error;
  if (path.empty()) refuse_option(option, "names no file", "a file, or - for standard output");
  if (std::filesystem::is_directory(path, error)) {
    refuse_option(option, fmt::format("names the directory `{}`", path), "a file in it");
  }
  const auto& taken = files_in_use();
  if (std::find(taken.begin(), taken.end(), absolute(path)) != taken.end()) {
    refuse_option(option, fmt::format("names `{}`, which this run reads or writes already", path),
                  "a file of its own");
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
  note_file_in_use(path);
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

void OutputFiles::open(const std::string& option, const std::string& path) {
  if (path.empty()) return;
  if (path == "-") {
    if (on_standard_output_) {
      refuse_option(option, fmt::format("is `-`, as {} is", *on_standard_output_),
                    "a file for one of the two",
                    fmt::format("If {} is -, standard output is taken: give {} a file.", option,
                                *on_standard_output_));
    }
    on_standard_output_ = option;
  }
  files_.push_back({option, std::make_unique<OutputFile>(option, path)});
}

std::ostream* OutputFiles::stream(const std::string& option) {
  for (const Opened& opened : files_) {
    if (opened.option == option) return &opened.file->stream();
  }
  return nullptr;
}

void OutputFiles::commit() {
  for (const Opened& opened : files_) opened.file->commit();
}

}  // namespace dullspell
