#include <algorithm>
#include <functional>
#include <memory>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/known_places.hpp"
#include "cli/option_values.hpp"
#include "cli/output/standard_output.hpp"
#include "cli/shared_options.hpp"
#include "cli/terminal.hpp"
#include "reports/places_document.hpp"
#include "reports/text_renderer.hpp"

namespace dullspell {
namespace {

struct PlacesOptions {
  std::string text;
  std::string near;
  std::string count;
  std::string kind;
  UnitsOption units;
};

// Two capital letters are a country or a state; other texts are sought in ids and names.
std::function<bool(const PlaceSummary&)> text_filter(const std::string& text) {
  const auto capital = [](char c) { return c >= 'A' && c <= 'Z'; };
  if (text.size() == 2 && capital(text[0]) && capital(text[1])) {
    return [text](const PlaceSummary& p) { return p.country == text || p.state == text; };
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

ExitCode list_places(const PlacesOptions& options) {
  const Units units = options.units.units();
  const PlaceCatalogue& catalogue = known_places();
  const bool by_distance = !options.near.empty();
  std::vector<NearbyPlace> places;
  if (by_distance) {
    places = catalogue.by_distance(coordinates("--near", options.near));
  } else {
    for (const auto& p : catalogue.places()) places.push_back({&p, 0.0});
  }
  const auto named = text_filter(options.text);
  const auto of_kind = kind_filter(options.kind);
  std::erase_if(places, [&](const NearbyPlace& near) { return !named(*near.place); });
  if (places.empty()) {
    refuse_option(
        "TEXT", fmt::format("`{}` is in no place's id or name", options.text),
        "part of an id or name, e.g. `tahoe` or `austria`, or the two capital letters of a "
        "country or state",
        "`dullspell places --near LAT,LON` finds the nearest ones.");
  }
  std::erase_if(places, [&](const NearbyPlace& near) { return !of_kind(*near.place); });
  if (places.empty()) {
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
  write_text(standard_output(), places_document(places, distances, units), standard_output_style());
  return ExitCode::done;
}

}  // namespace

Command places_command() {
  Command command{.name = "places", .question = "Which places are built in, and which is nearest?"};
  auto options = std::make_shared<PlacesOptions>();
  command.options.push_back({.name = "TEXT",
                             .kept = &options->text,
                             .help = "Only places with this in their id or name; two capital "
                                     "letters are a country or state"});
  command.options.push_back(
      {.name = "--near",
       .kept = &options->near,
       .help = "Nearest first, with distances, from LAT,LON (north and east positive)"});
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
      "  dullspell places --near 41.8,-124.1\n"
      "  dullspell places --kind measured\n"
      "With --near, places without temperatures count as 100 km (62 mi) farther, as where a\n"
      "plan gives coordinates. The id in the first column is what a plan's `place` takes.";
  command.run = [options] { return list_places(*options); };
  return command;
}

}  // namespace dullspell
