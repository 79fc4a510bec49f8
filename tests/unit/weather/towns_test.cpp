#include "weather/towns.hpp"

#include <algorithm>

#include <catch2/catch.hpp>

#include "tests/support/run_program.hpp"

using namespace dullspell;
using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

const SourceText kRegions{"regions",
                          "country\tregion\tname\nDE\t\tGermany\nUS\t\tUnited States\n"
                          "US\tUT\tUtah\nUS\tME\tMaine\n"};
constexpr std::string_view kTowns =
    "# invented\nname\tcountry\tregion\tlatitude\tlongitude\televation_m\tpeople\n"
    "Aue\tDE\t\t50.60\t12.70\t340\t160\n"
    "Lone Pine\tUS\tUT\t38.50\t-109.50\t1200\t52\n"
    "Lone Pine\tUS\tME\t44.00\t-70.00\t80\t31\n"
    "Lone Pine Hill\tUS\tME\t44.10\t-70.10\t90\t900\n"
    "Überlingen\tDE\tKonstanz\t47.77\t9.17\t403\t220\n";

std::vector<std::string> names(const std::vector<Town>& towns) {
  std::vector<std::string> out;
  for (const Town& town : towns) out.push_back(town.name + "/" + town.region);
  return out;
}

using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("names are compared without case, accents and marks") {
  CHECK(folded_name("São João d'El-Rei") == "sao joao del rei");
  CHECK(folded_name("St. Moritz") == "st moritz");
  CHECK(folded_name("Łódź") == "lodz");
  CHECK(folded_name("Tromsø") == "tromso");
  CHECK(folded_name("Großglockner") == "grossglockner");
  CHECK(folded_name("  MOAB ") == "moab");
  CHECK(folded_name("") == "");
  CHECK(folded_name("\xff\xfe").empty());
}

TEST_CASE("a town is found by its name, and what follows a comma narrows it down") {
  const TownTable table(kTowns, kRegions);
  CHECK(names(table.named("lone pine")) == Names{"Lone Pine/UT", "Lone Pine/ME"});
  CHECK(names(table.named("Lone Pine, UT")) == Names{"Lone Pine/UT"});
  CHECK(names(table.named("LONE PINE,maine , usa")) == Names{"Lone Pine/ME"});
  CHECK(table.named("Lone Pine, Germany").empty());
  CHECK(names(table.named("uberlingen")) == Names{"Überlingen/Konstanz"});
  CHECK(names(table.named("Überlingen, Konstanz, Germany")) == Names{"Überlingen/Konstanz"});
  CHECK(names(table.named("Aue")) == Names{"Aue/"});
  CHECK(table.named("").empty());
  CHECK(table.named("zzz").empty());
  CHECK(table.named("Lone").empty());
  const Town town = table.named("Lone Pine, UT").front();
  CHECK(town.where.latitude_deg == 38.5);
  CHECK(town.where.longitude_deg == -109.5);
  CHECK(town.elevation_m == 1200.0);
  CHECK(town.people == 5200.0);
  CHECK(table.name_to_type(town) == "Lone Pine, UT");
  CHECK(table.full_name(town) == "Lone Pine, UT, United States");
  CHECK(table.name_to_type(table.named("Aue").front()) == "Aue, Germany");
  CHECK(table.name_to_type(table.named("Uberlingen").front()) == "Überlingen, Konstanz, Germany");
}

TEST_CASE("towns that resemble a word, those nearest to a slip, and those around a place") {
  const TownTable table(kTowns, kRegions);
  CHECK(names(table.resembling("pine", 9)) ==
        Names{"Lone Pine Hill/ME", "Lone Pine/UT", "Lone Pine/ME"});
  CHECK(names(table.resembling("pine, ut", 9)) == Names{"Lone Pine/UT"});
  CHECK(names(table.resembling("pine", 1)) == Names{"Lone Pine Hill/ME"});
  CHECK(table.resembling("ine", 9).empty());
  CHECK(names(table.misspelled("Lone Pin, UT")) == Names{"Lone Pine/UT"});
  CHECK(table.misspelled("Quetzaltenango").empty());
  CHECK(names(table.around({44.02, -70.0}, 2)) == Names{"Lone Pine/ME", "Lone Pine Hill/ME"});
}

