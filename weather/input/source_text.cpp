#include "weather/input/source_text.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iostream>

#include <fmt/format.h>

#include "weather/input/input_error.hpp"

namespace dullspell {
namespace {

[[noreturn]] void refuse(const std::string& name, std::string problem, std::string allowed,
                         std::string fix, int line = 0) {
  InputProblem p;
  p.file = name;
  p.line = line;
  p.problem = std::move(problem);
  p.allowed = std::move(allowed);
  p.fix = std::move(fix);
  throw InputError(std::move(p));
}

// Reads one byte more than allowed at most, so that an endless pipe cannot fill the memory.
std::string read_up_to(std::istream& in, std::size_t bytes) {
  constexpr std::size_t kPiece = 1024 * 1024;
  std::string text;
  while (in && text.size() < bytes) {
    const std::size_t before = text.size();
    text.resize(before + std::min(kPiece, bytes - before));
    in.read(text.data() + before, static_cast<std::streamsize>(text.size() - before));
    text.resize(before + static_cast<std::size_t>(in.gcount()));
  }
  return text;
}

}  // namespace

std::string SourceText::line(int line) const {
  std::size_t begin = 0;
  for (int i = 1; i < line; ++i) {
    begin = text.find('\n', begin);
    if (begin == std::string::npos) return {};
    ++begin;
  }
  std::size_t end = std::min(text.find('\n', begin), text.size());
  if (end > begin && text[end - 1] == '\r') --end;
  return text.substr(begin, end - begin);
}

SourceText read_source(const std::string& path, std::string_view what, std::size_t largest_bytes) {
  const bool piped = path == "-";
  SourceText source{piped ? "<standard input>" : path, {}};
  if (piped) {
    source.text = read_up_to(std::cin, largest_bytes + 1);
  } else {
    std::error_code error;
    const auto status = std::filesystem::status(path, error);
    if (!std::filesystem::exists(status)) {
      refuse(path, fmt::format("there is no such {} file", what), "",
             "Check the spelling and the folder you are in.");
    }
    if (std::filesystem::is_directory(status)) {
      refuse(path, fmt::format("is a directory, not a {} file", what), "",
             "Name the file inside it.");
    }
    std::ifstream in(path, std::ios::binary);
    if (!in) {
      refuse(path, fmt::format("cannot be read: {}", std::strerror(errno)), "",
             "Check the file's permissions.");
    }
    source.text = read_up_to(in, largest_bytes + 1);
  }
  if (source.text.size() > largest_bytes) {
    refuse(source.name, fmt::format("is larger than a {} file can be", what),
           fmt::format("at most {} KiB", largest_bytes / 1024),
           fmt::format("This is probably not a {} file.", what));
  }
  if (const auto nul = source.text.find('\0'); nul != std::string::npos) {
    const auto line = 1 + std::count(source.text.begin(),
                                     source.text.begin() + static_cast<std::ptrdiff_t>(nul), '\n');
    refuse(source.name, fmt::format("holds binary data, not the text of a {} file", what),
           "text in UTF-8", "Check that you named the right file.", static_cast<int>(line));
  }
  if (source.text.find_first_not_of(" \t\r\n") == std::string::npos) {
    refuse(source.name, fmt::format("is empty: a {} file is expected", what), "",
           what == "plan" ? "`dullspell new` writes a plan to start from." : "");
  }
  return source;
}

}  // namespace dullspell
