#include "reports/number_text.hpp"

#include <catch2/catch.hpp>

using namespace dullspell;

TEST_CASE("a percentage has no more digits than its interval supports") {
  CHECK(percent(Proportion(38, 100)) == "38 %");
  CHECK(percent(Proportion(7550, 20000)) == "38 %");    // half-width 0.7 points
  CHECK(percent(Proportion(500, 20000)) == "2.5 %");    // 0.2 points
  CHECK(percent(Proportion(10, 1000000)) == "0.00 %");  // 0.0006 points
  CHECK(percent_interval(Proportion(500, 20000)) == "2.3–2.7 %");
}

TEST_CASE("none and all are said plainly, with what the interval leaves open") {
  CHECK(percent(Proportion(0, 20000)) == "0 %");
  CHECK(percent_interval(Proportion(0, 20000)) == "0.00–0.02 %");
  CHECK(percent(Proportion(20000, 20000)) == "100 %");
  CHECK(in_words(Proportion(0, 20000)) == "none of 20,000 stays");
  CHECK(in_words(Proportion(20000, 20000)) == "all of 20,000 stays");
}

TEST_CASE("shares in words keep to numbers that people can picture") {
  CHECK(in_words(Proportion(7550, 20000)) == "38 of 100 stays");
  CHECK(in_words(Proportion(100, 20000)) == "5 of 1,000 stays");
  CHECK(in_words(Proportion(1, 20000)) == "1 of 20,000 stays");
  CHECK(in_words(Proportion(19990, 20000)) == "all but 10 of 20,000 stays");
}

TEST_CASE("thousands are set apart") {
  CHECK(grouped(0) == "0");
  CHECK(grouped(999) == "999");
  CHECK(grouped(1000) == "1,000");
  CHECK(grouped(4194304) == "4,194,304");
}

TEST_CASE("energies change to kWh from ten") {
  CHECK(energy(0.4) == "0 Wh");
  CHECK(energy(9999.0) == "9999 Wh");
  CHECK(energy(12345.0) == "12.3 kWh");
}

TEST_CASE("ordinals are words up to twelve") {
  CHECK(ordinal(1) == "first");
  CHECK(ordinal(12) == "twelfth");
  CHECK(ordinal(13) == "13th");
  CHECK(ordinal(21) == "21st");
  CHECK(ordinal(22) == "22nd");
  CHECK(ordinal(23) == "23rd");
  CHECK(ordinal(111) == "111th");
}

TEST_CASE("text is wrapped at blanks, numbers keep their per cent sign") {
  CHECK(wrapped("one two three", 7) == "one two\nthree\n");
  CHECK(wrapped("one two", 92, 2) == "  one two\n");
  CHECK(wrapped("about 45 %", 8) == "about\n45 %\n");
  CHECK(wrapped("", 10).empty());
  CHECK(wrapped("ab abcdefg h", 4, 1) == " ab\n abc\n def\n g h\n");
  CHECK(wrapped("森の中 camp", 5) == "森の\n中\ncamp\n");
  CHECK(longest_word("") == 0);
  CHECK(longest_word("about 45 % 森の中") == 6);
  CHECK(longest_word("at 1045 %") == 6);
}

TEST_CASE("columns line up by characters, not bytes") {
  CHECK(display_width("1–2") == 3);
  CHECK(left_aligned("–", 3) == "–  ");
  CHECK(right_aligned("–", 3) == "  –");
  CHECK(right_aligned("long", 2) == "long");
}

TEST_CASE("units of what people read") {
  // A gallon is 3.785411784 L, a pound 0.45359237 kg, a mile 1.609344 km, a foot 0.3048 m: NIST
  // Handbook 44, appendix C.
  CHECK(fuel(1.1, Fuel::gasoline, Units::metric) == "1.1 L");
  CHECK(fuel(3.785411784, Fuel::diesel, Units::us) == "1.00 gal");
  CHECK(fuel(propane_l(1.1), Fuel::propane, Units::metric) == "1.1 kg");
  CHECK(fuel(propane_l(0.45359237), Fuel::propane, Units::us) == "1.0 lb");
  CHECK(tank(3.8, Fuel::gasoline, Units::us) == "1 gal");
  CHECK(tank(20.0, Fuel::gasoline, Units::us) == "5.3 gal");
  CHECK(tank(3.8, Fuel::gasoline, Units::metric) == "3.8 L");
  CHECK(tank(3.785411784, Fuel::diesel, Units::metric) == "3.79 L");
  CHECK(tank(propane_l(9.0718474), Fuel::propane, Units::metric) == "9.07 kg");
  CHECK(tank(propane_l(9.0718474), Fuel::propane, Units::us) == "20 lb");
  CHECK(tank(propane_l(45.359237), Fuel::propane, Units::us) == "100 lb");
  CHECK(fuel_name(Fuel::propane, Units::metric) == "kilograms of propane");
  CHECK(fuel_name(Fuel::diesel, Units::us) == "gallons of fuel");
  CHECK(weight(19.95806428, Units::metric) == "19.96 kg");
  CHECK(weight(38.5, Units::metric) == "38.5 kg");
  CHECK(weight(45.359237, Units::us) == "100.0 lb");
  CHECK(distance(160.9344, Units::us) == "100 mi");
  CHECK(distance(154.4, Units::metric) == "154 km");
  CHECK(height(304.8, Units::us) == "1000 ft");
  CHECK(temperature(-40.0, Units::us, 0) == "-40 °F");
  CHECK(temperature(37.0, Units::us) == "98.6 °F");
  CHECK(temperature(12.34, Units::metric) == "12.3 °C");
  // A difference has no zero to move: 1.8 degrees Fahrenheit to a kelvin.
  CHECK(temperature_step(10.0, Units::us, 0) == "18 °F");
  CHECK(temperature_step(9.74, Units::metric) == "9.7 K");
}
