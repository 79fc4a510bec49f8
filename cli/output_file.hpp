#pragma once

#include <fstream>
#include <ostream>
#include <string>

namespace dullspell {

/// Notes a file that this run reads or writes, so that no output falls on it.
void note_file_in_use(const std::string& path);

/// A file that appears whole or not at all: opened beside its target before the work begins, moved
/// into place by commit(). "-" is standard output.
class OutputFile {
 public:
  /// Throws InputError if the target cannot be written (a directory, a folder that does not exist,
  /// no permission), or if this run reads or writes it already. `option` names what asked for it.
  OutputFile(const std::string& option, const std::string& path);
  ~OutputFile();
  OutputFile(const OutputFile&) = delete;
  OutputFile& operator=(const OutputFile&) = delete;

  std::ostream& stream();
  bool is_standard_output() const { return path_ == "-"; }

  /// Throws std::runtime_error if not all could be written (a full disk).
  void commit();

 private:
  std::string path_;
  std::string temporary_;
  std::ofstream file_;
  bool committed_ = false;
};

}  // namespace dullspell
