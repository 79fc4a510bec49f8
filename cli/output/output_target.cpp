#include "cli/output/output_target.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <functional>
#include <optional>
#include <system_error>
#include <utility>

#include <fmt/format.h>

namespace dullspell {
namespace {

namespace fs = std::filesystem;

constexpr mode_t kUsualMode = 0666;  // less what the umask takes

[[noreturn]] void fail(int error) {
  throw std::system_error(error, std::generic_category());
}

// A link that leads to no file yet leads to the file to make.
fs::path without_links(fs::path path) {
  constexpr int kMostLinks = 40;  // as many as the system follows
  for (int i = 0; i < kMostLinks; ++i) {
    std::error_code no_link;
    const fs::path next = fs::read_symlink(path, no_link);
    if (no_link) return path;
    path = path.parent_path() / next;
  }
  fail(ELOOP);
}

fs::path folder_of(const fs::path& file) {
  const fs::path folder = file.parent_path();
  return folder.empty() ? "." : folder;
}

constexpr const char* kOpenFiles = "/proc/self/fd/";  // by which an unnamed file gets a name

// None where the file system has no unnamed files, or none could get a name.
Descriptor unnamed_file_in(const fs::path& folder) {
  Descriptor file(open(folder.c_str(), O_TMPFILE | O_WRONLY | O_CLOEXEC, kUsualMode));
  const bool unknown = errno == EOPNOTSUPP || errno == EISDIR || errno == EINVAL;
  if (!file && (!unknown || access(folder.c_str(), W_OK | X_OK) != 0)) fail(errno);
  return access(kOpenFiles, X_OK) == 0 ? std::move(file) : Descriptor();
}

// Calls `make` with names beside `file` until it makes one that was free; returns that name.
fs::path with_free_name(const fs::path& file, const std::function<bool(const fs::path&)>& make) {
  constexpr int kMostNames = 1000;
  for (int i = 0; i < kMostNames; ++i) {
    fs::path name = folder_of(file) / fmt::format("dullspell-{}-{}.part", getpid(), i);
    if (make(name)) return name;
    if (errno != EEXIST) fail(errno);
  }
  fail(EEXIST);
}

// Gives an unnamed file its name; false, with errno, if that cannot be.
bool give_name(const Descriptor& unnamed, const fs::path& name) {
  const std::string open_file = kOpenFiles + std::to_string(unnamed.number());
  return linkat(AT_FDCWD, open_file.c_str(), AT_FDCWD, name.c_str(), AT_SYMLINK_FOLLOW) == 0;
}

// Owner first, since a change of owner may take permissions away.
void take_over(const Descriptor& file, const struct stat& from) {
  if (fchown(file.number(), from.st_uid, from.st_gid) != 0) {
    [[maybe_unused]] const int group_alone =
        fchown(file.number(), static_cast<uid_t>(-1), from.st_gid);
  }
  if (fchmod(file.number(), from.st_mode & 07777u) != 0) fail(errno);
}

// A name beside the target that goes away unless it takes the target's place.
class NameBeside {
 public:
  explicit NameBeside(fs::path name) : name_(std::move(name)) {}
  ~NameBeside() {
    if (!name_.empty()) unlink(name_.c_str());
  }
  NameBeside(const NameBeside&) = delete;
  NameBeside& operator=(const NameBeside&) = delete;

  void take_place_of(const fs::path& file) {
    if (rename(name_.c_str(), file.c_str()) != 0) fail(errno);
    name_.clear();
  }

 private:
  fs::path name_;
};

}  // namespace

OutputTarget::OutputTarget(const std::string& path) : file_(path) {
  struct stat there {};
  const bool exists = stat(path.c_str(), &there) == 0;
  if (!exists && errno != ENOENT) fail(errno);
  if (exists && !S_ISREG(there.st_mode)) {
    through_ = Descriptor(open(path.c_str(), O_WRONLY | O_CLOEXEC | O_NOCTTY));
    if (!through_) fail(errno);
    return;
  }
  if (exists && access(path.c_str(), W_OK) != 0) fail(errno);
  file_ = without_links(path);
  unnamed_ = unnamed_file_in(folder_of(file_));
}

void OutputTarget::put(std::string_view bytes) {
  if (!through_) return replace(bytes);
  const int written = write_all(through_.number(), bytes), closed = through_.close();
  if (written || closed) fail(written ? written : closed);
}

void OutputTarget::replace(std::string_view bytes) {
  struct stat old {};
  const bool exists = stat(file_.c_str(), &old) == 0;
  Descriptor out = std::move(unnamed_);
  std::optional<NameBeside> beside;
  if (!out) {
    beside.emplace(with_free_name(file_, [&](const fs::path& name) {
      out = Descriptor(open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, kUsualMode));
      return static_cast<bool>(out);
    }));
  }
  if (const int error = write_all(out.number(), bytes)) fail(error);
  if (exists) take_over(out, old);
  if (!beside) {
    if (!exists && give_name(out, file_)) return;
    // A name cannot be given where one is. A kill between these two steps leaves it behind.
    beside.emplace(
        with_free_name(file_, [&](const fs::path& name) { return give_name(out, name); }));
  }
  if (const int error = out.close()) fail(error);
  beside->take_place_of(file_);
}

}  // namespace dullspell
