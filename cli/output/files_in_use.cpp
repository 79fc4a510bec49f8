#include "cli/output/files_in_use.hpp"

#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <optional>
#include <vector>

namespace dullspell {
namespace {

struct FileInUse {
  std::filesystem::path path;  ///< absolute; empty for a standard stream
  struct stat status {};       ///< of mode 0 where there is no such file yet
};

bool is_there(const struct stat& status) {
  return status.st_mode != 0;
}

bool same_file(const FileInUse& a, const FileInUse& b) {
  if (is_there(a.status) && is_there(b.status)) {
    return a.status.st_dev == b.status.st_dev && a.status.st_ino == b.status.st_ino;
  }
  return !a.path.empty() && a.path == b.path;
}

FileInUse found_at(const std::string& path) {
  std::error_code ignored;
  FileInUse file;
  file.path = std::filesystem::weakly_canonical(std::filesystem::absolute(path, ignored), ignored);
  if (stat(path.c_str(), &file.status) != 0) file.status = {};
  return file;
}

FileInUse found_behind(int descriptor) {
  FileInUse file;
  if (fstat(descriptor, &file.status) != 0) file.status = {};
  return file;
}

std::vector<FileInUse>& files_in_use() {
  static std::vector<FileInUse> files{found_behind(STDOUT_FILENO)};
  return files;
}

}  // namespace

void note_file_in_use(const std::string& path) {
  files_in_use().push_back(path == "-" ? found_behind(STDIN_FILENO) : found_at(path));
}

bool is_in_use(const std::string& path) {
  const FileInUse target = found_at(path);
  if (S_ISCHR(target.status.st_mode)) return false;
  const auto& files = files_in_use();
  return std::any_of(files.begin(), files.end(),
                     [&](const FileInUse& file) { return same_file(file, target); });
}

}  // namespace dullspell
