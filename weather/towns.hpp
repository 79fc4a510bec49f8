#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "weather/input/source_text.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {

/// A town as a gazetteer tells of it.
struct Town {
  std::string name;
  std::string country;  ///< ISO 3166-1, two letters
  std::string region;   ///< code of a state or province, or its seat; empty where the name will do
  Coordinates where{};  ///< to 0.01 degrees, some km
  double elevation_m = 0.0;
  double people = 0.0;  ///< to a hundred
};

/// A country, or a state or province of one.
struct Region {
  std::string country;
  std::string code;  ///< of the state or province; empty for the country
  std::string name;
};

/// A name as it is compared: small letters without accents, and digits; words a blank apart.
std::string folded_name(std::string_view name);

/// Towns of the world by their names. Names are compared folded, see folded_name().
class TownTable {
 public:
  /// `towns`: tab-separated lines after a head, columns name, country, region, latitude, longitude,
  /// elevation_m, people in hundreds, sorted by folded name and then by people, most first; they
  /// must outlive the table and be good. `regions`: tab-separated, columns country, region, name.
  /// Throws InputError for a bad table of regions.
  TownTable(std::string_view towns, const SourceText& regions);
  TownTable(const TownTable&) = delete;
  TownTable& operator=(const TownTable&) = delete;

  /// The table that the program carries.
  static const TownTable& built_in();

  /// Towns of that name, most people first. What follows a comma narrows them down: a country or a
  /// state by name or code, or the region's seat: "Moab, UT", "Halle, Germany".
  std::vector<Town> named(std::string_view text) const;

  /// Towns whose names begin with that of `text` or hold it as a word, most people first; narrowed
  /// down alike.
  std::vector<Town> resembling(std::string_view text, std::size_t count) const;

  /// Towns of the name nearest to a misspelled one, most people first; narrowed down alike.
  std::vector<Town> misspelled(std::string_view text) const;

  /// The nearest ones.
  std::vector<Town> around(const Coordinates& where, std::size_t count) const;

  /// Where a country's towns are.
  std::vector<Coordinates> towns_of(std::string_view country) const;

  /// The country of the town that is nearest to each place.
  std::vector<std::string> countries_at(const std::vector<Coordinates>& places) const;

  /// The state or country of that code or name; of both a state. Nothing for other words.
  std::optional<Region> region(std::string_view text) const;

  /// The country of that code or name.
  std::optional<Region> country(std::string_view text) const;

  /// "Moab, UT, United States".
  std::string full_name(const Town& town) const;

  /// As named() takes it: "Moab, UT", "Halle, Düsseldorf, Germany".
  std::string name_to_type(const Town& town) const;

 private:
  bool is_within(const Town& town, std::string_view narrower) const;
  const Region* find_region(std::string_view country, std::string_view code) const;

  std::string_view lines_;  // of towns, without the head
  std::vector<Region> regions_;
};

/// The town of a name that somebody typed, one of several only if it has 30 times as many people as
/// the next; or what to say of it.
struct FoundTown {
  std::optional<Town> town;
  std::string problem;   ///< "is the name of 12 towns"
  std::string fix;       ///< "Say which: ..." or "Did you mean ...?"; may be empty
  bool several = false;  ///< several towns are called so
};

FoundTown find_town(const TownTable& towns, std::string_view text);

}  // namespace dullspell
