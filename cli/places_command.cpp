#include <algorithm>
#include <functional>
#include <memory>
#include <optional>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/known_places.hpp"
#include "cli/option_values.hpp"
#include "cli/output/standard_output.hpp"
#include "cli/shared_options.hpp"
#include "cli/terminal.hpp"
#include "reports/places_document.hpp"
#include "reports/text_renderer.hpp"
#include "weather/input/text_pieces.hpp"
#include "weather/towns.hpp"

namespace dullspell {
namespace {

struct PlacesOptions {
  std::string text;
  std::string near;
  std::string count;
  std::string kind;
  UnitsOption units;
};

// A country or a state, by name or code, and of both the state; other texts are sought in ids and
// names.
std::function<bool(const PlaceSummary&)> text_filter(const std::string& text,
                                                     const std::optional<Region>& region) {
  if (region && region->code.empty()) {
    return [code = region->country](const PlaceSummary& p) { return p.country == code; };
  }
  if (region) {
    return [r = *region](const PlaceSummary& p) {
      return p.country == r.country && p.state == r.code;
    };
  }
  return [wanted = in_small_letters(text)](const PlaceSummary& p) {
    return in_small_letters(p.id + " " + p.name).find(wanted) != std::string::npos;
  };
}

std::function<bool(const PlaceSummary&)> kind_filter(const std::string& word) {
  if (word.empty()) return [](const PlaceSummary&) { return true; };
  return
      [kind = kind_of_record("--kind", word)](const PlaceSummary& p) { return p.record == kind; };
}

// Towns by the text, those nearest first if a place is given, else those of most people; without a
// text those around the place.
std::vector<Town> towns_of(const PlacesOptions& options, const Coordinates& near) {
  constexpr std::size_t kShown = 10, kAround = 3;
  const TownTable& table = TownTable::built_in();
  if (options.text.empty()) {
    return options.near.empty() ? std::vector<Town>{} : table.around(near, kAround);
  }
  std::vector<Town> towns = table.resembling(options.text, std::size_t(-1));
  if (!options.near.empty()) {
    std::stable_sort(towns.begin(), towns.end(), [&](const Town& a, const Town& b) {
      return distance_km(near, a.where) < distance_km(near, b.where);
    });
  }
  towns.resize(std::min(towns.size(), kShown));
  return towns;
}

ExitCode list_places(const PlacesOptions& options) {
  const Units units = options.units.units();
  const PlaceCatalogue& catalogue = known_places();
  const bool by_distance = !options.near.empty();
  std::vector<NearbyPlace> places;
  const Coordinates centre = by_distance ? whereabouts("--near", options.near) : Coordinates{};
  const auto region =
      options.text.empty() ? std::nullopt : TownTable::built_in().region(options.text);
  if (by_distance) {
    places = catalogue.by_distance(centre);
  } else {
    for (const auto& p : catalogue.places()) places.push_back({&p, 0.0});
  }
  const auto named = text_filter(options.text, region);
  const auto of_kind = kind_filter(options.kind);
  std::erase_if(places, [&](const NearbyPlace& near) { return !named(*near.place); });
  // Kinds are those of built-in places, states and countries have towns without end.
  const std::vector<Town> towns =
      region || !options.kind.empty() ? std::vector<Town>{} : towns_of(options, centre);
  if (places.empty() && towns.empty()) {
    refuse_option("TEXT",
                  fmt::format("`{}` is in no place's id or name, and no town's", options.text),
                  "part of a name, e.g. `tahoe`, or a state or country, e.g. `UT` or `austria`",
                  region ? "There are towns there: type one with its state or country."
                         : find_town(TownTable::built_in(), options.text).fix);
  }
  std::erase_if(places, [&](const NearbyPlace& near) { return !of_kind(*near.place); });
  if (places.empty() && towns.empty()) {
    refuse_option("--kind", fmt::format("leaves no place: none of those found is {}", options.kind),
                  "measured, typical-year, monthly-means or estimated",
                  "Leave it out to see them.");
  }
  const std::size_t usual = by_distance ? 10 : places.size();
  const std::size_t count =
      options.count.empty()
          ? usual
          : static_cast<std::size_t>(whole_number("--count", options.count, 1, 100000));
  places.resize(std::min(places.size(), count));
  const Distances distances = by_distance ? Distances::shown : Distances::left_out;
  write_text(standard_output(), places_document(places, towns, distances, units),
             standard_output_style());
  return ExitCode::done;
}

}  // namespace

Command places_command() {
  Command command{.name = "places", .question = "Which places are built in, and which is nearest?"};
  auto options = std::make_shared<PlacesOptions>();
  command.options.push_back({.name = "TEXT",
                             .kept = &options->text,
                             .help = "Only places with this in their name, built-in ones and "
                                     "towns; or those of a state or country, by name or code"});
  command.options.push_back(
      {.name = "--near",
       .kept = &options->near,
       .help = "Nearest first, with distances, from LAT,LON (north and east positive) or a town"});
  command.options.push_back(
      {.name = "--kind",
       .kept = &options->kind,
       .help = "Only measured, typical-year, monthly-means or estimated places",
       .takes = "measured|typical-year|monthly-means|estimated"});
  command.options.push_back({.name = "--count",
                             .kept = &options->count,
                             .help = "How many to list (default: all, 10 with --near)"});
  options->units.add_to(command);
  command.footer =
      "Examples:\n"
      "  dullspell places tahoe\n"
      "  dullspell places UT\n"
      "  dullspell places springfield --near \"Moab, UT\"\n"
      "  dullspell places --near 41.8,-124.1\n"
      "  dullspell places --kind measured\n"
      "A plan's `place` takes an id of the first column, a town\n"
      "as it is written here, or coordinates.";
  command.run = [options] { return list_places(*options); };
  return command;
}

}  // namespace dullspell
