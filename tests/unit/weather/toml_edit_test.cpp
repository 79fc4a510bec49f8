#include "weather/input/toml_edit.hpp"

#include <catch2/catch.hpp>

namespace dullspell {
namespace {

TEST_CASE("A value is changed where it stands, and the line says what it was") {
  const std::string text =
      "# Käse — a van\r\n"
      "title = \"Ü\"\r\n"
      "[battery]   # label\r\n"
      "capacity_wh = 1280 # as bought\r\n"
      "[[load]]\r\n"
      "name = \"lämp\" \r\n"
      "watts=15\r\n"
      "[[load]]\r\n"
      "amps = 2.5\r\n";
  CHECK(with_edits(text, {{"load", 1, "watts", "12"},
                          {"load", 2, "watts", "33", "amps"},
                          {"battery", 0, "capacity_wh", "1100"},
                          {"battery", 0, "health", "0.9"}}) ==
        "# Käse — a van\r\n"
        "title = \"Ü\"\r\n"
        "[battery]   # label\n"
        "health = 0.9\r\n"
        "capacity_wh = 1100 # as bought (was 1280)\r\n"
        "[[load]]\r\n"
        "name = \"lämp\" \r\n"
        "watts=12  # was 15\r\n"
        "[[load]]\r\n"
        "watts = 33  # was amps = 2.5\r\n");
}

TEST_CASE("Tables in braces on one line take several values") {
  CHECK(with_edits("load = [ { name = \"é\", watts = 3 }, { watts = 40, x = 1 } ]",
                   {{"load", 1, "watts", "4"}, {"load", 2, "watts", "50"}}) ==
        "load = [ { name = \"é\", watts = 4 }, { watts = 50, x = 1 } ]  # was 3  # was 40");
}

TEST_CASE("A table that is not there is added at the end, one of a list is not") {
  CHECK(with_edits("a = 1", {{"guesses", 0, "loads", "0.1"},
                             {"guesses", 0, "canopy", "0.05"},
                             {"load", 1, "watts", "3"}}) ==
        "a = 1\n\n[guesses]\nloads = 0.1\ncanopy = 0.05\n");
  CHECK(with_edits("a = 1\n", {}) == "a = 1\n");
}

TEST_CASE("Tables of a list become comments, and no others") {
  CHECK(with_list_as_comments("[[reading]]\n"
                              "# noted\n"
                              "\n"
                              "  draw_w = 3\n"
                              "[[readings]]\n"
                              "a = 1\n"
                              "[[reading]] # again\r\n"
                              "b = 2\r\n",
                              "reading") ==
        "# [[reading]]\n"
        "# noted\n"
        "\n"
        "#   draw_w = 3\n"
        "[[readings]]\n"
        "a = 1\n"
        "# [[reading]] # again\r\n"
        "# b = 2\r\n");
}

}  // namespace
}  // namespace dullspell
