#include "cli/output/output_file.hpp"

#include <filesystem>
#include <stdexcept>
#include <system_error>

#include <fmt/format.h>

#include "cli/option_values.hpp"
#include "cli/output/files_in_use.hpp"
#include "cli/output/standard_output.hpp"

namespace dullspell {
namespace {

void refuse_taken(const std::string& option, const std::string& path, const std::string& file) {
  if (!is_in_use(file)) return;
  refuse_option(option, fmt::format("names `{}`, which this run reads or writes already", path),
                "a file of its own");
}

// What is there or missing at `path` itself.
void refuse_folders(const std::string& option, const std::string& path) {
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
}

}  // namespace

OutputFile::OutputFile(const std::string& option, const std::string& path) : path_(path) {
  if (path == "-") return;
  refuse_folders(option, path);
  refuse_taken(option, path, path);
  try {
    target_.emplace(path);
  } catch (const std::system_error& error) {
    refuse_option(option, fmt::format("`{}` cannot be written: {}", path, error.code().message()),
                  "a file that you may write");
  }
  // A link to a file that does not exist yet.
  refuse_taken(option, path, target_->file().string());
  note_file_in_use(target_->file().string());
}

std::ostream& OutputFile::stream() {
  return is_standard_output() ? standard_output() : text_;
}

void OutputFile::commit() {
  if (is_standard_output()) return finish_standard_output();
  try {
    target_->put(text_.view());
  } catch (const std::system_error& error) {
    throw std::runtime_error(
        fmt::format("{} could not be written: {}", path_, error.code().message()));
  }
}

OutputFiles::OutputFiles(const OutputPaths& paths) {
  open("--json", paths.json);
  open("--csv", paths.csv);
  open("--geojson", paths.geojson);
  open("--html", paths.html);
  open("--levels", paths.levels);
  open("--write", paths.plan);
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
