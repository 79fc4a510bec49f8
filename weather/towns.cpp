#include "weather/towns.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <iterator>
#include <memory>
#include <utility>

#include <fmt/format.h>
#include <utf8proc.h>

#include "weather/embedded_file.hpp"
#include "weather/input/csv_table.hpp"
#include "weather/input/nearest_word.hpp"
#include "weather/input/parsed_number.hpp"
#include "weather/input/text_pieces.hpp"

DULLSPELL_EMBED(dullspell_towns, DULLSPELL_TOWNS_FOLDER "/towns.tsv");
DULLSPELL_EMBED(dullspell_town_regions, DULLSPELL_TOWNS_FOLDER "/regions.tsv");

namespace dullspell {
namespace {

// Letters without a plain one within them; datasets/make_towns.py knows the same.
constexpr std::pair<std::string_view, std::string_view> kPlain[]{
    {"ø", "o"},  {"ł", "l"},  {"đ", "d"},  {"ð", "d"},  {"ı", "i"}, {"ħ", "h"}, {"ŧ", "t"},
    {"ß", "ss"}, {"æ", "ae"}, {"œ", "oe"}, {"þ", "th"}, {"ə", "a"}, {"ŋ", "n"}, {"ĸ", "k"}};

// Within a word they are not even a blank.
constexpr std::string_view kDropped[]{"'", ".", "`", "’", "‘", "ʻ", "ʼ"};

bool is_ascii(std::string_view text) {
  return std::all_of(text.begin(), text.end(),
                     [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

// Case and accents taken away, as Unicode says.
std::string without_accents(std::string_view text) {
  std::uint8_t* out = nullptr;
  const auto options = static_cast<utf8proc_option_t>(UTF8PROC_DECOMPOSE | UTF8PROC_COMPAT |
                                                      UTF8PROC_CASEFOLD | UTF8PROC_STRIPMARK);
  const utf8proc_ssize_t size =
      utf8proc_map(reinterpret_cast<const std::uint8_t*>(text.data()),
                   static_cast<utf8proc_ssize_t>(text.size()), &out, options);
  if (size < 0) return std::string(text);
  const std::unique_ptr<std::uint8_t, decltype(&std::free)> owner(out, &std::free);
  return {reinterpret_cast<const char*>(out), static_cast<std::size_t>(size)};
}

template <class Table>
auto beginning(const Table& table, std::string_view text) {
  return std::find_if(std::begin(table), std::end(table),
                      [&](const auto& entry) { return text.starts_with(entry); });
}

constexpr double kDegree_km = 111.0;  // of latitude, and a little less

std::string_view next_cell(std::string_view& line) {
  return cut_piece(line, '\t');
}

std::string_view first_line(std::string_view lines) {
  return lines.substr(0, lines.find('\n'));
}

std::string_view name_of(std::string_view line) {
  return next_cell(line);
}

Town town_of(std::string_view line) {
  Town town;
  town.name = next_cell(line);
  town.country = next_cell(line);
  town.region = next_cell(line);
  const auto number = [&] { return parsed_number(next_cell(line)).value_or(0.0); };
  town.where.latitude_deg = number();
  town.where.longitude_deg = number();
  town.elevation_m = number();
  town.people = 100.0 * number();
  return town;
}

template <class Visit>
void for_each_line(std::string_view lines, Visit visit) {
  while (!lines.empty()) {
    if (const std::string_view line = cut_piece(lines, '\n'); !line.empty()) visit(line);
  }
}

// "Halle" and "Germany" of "Halle, Germany".
std::pair<std::string, std::vector<std::string>> name_and_narrower(std::string_view text) {
  std::vector<std::string> parts;
  do {
    std::string part = folded_name(cut_piece(text, ','));
    if (!part.empty() || parts.empty()) parts.push_back(std::move(part));
  } while (!text.empty());
  std::string name = parts.front();
  parts.erase(parts.begin());
  return {name, parts};
}

bool holds_as_word(std::string_view name, std::string_view wanted) {
  const std::size_t at = (" " + std::string(name)).find(" " + std::string(wanted));
  return !wanted.empty() && at != std::string::npos;
}

void sort_by_people(std::vector<Town>& towns) {
  std::stable_sort(towns.begin(), towns.end(),
                   [](const Town& a, const Town& b) { return a.people > b.people; });
}

bool is_called(const Region& region, std::string_view folded) {
  return folded_name(region.name) == folded ||
         folded_name(region.code.empty() ? region.country : region.code) == folded;
}

}  // namespace

std::string folded_name(std::string_view name) {
  const std::string letters = is_ascii(name) ? std::string(name) : without_accents(name);
  std::string out;
  bool blank = false;
  const auto add = [&](std::string_view plain) {
    if (blank && !out.empty()) out += ' ';
    blank = false;
    out += plain;
  };
  for (std::string_view rest = letters; !rest.empty();) {
    const char c = rest.front();
    const auto plain = std::find_if(std::begin(kPlain), std::end(kPlain),
                                    [&](const auto& p) { return rest.starts_with(p.first); });
    if (c >= 'A' && c <= 'Z') {
      add(std::string(1, static_cast<char>(c - 'A' + 'a')));
    } else if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
      add(rest.substr(0, 1));
    } else if (plain != std::end(kPlain)) {
      add(plain->second);
      rest.remove_prefix(plain->first.size());
      continue;
    } else if (const auto dropped = beginning(kDropped, rest); dropped != std::end(kDropped)) {
      rest.remove_prefix(dropped->size());
      continue;
    } else {
      blank = true;
    }
    rest.remove_prefix(1);
  }
  return out;
}

TownTable::TownTable(std::string_view towns, const SourceText& regions) : lines_(towns) {
  while (lines_.starts_with('#')) cut_piece(lines_, '\n');
  cut_piece(lines_, '\n');  // the head
  CsvTable table(regions, CsvDelimiter::tab, {"country", "region", "name"});
  while (table.next()) {
    regions_.push_back(
        {std::string(table.text(0)), std::string(table.text(1)), std::string(table.text(2))});
  }
}

const TownTable& TownTable::built_in() {
  static const TownTable table(
      std::string_view(dullspell_towns_begin,
                       static_cast<std::size_t>(dullspell_towns_end - dullspell_towns_begin)),
      {"built-in regions", {dullspell_town_regions_begin, dullspell_town_regions_end}});
  return table;
}

const Region* TownTable::find_region(std::string_view country, std::string_view code) const {
  const auto it = std::find_if(regions_.begin(), regions_.end(), [&](const Region& r) {
    return r.country == country && r.code == code;
  });
  return it == regions_.end() ? nullptr : &*it;
}

bool TownTable::is_within(const Town& town, std::string_view narrower) const {
  if (folded_name(town.country) == narrower || folded_name(town.region) == narrower) return true;
  const Region* country = find_region(town.country, "");
  if (country && folded_name(country->name) == narrower) return true;
  const Region* region = town.region.empty() ? nullptr : find_region(town.country, town.region);
  if (region && folded_name(region->name) == narrower) return true;
  // As people say them.
  if (town.country == "US") return narrower == "usa" || narrower == "america";
  return town.country == "GB" && (narrower == "uk" || narrower == "england" ||
                                  narrower == "scotland" || narrower == "wales");
}

std::vector<Town> TownTable::named(std::string_view text) const {
  const auto [name, narrower] = name_and_narrower(text);
  // The first line whose name is not before it.
  std::size_t low = 0, high = lines_.size();
  while (low < high) {
    const std::size_t middle = low + (high - low) / 2;
    const std::size_t before = lines_.rfind('\n', middle);
    const std::size_t begin = before == std::string_view::npos || before < low ? low : before + 1;
    const std::string_view line = first_line(lines_.substr(begin));
    if (folded_name(name_of(line)) < name) {
      low = std::min(begin + line.size() + 1, lines_.size());
    } else {
      high = begin;
    }
  }
  std::vector<Town> found;
  for (std::string_view rest = lines_.substr(low); !rest.empty();) {
    const std::string_view line = cut_piece(rest, '\n');
    if (folded_name(name_of(line)) != name) break;
    Town town = town_of(line);
    if (std::all_of(narrower.begin(), narrower.end(),
                    [&](const auto& word) { return is_within(town, word); })) {
      found.push_back(std::move(town));
    }
  }
  return found;
}

std::vector<Town> TownTable::resembling(std::string_view text, std::size_t count) const {
  const auto [name, narrower] = name_and_narrower(text);
  std::vector<Town> found;
  for_each_line(lines_, [&, &name = name, &narrower = narrower](std::string_view line) {
    if (!holds_as_word(folded_name(name_of(line)), name)) return;
    Town town = town_of(line);
    if (std::all_of(narrower.begin(), narrower.end(),
                    [&](const auto& word) { return is_within(town, word); })) {
      found.push_back(std::move(town));
    }
  });
  sort_by_people(found);
  found.resize(std::min(found.size(), count));
  return found;
}

std::vector<Town> TownTable::misspelled(std::string_view text) const {
  const auto [name, narrower] = name_and_narrower(text);
  std::vector<std::string> names;
  for_each_line(lines_, [&](std::string_view line) {
    std::string known = folded_name(name_of(line));
    if (names.empty() || names.back() != known) names.push_back(std::move(known));
  });
  const auto near = nearest_word(name, names);
  if (!near) return {};
  std::string again = *near;
  for (const std::string& word : narrower) again += "," + word;
  return named(again);
}

std::vector<Town> TownTable::around(const Coordinates& where, std::size_t count) const {
  std::vector<Town> towns;
  // What lies farther north or south than the farthest kept is not measured.
  const auto nearer = [&](const Town& a, const Town& b) {
    return distance_km(where, a.where) < distance_km(where, b.where);
  };
  double farthest_km = 1e9;
  for_each_line(lines_, [&](std::string_view line) {
    Town town = town_of(line);
    const double north_km = kDegree_km * (town.where.latitude_deg - where.latitude_deg);
    if (std::max(north_km, -north_km) > farthest_km) return;
    const auto at = std::upper_bound(towns.begin(), towns.end(), town, nearer);
    towns.insert(at, std::move(town));
    if (towns.size() > count) towns.pop_back();
    if (towns.size() == count) farthest_km = distance_km(where, towns.back().where) + 1.0;
  });
  return towns;
}

std::vector<Coordinates> TownTable::towns_of(std::string_view country) const {
  std::vector<Coordinates> out;
  for_each_line(lines_, [&](std::string_view line) {
    if (const Town town = town_of(line); town.country == country) out.push_back(town.where);
  });
  return out;
}

std::vector<std::string> TownTable::countries_at(const std::vector<Coordinates>& places) const {
  if (places.empty()) return {};
  struct Seat {
    Coordinates where;
    std::string country;
  };
  std::vector<Seat> towns;
  for_each_line(lines_, [&](std::string_view line) {
    Town town = town_of(line);
    towns.push_back({town.where, std::move(town.country)});
  });
  const auto south = [](const Seat& a, const Seat& b) {
    return a.where.latitude_deg < b.where.latitude_deg;
  };
  std::sort(towns.begin(), towns.end(), south);
  std::vector<std::string> out;
  for (const Coordinates& place : places) {
    // From the place's own latitude to the north and to the south, as far as may be nearer.
    const auto middle = std::lower_bound(towns.begin(), towns.end(), Seat{place, {}}, south);
    const Seat* nearest = nullptr;
    double least_km = 1e9;
    const auto visit = [&](const Seat& town) {
      const double north_km = kDegree_km * std::abs(town.where.latitude_deg - place.latitude_deg);
      if (north_km > least_km) return false;
      if (const double km = distance_km(place, town.where); km < least_km) {
        least_km = km;
        nearest = &town;
      }
      return true;
    };
    for (auto it = middle; it != towns.end() && visit(*it); ++it) {
    }
    for (auto it = middle; it != towns.begin() && visit(*std::prev(it)); --it) {
    }
    out.push_back(nearest ? nearest->country : std::string());
  }
  return out;
}

std::optional<Region> TownTable::region(std::string_view text) const {
  const std::string wanted = folded_name(text);
  const auto state = std::find_if(regions_.begin(), regions_.end(), [&](const Region& r) {
    return !r.code.empty() && is_called(r, wanted);
  });
  if (state != regions_.end()) return *state;
  return country(text);
}

std::optional<Region> TownTable::country(std::string_view text) const {
  const std::string wanted = folded_name(text);
  const auto found = std::find_if(regions_.begin(), regions_.end(), [&](const Region& r) {
    return r.code.empty() && is_called(r, wanted);
  });
  if (found != regions_.end()) return *found;
  return std::nullopt;
}

std::string TownTable::name_to_type(const Town& town) const {
  const bool code = !town.region.empty() && find_region(town.country, town.region) != nullptr;
  const Region* country = find_region(town.country, "");
  std::string out = town.name + (town.region.empty() ? "" : ", " + town.region);
  return code ? out : out + ", " + (country ? country->name : town.country);
}

std::string TownTable::full_name(const Town& town) const {
  std::string out = town.name;
  if (!town.region.empty()) {
    const bool code = find_region(town.country, town.region) != nullptr;
    out += code ? ", " + town.region : " (region of " + town.region + ")";
  }
  const Region* country = find_region(town.country, "");
  return out + ", " + (country ? country->name : town.country);
}

FoundTown find_town(const TownTable& towns, std::string_view text) {
  constexpr std::size_t kNamed = 6;
  const auto list = [&](const std::vector<Town>& candidates) {
    std::vector<std::string> names;
    for (const Town& town : candidates) {
      if (names.size() == kNamed) break;
      names.push_back(fmt::format("\"{}\" ({:.2f},{:.2f})", towns.name_to_type(town),
                                  town.where.latitude_deg, town.where.longitude_deg));
    }
    return fmt::format(
        "{}{}", fmt::join(names, ", "),
        candidates.size() > kNamed ? fmt::format(" and {} more", candidates.size() - kNamed) : "");
  };
  std::vector<Town> found = towns.named(text);
  // "Boone NC", without its comma.
  for (std::size_t blank = text.rfind(' ');
       found.empty() && blank != std::string_view::npos && blank > 0;
       blank = text.rfind(' ', blank - 1)) {
    if (!towns.region(text.substr(blank + 1))) continue;
    found = towns.named(fmt::format("{},{}", text.substr(0, blank), text.substr(blank + 1)));
  }
  // The Lisbon that people mean, beside its namesakes.
  constexpr double kFarLarger = 30.0;
  if (found.size() == 1 || (!found.empty() && found[0].people >= kFarLarger * found[1].people)) {
    return {found.front(), {}, {}};
  }
  if (!found.empty()) {
    return {{},
            fmt::format("is the name of {} towns", found.size()),
            "Say which: " + list(found) + "; or give its latitude and longitude.",
            true};
  }
  std::vector<Town> likely = towns.resembling(text, kNamed);
  if (likely.empty()) likely = towns.misspelled(text);
  return {
      {}, "is no town that is known", likely.empty() ? "" : "Did you mean " + list(likely) + "?"};
}

}  // namespace dullspell
