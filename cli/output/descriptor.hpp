#pragma once

#include <string_view>

namespace dullspell {

/// A file descriptor that is closed with this object; below 0 for none.
class Descriptor {
 public:
  explicit Descriptor(int number = -1) : number_(number) {}
  ~Descriptor();
  Descriptor(Descriptor&& other) noexcept;
  Descriptor& operator=(Descriptor&& other) noexcept;

  explicit operator bool() const { return number_ >= 0; }
  int number() const { return number_; }

  /// What closing says of the bytes written before: 0, or an errno.
  int close();

 private:
  int number_;
};

/// Writes all of it. Returns 0, or the errno of the write that failed.
int write_all(int descriptor, std::string_view bytes);

/// Takes the numbers of standard input, output and error where a caller has closed them, so that no
/// file that is opened later gets one. Using them still fails as it does on closed ones.
void keep_standard_descriptors();

}  // namespace dullspell
