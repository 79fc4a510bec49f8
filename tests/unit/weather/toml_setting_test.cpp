#include <memory>
#include <string>
#include <vector>

#include "tests/support/input_text.hpp"
#include "weather/input/toml_section.hpp"
#include "weather/input/toml_setting.hpp"

namespace dullspell::toml_setting_test {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

constexpr Range kShare{0.0, 1.0};

const std::string kText =
    "risk = 0.1\n"
    "[[camp]]\n"
    "canopy = 0.2\n"
    "[[camp]]\n"
    "canopy = 0.4\n"
    "[battery]\n"
    "health = 0.9\n"
    "helth = 0.8\n";

TomlSection changed(const std::vector<std::string>& settings, const std::string& text = kText) {
  return TomlSection::root_of(
      std::make_shared<const TomlDocument>(SourceText{"plan.toml", text}, settings));
}

std::string refusal(const std::string& setting) {
  return message_of([&] { changed({setting}); });
}

TEST_CASE("A setting changes a value, in a table or in one of a list") {
  TomlSection root = changed({"risk=0.3", "battery.health = 0.7", "camp[2].canopy=0.5"});
  CHECK(root.number("risk", kShare) == 0.3);
  CHECK(root.section("battery")->number("health", kShare) == 0.7);
  auto camps = root.sections("camp");
  CHECK(camps.at(0).number("canopy", kShare) == 0.2);
  CHECK(camps.at(1).number("canopy", kShare) == 0.5);
}

TEST_CASE("A setting adds a value, a table, or the next table of a list") {
  TomlSection root = changed({"battery.where=inside", "vehicle.charge_w=250", "camp[3].canopy=0.1",
                              "forecast[1].day=2", "forecast[1].sky=clear"});
  CHECK(root.section("battery")->text("where") == "inside");
  CHECK(root.section("vehicle")->number("charge_w", {0.0, 1000.0}) == 250.0);
  CHECK(root.sections("camp").size() == 3);
  auto forecast = root.sections("forecast");
  REQUIRE(forecast.size() == 1);
  CHECK(forecast[0].integer("day", 1, 9) == 2);
  CHECK(forecast[0].text("sky") == "clear");
}

TEST_CASE("A setting's value is TOML, or a bare word that is text") {
  TomlSection root =
      changed({"a=\"x = y\"", "b=overcast", "c=2027-05-24T09:00:00", "d=[1, 2]", "e={ f = 3 }",
               "g=true", "h=two words", "i=08:30:00", "j=2027-05-24"});
  CHECK(root.text("a") == "x = y");
  CHECK(root.text("b") == "overcast");
  CHECK(root.local_time("c")->minute_of_day == 540);
  CHECK(root.numbers("d", 2, {0.0, 9.0}) == std::vector<double>{1.0, 2.0});
  CHECK(root.section("e")->number("f", {0.0, 9.0}) == 3.0);
  CHECK(root.flag("g") == true);
  CHECK(root.text("h") == "two words");
  CHECK(root.clock_time("i") == 510);
  CHECK(root.date("j") == make_date(2027, 5, 24));
}

TEST_CASE("The later of two settings holds") {
  CHECK(changed({"risk=0.3", "risk=0.4"}).number("risk", kShare) == 0.4);
}

TEST_CASE("A wrong value names the setting, not a line of the file") {
  CHECK(message_of([] { changed({"risk=3"}).number("risk", kShare, "A share."); }) ==
        "command line: --set risk=3: risk is 3; allowed: 0 to 1\n"
        "  A share.\n");
  CHECK(message_of([] {
          changed({"camp[2].canopy=2"}).sections("camp")[1].number("canopy", kShare);
        }) == "command line: --set camp[2].canopy=2: camp[2].canopy is 2; allowed: 0 to 1\n");
  CHECK_THAT(message_of([] {
               changed({"d=[1, 7]"}).numbers("d", 2, {0.0, 5.0});
             }),
             StartsWith("command line: --set d=[1, 7]: d is 7"));
}

TEST_CASE("A key that nobody knows names the setting and the nearest key") {
  CHECK(message_of([] {
          TomlSection root = changed({"rsk=3"}, "risk = 0.1\n");
          root.number("risk", kShare);
          root.finish();
        }) ==
        "command line: --set rsk=3: rsk is not a known key\n"
        "  Did you mean `risk`?\n");
  CHECK(message_of([] {
          TomlSection root = changed({"batery.health=0.5"}, "");
          root.section("battery");
          root.finish();
        }) ==
        "command line: --set batery.health=0.5: batery is not a known key\n"
        "  Did you mean `battery`?\n");
}

TEST_CASE("Other keys keep their lines") {
  CHECK(message_of([] {
          TomlSection root = changed({"risk=0.3", "camp[2].canopy=0.5", "battery.health=0.5"});
          auto battery = *root.section("battery");
          battery.number("health", kShare);
          battery.finish();
        }) ==
        "plan.toml:8:1: battery.helth is not a known key\n"
        "     8 | helth = 0.8\n"
        "       | ^\n"
        "  Did you mean `health`?\n");
}

TEST_CASE("A table that a setting made is blamed for what it lacks") {
  CHECK_THAT(message_of([] {
               changed({"vehicle.x=1"}).section("vehicle")->required_number("charge_w", kShare);
             }),
             StartsWith("command line: --set vehicle.x=1: vehicle.charge_w is missing"));
}

TEST_CASE("A text that is no setting is refused with what is allowed") {
  CHECK(refusal("risk") ==
        "command line: --set risk: has no `=`; allowed: key=value, such as "
        "battery.start_charge=0.55\n");
  CHECK_THAT(refusal("=3"), Contains("has no key in ``"));
  CHECK_THAT(refusal("battery..health=3"), Contains("has no key in ``"));
  CHECK_THAT(refusal("a b=3"), Contains("has no key in `a b`"));
  CHECK_THAT(refusal("risk="), Contains("has no value"));
  CHECK_THAT(refusal("risk=[1"), Contains("gives `[1`, which is no TOML value"));
  CHECK_THAT(refusal("risk=\"a"), Contains("which is no TOML value"));
  CHECK_THAT(refusal("risk=1\nx = 2"), Contains("which is no TOML value"));
  CHECK_THAT(refusal("camp.canopy=0.3"), Contains("does not say which `camp`; allowed: camp[1]"));
  CHECK_THAT(refusal("camp[4].canopy=0.3"),
             Contains("asks for camp[4] of 2; allowed: 1 to 2, or 3 to add one"));
  CHECK_THAT(refusal("forecast[2].day=3"), Contains("allowed: 1, to add the first"));
  for (const auto* wrong : {"camp[0].canopy=1", "camp[x].canopy=1", "camp[1.canopy=1",
                            "camp[].canopy=1", "camp[-1].canopy=1", "camp[1]x.canopy=1"}) {
    CAPTURE(wrong);
    CHECK_THAT(refusal(wrong), Contains("counted from 1"));
  }
  CHECK_THAT(refusal("camp[1]=3"), Contains("ends in `camp[1]`"));
  CHECK_THAT(refusal("risk.x=3"), Contains("looks for a key in `risk`, which is not a table"));
  CHECK_THAT(refusal("risk[1].x=3"), Contains("counts `risk`, which is not a list"));
}

}  // namespace
}  // namespace dullspell::toml_setting_test