TEST_CASE("a name that is no town's, or several towns', says what to type") {
  const TownTable table(kTowns, kRegions);
  CHECK(find_town(table, "Aue").town->name == "Aue");
  CHECK(find_town(table, "Lone Pine UT").town->region == "UT");
  CHECK(find_town(table, "lone pine united states").problem == "is the name of 2 towns");
  const FoundTown several = find_town(table, "Lone Pine");
  CHECK_FALSE(several.town);
  CHECK(several.problem == "is the name of 2 towns");
  CHECK_THAT(several.fix, StartsWith("Say which: \"Lone Pine, UT\" (38.50,-109.50), \"Lone Pine, "
                                     "ME\" (44.00,-70.00)"));
  CHECK(find_town(table, "Aua").fix == "Did you mean \"Aue, Germany\" (50.60,12.70)?");
  CHECK(find_town(table, "Quetzaltenango").fix.empty());
  CHECK(find_town(TownTable::built_in(), "Lisbon").town->country == "PT");
  CHECK_FALSE(find_town(TownTable::built_in(), "Portland").town);
}

TEST_CASE("a word is a state before it is a country, by code or name") {
  const TownTable table(kTowns, kRegions);
  CHECK(table.region("ut")->code == "UT");
  CHECK(table.region("Maine")->code == "ME");
  CHECK(table.region("germany")->country == "DE");
  CHECK(table.region("DE")->code.empty());
  CHECK_FALSE(table.region("Lone Pine"));
  const TownTable& all = TownTable::built_in();
  CHECK(all.region("AZ")->name == "Arizona");
  CHECK(all.region("Azerbaijan")->country == "AZ");
}

TEST_CASE("the program's towns are sorted, so that each is found by its name") {
  const std::string text = text_of(project_file("datasets/towns/towns.tsv"));
  const TownTable& table = TownTable::built_in();
  std::string last;
  std::size_t at = 0, lines = 0, checked = 0;
  while (text[at] == '#') at = text.find('\n', at) + 1;
  at = text.find('\n', at) + 1;
  for (; at < text.size(); at = text.find('\n', at) + 1) {
    const std::string name = text.substr(at, text.find('\t', at) - at);
    const std::string folded = folded_name(name);
    if (folded < last) FAIL_CHECK(name << " stands after " << last);
    last = folded;
    // A prime, so that it is not always the same letter's.
    if (++lines % 997 != 0) continue;
    const auto found = table.named(name);
    CHECK(std::any_of(found.begin(), found.end(), [&](const Town& t) { return t.name == name; }));
    ++checked;
  }
  CHECK(lines > 100'000);
  CHECK(checked > 100);
}

TEST_CASE("towns are where atlases have them") {
  // Coordinates and heights from memory, to a tenth of a degree and 100 m.
  struct Known {
    const char* name;
    double latitude_deg, longitude_deg, elevation_m;
  };
  for (const Known& known : {Known{"Moab, Utah", 38.57, -109.55, 1230.0},
                             {"Innsbruck", 47.27, 11.39, 575.0},
                             {"Queenstown, New Zealand", -45.03, 168.66, 310.0},
                             {"Ushuaia", -54.80, -68.30, 20.0},
                             {"Reykjavík", 64.14, -21.90, 30.0},
                             {"Whitehorse, YT", 60.72, -135.05, 670.0},
                             {"Windhoek", -22.56, 17.08, 1660.0}}) {
    CAPTURE(known.name);
    const auto found = TownTable::built_in().named(known.name);
    REQUIRE(found.size() == 1);
    CHECK(found[0].where.latitude_deg == Approx(known.latitude_deg).margin(0.1));
    CHECK(found[0].where.longitude_deg == Approx(known.longitude_deg).margin(0.1));
    CHECK(found[0].elevation_m == Approx(known.elevation_m).margin(100.0));
  }
}
