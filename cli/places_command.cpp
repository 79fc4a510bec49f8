#include <algorithm>
#include <iostream>
#include <memory>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/shared_options.hpp"
#include "reports/places_report.hpp"

namespace dullspell {
namespace {

struct PlacesOptions {
  std::string text;
  std::string near;
  std::string count;
};

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : static_cast<char>(c);
  });
  return text;
}

ExitCode list_places(const PlacesOptions& options) {
  const PlaceCatalogue& catalogue = PlaceCatalogue::built_in();
  const bool by_distance = !options.near.empty();
  std::vector<NearbyPlace> places;
  if (by_distance) {
    places = catalogue.by_distance(coordinates("--near", options.near));
  } else {
    for (const auto& p : catalogue.places()) places.push_back({&p, 0.0});
  }
  const std::string wanted = lower(options.text);
  std::erase_if(places, [&](const NearbyPlace& near) {
    return lower(near.place->id + " " + near.place->name).find(wanted) == std::string::npos;
  });
  const std::size_t usual = by_distance ? 10 : places.size();
  const std::size_t count =
      options.count.empty()
          ? usual
          : static_cast<std::size_t>(whole_number("--count", options.count, 1, 100000));
  if (places.empty()) {
    refuse_option("TEXT", fmt::format("`{}` is in no place's id or name", options.text),
                  "part of an id or name, e.g. `tahoe` or `, UT`",
                  "`dullspell places --near LAT,LON` finds the nearest ones.");
  }
  places.resize(std::min(places.size(), count));
  write_places(std::cout, places, by_distance);
  return ExitCode::done;
}

}  // namespace

void add_places_command(CLI::App& app, ExitCode& exit) {
  auto* command = app.add_subcommand("places", "Which places are built in, and which is nearest?");
  auto options = std::make_shared<PlacesOptions>();
  command->add_option("TEXT", options->text, "Only places with this in their id or name");
  command->add_option("--near", options->near,
                      "Nearest first, with distances, from LAT,LON (north and east positive)");
  command->add_option("--count", options->count, "How many to list (default: all, 10 with --near)");
  command->footer(
      "Examples:\n"
      "  dullspell places tahoe\n"
      "  dullspell places --near 41.8,-124.1\n"
      "The id in the first column is what a plan's `place` takes.");
  command->callback([options, &exit] { exit = list_places(*options); });
}

}  // namespace dullspell
