#pragma once

#include <memory>
#include <optional>
#include <ostream>
#include <sstream>
#include <string>
#include <vector>

#include "cli/output/output_target.hpp"

namespace dullspell {

/// A result on its way to a file, checked before the work begins and written by commit(). "-" is
/// standard output.
class OutputFile {
 public:
  /// Throws InputError if the target cannot be written (a directory, a folder that does not exist,
  /// no permission), or if this run reads or writes it already. `option` names what asked for it.
  OutputFile(const std::string& option, const std::string& path);

  std::ostream& stream();
  bool is_standard_output() const { return !target_; }

  /// Throws std::runtime_error if not all could be written (a full disk).
  void commit();

 private:
  std::string path_;
  std::optional<OutputTarget> target_;
  std::ostringstream text_;
};

/// Files that a command may write besides its report, by its options; empty where none was given.
struct OutputPaths {
  std::string json, csv, geojson, html, levels, plan;
};

/// Files that a command writes besides its report, opened before the work begins.
class OutputFiles {
 public:
  /// Throws InputError, too, where two of them are standard output.
  explicit OutputFiles(const OutputPaths& paths);

  /// Where to write what `option` asked for; null if it was not given.
  std::ostream* stream(const std::string& option);

  /// Whether the report for people has standard output to itself.
  bool leave_standard_output() const { return !on_standard_output_; }

  void commit();

 private:
  struct Opened {
    std::string option;
    std::unique_ptr<OutputFile> file;
  };

  void open(const std::string& option, const std::string& path);

  std::vector<Opened> files_;
  std::optional<std::string> on_standard_output_;
};

}  // namespace dullspell
