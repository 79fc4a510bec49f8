#include <cmath>
#include <cstdint>
#include <memory>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/known_places.hpp"
#include "cli/option_values.hpp"
#include "cli/output/standard_output.hpp"
#include "cli/shared_options.hpp"
#include "cli/terminal.hpp"
#include "reports/csv_writer.hpp"
#include "reports/places_document.hpp"
#include "reports/text_renderer.hpp"
#include "weather/day_sequence.hpp"
#include "weather/place_blend.hpp"
#include "weather/place_file.hpp"
#include "weather/temperature.hpp"
#include "weather/towns.hpp"

namespace dullspell {
namespace {

struct WeatherOptions {
  std::string place;
  std::string days;
  std::string from = "2027-01-01";
  std::string stays = "1";
  std::string seed = "1";
  UnitsOption units;
};

// A place file, an id, coordinates or a town, as plans use them.
Place find_place(const std::string& name) {
  const PlaceBlend& blend = PlaceBlend::built_in();
  if (names_place_file(name)) return blend.with_temperatures(read_place_file(name));
  const PlaceCatalogue& catalogue = known_places();
  if (auto place = catalogue.place(name)) return blend.as_used(std::move(*place));
  if (name.find_first_not_of("+-.,0123456789 ") == std::string::npos) {
    return blend.named(name, coordinates("PLACE", name), {});
  }
  const FoundTown found = find_town(TownTable::built_in(), name);
  if (found.town) {
    return blend.named(TownTable::built_in().full_name(*found.town), found.town->where,
                       found.town->elevation_m);
  }
  const auto near = catalogue.nearest_id(name);
  refuse_option("PLACE", fmt::format("is `{}`, which {}", name, found.problem),
                "a town, LAT,LON, an id that `dullspell places` lists, or a place file (.toml)",
                found.several || !near ? found.fix : fmt::format("Did you mean `{}`?", *near));
}

void write_days(const Place& place, const WeatherOptions& options) {
  const int days = static_cast<int>(whole_number("--days", options.days, 1, 3660));
  const auto stays =
      static_cast<std::uint32_t>(whole_number("--stays", options.stays, 1, 1'000'000));
  const std::uint64_t seed = whole_number("--seed", options.seed, 0, UINT64_MAX);
  const Date first = calendar_date("--from", options.from);

  const PlaceClimate climate(place);
  std::vector<DateClimate> dates;
  std::vector<DayLink> links;
  for (int d = 0; d < days; ++d) {
    dates.push_back(climate.on(first + std::chrono::days{d}));
    links.push_back(day_link(dates.back()));
  }
  const DaySequence sequence(std::move(links));
  std::vector<DayDeviates> drawn(dates.size());
  CsvWriter csv(standard_output(), "stay,date,k,ghi_kwh_m2,temp_mean_c,temp_max_c,temp_min_c");
  for (std::uint32_t stay = 0; stay < stays; ++stay) {
    sequence.draw(seed, stay, drawn);
    for (std::size_t d = 0; d < dates.size(); ++d) {
      const Date date = first + std::chrono::days{d};
      const DateClimate& day = dates[d];
      const double k = day.k_of_chi(drawn[d].chi);
      csv.cells(stay, iso_date(date)).fixed(k, 4);
      csv.fixed(k * extraterrestrial_of_date_wh_m2(date, place.where) / 1000.0, 3);
      const double rho = day.temp_k_correlation.value;
      const double mean_c =
          day.temp_mean_c.value +
          day.temp_sd_c.value *
              (rho * drawn[d].chi + std::sqrt(1.0 - rho * rho) * drawn[d].temp_innovation);
      const double range_c =
          daily_range_c(day.temp_range_c.value, day.range_k_slope.value, k, day.k_mean.value);
      for (const double c : {mean_c, mean_c + 0.5 * range_c, mean_c - 0.5 * range_c}) {
        csv.fixed(c, 1);
      }
      csv.end_row();
    }
  }
}

}  // namespace

Command weather_command() {
  Command command{
      .name = "weather",
      .question = "What weather does a place have: its months, or synthetic days as CSV?"};
  auto options = std::make_shared<WeatherOptions>();
  command.options.push_back({.name = "PLACE",
                             .kept = &options->place,
                             .help = "Id of a built-in place, or a place file (.toml)",
                             .takes = "ID|FILE",
                             .presence = Presence::required});
  command.options.push_back(
      {.name = "--days", .kept = &options->days, .help = "Write this many synthetic days as CSV"});
  command.options.push_back({.name = "--from",
                             .kept = &options->from,
                             .help = "First date of the days",
                             .shown_default = options->from});
  command.options.push_back({.name = "--stays",
                             .kept = &options->stays,
                             .help = "Independent sequences of days",
                             .shown_default = options->stays});
  command.options.push_back({.name = "--seed",
                             .kept = &options->seed,
                             .help = "Number that picks the drawn weather",
                             .shown_default = options->seed});
  options->units.add_to(command);
  command.footer =
      "Examples:\n"
      "  dullspell weather daggett-ca\n"
      "  dullspell weather daggett-ca --days 14 --from 2027-01-05 --stays 100 > days.csv";
  command.run = [options] {
    const Units units = options->units.units();
    const Place place = find_place(options->place);
    if (options->days.empty()) {
      write_text(standard_output(), place_document(place, units), standard_output_style());
    } else {
      write_days(place, *options);
    }
    return ExitCode::done;
  };
  return command;
}

}  // namespace dullspell
