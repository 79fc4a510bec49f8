#include <filesystem>
#include <string>

#include "tests/support/input_text.hpp"
#include "tests/support/temporary_file.hpp"
#include "weather/input/source_text.hpp"

namespace dullspell {
namespace {

std::string refusal(const std::string& path, std::size_t largest_bytes = 4096) {
  return message_of([&] { read_source(path, "plan", largest_bytes); });
}

TEST_CASE("Lines of a text are counted from one and lose their ends") {
  const SourceText source{"a", "one\r\ntwo\n\nfour"};
  CHECK(source.line(1) == "one");
  CHECK(source.line(2) == "two");
  CHECK(source.line(3).empty());
  CHECK(source.line(4) == "four");
  CHECK(source.line(5).empty());
}

TEST_CASE("A file is read whole under the name that the person gave") {
  const TemporaryFile file("name = \"x\"\n");
  const SourceText source = read_source(file.path(), "plan", 11);
  CHECK(source.text == "name = \"x\"\n");
  CHECK(source.name == file.path());
}

TEST_CASE("A missing file is reported with the kind of file") {
  CHECK(refusal("no/such/trip.toml") ==
        "no/such/trip.toml: there is no such plan file\n"
        "  Check the spelling and the folder you are in.\n");
}

TEST_CASE("A directory is not a file") {
  const std::string folder = std::filesystem::temp_directory_path().string();
  CHECK(refusal(folder) == folder +
                               ": is a directory, not a plan file\n"
                               "  Name the file inside it.\n");
}

TEST_CASE("An empty file, or one of blanks only, is reported as empty") {
  for (const char* content : {"", " \t\r\n\n"}) {
    const TemporaryFile file(content);
    CHECK(refusal(file.path()) == file.path() +
                                      ": is empty: a plan file is expected\n"
                                      "  `dullspell new` writes a plan to start from.\n");
  }
}

TEST_CASE("A file with NUL bytes is reported at their line") {
  const TemporaryFile file(std::string_view("a = 1\nb = \0\n", 12));
  CHECK(refusal(file.path()) ==
        file.path() +
            ":2: holds binary data, not the text of a plan file; allowed: text in UTF-8\n"
            "  Check that you named the right file.\n");
}

TEST_CASE("A file may be as large as its kind allows and not a byte larger") {
  const TemporaryFile file(std::string(2048, 'x'));
  CHECK(read_source(file.path(), "plan", 2048).text.size() == 2048);
  CHECK(refusal(file.path(), 2047) ==
        file.path() +
            ": is larger than a plan file can be; allowed: at most 1 KiB\n"
            "  This is probably not a plan file.\n");
}

}  // namespace
}  // namespace dullspell
