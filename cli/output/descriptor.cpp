#include "cli/output/descriptor.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <utility>

namespace dullspell {

Descriptor::~Descriptor() {
  close();
}

Descriptor::Descriptor(Descriptor&& other) noexcept : number_(std::exchange(other.number_, -1)) {}

Descriptor& Descriptor::operator=(Descriptor&& other) noexcept {
  std::swap(number_, other.number_);
  return *this;
}

int Descriptor::close() {
  const int number = std::exchange(number_, -1);
  return number < 0 || ::close(number) == 0 ? 0 : errno;
}

int write_all(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = write(descriptor, bytes.data(), bytes.size());
    if (written >= 0) {
      bytes.remove_prefix(static_cast<std::size_t>(written));
    } else if (errno != EINTR) {
      return errno;
    }
  }
  return 0;
}

void keep_standard_descriptors() {
  for (const int standard : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    if (fcntl(standard, F_GETFD) != -1 || errno != EBADF) continue;
    // The lowest free number is this one. Opened the other way round, it can be used as little as
    // a closed one.
    [[maybe_unused]] const int held =
        open("/dev/null", standard == STDIN_FILENO ? O_WRONLY : O_RDONLY);
  }
}

}  // namespace dullspell
