#include "cli/output/standard_output.hpp"

#include <unistd.h>

#include <array>
#include <cstring>
#include <stdexcept>
#include <streambuf>
#include <string>

#include "cli/output/descriptor.hpp"

namespace dullspell {
namespace {

class StandardOutputBuffer : public std::streambuf {
 public:
  StandardOutputBuffer() { hold_nothing(); }

 protected:
  int_type overflow(int_type c) override {
    send();
    if (!traits_type::eq_int_type(c, traits_type::eof())) sputc(traits_type::to_char_type(c));
    return traits_type::not_eof(c);
  }

  int sync() override {
    send();
    return 0;
  }

 private:
  void hold_nothing() { setp(held_.data(), held_.data() + held_.size()); }

  void send() {
    const std::string_view bytes(pbase(), static_cast<std::size_t>(pptr() - pbase()));
    const int error = write_all(STDOUT_FILENO, bytes);
    hold_nothing();
    if (error == 0) return;
    throw std::runtime_error(std::string("standard output could not be written: ") +
                             std::strerror(error));
  }

  std::array<char, 65536> held_{};
};

class StandardOutput : public std::ostream {
 public:
  StandardOutput() : std::ostream(nullptr) {
    rdbuf(&buffer_);
    exceptions(std::ios::badbit);  // the buffer's own exception passes through
  }

 private:
  StandardOutputBuffer buffer_;
};

}  // namespace

std::ostream& standard_output() {
  static StandardOutput stream;
  return stream;
}

void finish_standard_output() {
  standard_output().flush();
}

}  // namespace dullspell
