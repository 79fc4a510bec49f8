#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "weather/input/nearest_word.hpp"

namespace dullspell {
namespace {

const std::vector<std::string> kKeys{"capacity_wh", "usable_share", "tilt", "until"};

TEST_CASE("The nearest word is found over an insertion, a deletion, a replacement and a swap") {
  CHECK(nearest_word("capacitty_wh", kKeys) == "capacity_wh");
  CHECK(nearest_word("capacty_wh", kKeys) == "capacity_wh");
  CHECK(nearest_word("capacity_wg", kKeys) == "capacity_wh");
  CHECK(nearest_word("capactiy_wh", kKeys) == "capacity_wh");
}

TEST_CASE("A swap of neighbours counts one") {
  // Distance 1 is less than half of 4 letters; two replacements would not be.
  CHECK(nearest_word("tlit", kKeys) == "tilt");
}

TEST_CASE("A word is near up to three edits and no farther") {
  CHECK(nearest_word("capacity_xyz", kKeys) == "capacity_wh");
  CHECK_FALSE(nearest_word("capacity_wxyz", std::vector<std::string>{"capacity_"}).has_value());
}

TEST_CASE("Edits of half of a word make it another word") {
  CHECK_FALSE(nearest_word("ti", kKeys).has_value());
  CHECK_FALSE(nearest_word("", kKeys).has_value());
  CHECK_FALSE(nearest_word("xxxx", kKeys).has_value());
}

TEST_CASE("Of equally near words the first is taken, and a nearer one beats it") {
  const std::vector<std::string> words{"camp_a", "camp_b", "camp_xy"};
  CHECK(nearest_word("camp_x", words) == "camp_a");
  CHECK(nearest_word("camp_xyy", words) == "camp_xy");
}

TEST_CASE("No word is near when none is known or the input is no slip of the finger") {
  CHECK_FALSE(nearest_word("tilt", {}).has_value());
  const std::string endless(65, 'a');
  CHECK_FALSE(nearest_word(endless, std::vector<std::string>{endless}).has_value());
}

TEST_CASE("The beginning of words stands for them before a word that is merely near") {
  const std::vector<std::string> keys{"capacity_ah", "capacity_wh", "hours_per_day", "health"};
  CHECK(did_you_mean("capacity", keys) == "Did you mean `capacity_ah` or `capacity_wh`?");
  CHECK(did_you_mean("HOURS", keys) == "Did you mean `hours_per_day`?");
  CHECK(did_you_mean("helath", keys, '"') == "Did you mean \"health\"?");
  CHECK(did_you_mean("ca", keys).empty());
  CHECK(did_you_mean("volts", keys).empty());
  CHECK(did_you_mean("", keys).empty());
}

}  // namespace
}  // namespace dullspell
