#include <algorithm>
#include <array>
#include <limits>
#include <memory>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/known_places.hpp"
#include "cli/option_values.hpp"
#include "cli/output/output_file.hpp"
#include "cli/progress_line.hpp"
#include "cli/report_output.hpp"
#include "cli/survey_options.hpp"
#include "engine/study/prepare.hpp"
#include "reports/where_data.hpp"
#include "reports/where_document.hpp"
#include "weather/place_grid.hpp"
#include "weather/towns.hpp"

namespace dullspell {
namespace {

struct WhereOptions {
  SurveyOptionTexts survey;
  std::string top;
  std::string near, within, box, elevation, kind, country, grid, part;
};

// The K-th of N parts of a survey.
struct Part {
  std::size_t k = 1, of = 1;
};

constexpr std::size_t kUsualTop = 25;

// Numbers between commas, with the bounds of each.
template <std::size_t N>
std::array<double, N> numbers(const std::string& option, const std::string& text,
                              const std::array<std::pair<double, double>, N>& bounds,
                              const std::string& form, const std::string& fix) {
  if (static_cast<std::size_t>(std::count(text.begin(), text.end(), ',')) != N - 1) {
    refuse_option(option, fmt::format("is `{}`", text), form, fix);
  }
  std::array<double, N> out{};
  std::size_t begin = 0;
  for (std::size_t i = 0; i < N; ++i) {
    const std::size_t end = std::min(text.find(',', begin), text.size());
    out[i] =
        real_number(option, text.substr(begin, end - begin), bounds[i].first, bounds[i].second);
    begin = end + 1;
  }
  return out;
}

std::optional<Circle> circle(const WhereOptions& options) {
  if (options.near.empty() && options.within.empty()) return std::nullopt;
  if (options.near.empty()) {
    refuse_option("--within", "is given without --near", "both of them",
                  "For example --near 41.8,-124.1 --within 300.");
  }
  if (options.within.empty()) {
    refuse_option("--near", "is given without --within", "both of them",
                  "Say how far in km, for example --within 300.");
  }
  return Circle{whereabouts("--near", options.near),
                real_number("--within", options.within, 1.0, 20040.0)};
}

std::optional<GeoBox> box(const WhereOptions& options) {
  if (options.box.empty()) return std::nullopt;
  const auto [south, west, north, east] = numbers<4>(
      "--box", options.box, {{{-90.0, 90.0}, {-180.0, 180.0}, {-90.0, 90.0}, {-180.0, 180.0}}},
      "SOUTH,WEST,NORTH,EAST in degrees, north and east positive",
      "For example 32,-125,49,-102 without blanks.");
  if (south > north) {
    refuse_option("--box", fmt::format("has its south, {}, beyond its north, {}", south, north),
                  "SOUTH,WEST,NORTH,EAST in this order");
  }
  return GeoBox{south, west, north, east};
}

std::optional<ElevationBand> elevation(const WhereOptions& options) {
  if (options.elevation.empty()) return std::nullopt;
  const auto [low, high] =
      numbers<2>("--elevation", options.elevation, {{{-450.0, 9000.0}, {-450.0, 9000.0}}},
                 "LOW,HIGH in m above the sea", "For example 0,1500 without blanks.");
  if (low > high) {
    refuse_option("--elevation", fmt::format("has {} before {}", low, high), "the lower one first");
  }
  return ElevationBand{low, high};
}

std::optional<RecordKind> kind(const WhereOptions& options) {
  if (options.kind.empty()) return std::nullopt;
  return kind_of_record("--kind", options.kind);
}

std::optional<std::string> country(const WhereOptions& options) {
  if (options.country.empty()) return std::nullopt;
  const auto region = TownTable::built_in().country(options.country);
  if (region) return region->country;
  refuse_option("--country", fmt::format("is `{}`", options.country),
                "a country's name or its two letters, such as NZ");
}

std::optional<Part> part(const WhereOptions& options) {
  if (options.part.empty()) return std::nullopt;
  constexpr std::uint64_t kMostParts = 100'000;
  const std::size_t slash = std::min(options.part.find('/'), options.part.size());
  const std::string of = slash < options.part.size() ? options.part.substr(slash + 1) : "";
  const auto n = static_cast<std::size_t>(whole_number("--part", of, 1, kMostParts));
  const auto k =
      static_cast<std::size_t>(whole_number("--part", options.part.substr(0, slash), 1, n));
  const OutputPaths& outputs = options.survey.outputs;
  if (!outputs.json.empty() || !outputs.html.empty() || !outputs.geojson.empty() ||
      outputs.csv.empty()) {
    refuse_option("--part", "is given, but not --csv alone",
                  "--csv, whose parts can be put together",
                  "For example --part 1/4 --csv part1.csv.");
  }
  return Part{k, n};
}

// The middles of a grid's cells.
std::vector<PlaceSummary> cells(double step_deg, const PlaceFilter& filter) {
  if (filter.kind || filter.elevation) {
    refuse_option("--grid", "is given besides --kind or --elevation", "one of the two",
                  "Cells are no records, and their height is not known.");
  }
  if (!filter.box && !filter.circle && !filter.country) {
    refuse_option("--grid", "is given without a region",
                  "--box, --near with --within, or --country");
  }
  auto found = grid_places(step_deg, filter);
  if (!found) {
    refuse_option("--grid", fmt::format("makes more than {} cells", kMostCells), "fewer of them",
                  "Take wider cells or a smaller region.");
  }
  if (found->empty()) {
    refuse_option("--grid", "leaves no cell whose middle is on land", "at least one",
                  "Take narrower cells or a larger region.");
  }
  return std::move(*found);
}

SelectedPlaces selected(const PlaceFilter& filter) {
  SelectedPlaces out = select_places(known_places(), filter);
  if (!out.places.empty()) return out;
  std::string of;
  if (filter.circle) of += ", --near and --within";
  if (filter.box) of += ", --box";
  if (filter.elevation) of += ", --elevation";
  if (filter.kind) of += ", --kind";
  if (filter.country) of += ", --country";
  refuse_option(
      of.substr(2), "leave no place",
      fmt::format("at least one of the {} known places", known_places().places().size()),
      filter.elevation && !out.unknown_elevation.empty()
          ? fmt::format("{} there state no elevation: leave out --elevation to ask about them.",
                        out.unknown_elevation.size())
          : "Widen them; `dullspell places --near LAT,LON` lists the nearest.");
}

ExitCode where(const WhereOptions& texts) {
  const OutcomeOptions options = texts.survey.options();
  const Units units = texts.survey.units.units();
  const std::size_t top =
      texts.top.empty() ? kUsualTop
                        : static_cast<std::size_t>(whole_number("--top", texts.top, 1, 100000));
  const PlaceFilter filter{circle(texts), box(texts), elevation(texts), kind(texts),
                           country(texts)};
  constexpr double kLeastStep_deg = 0.05, kMostCellsStep_deg = 20.0;
  const double grid_deg =
      texts.grid.empty() ? 0.0
                         : real_number("--grid", texts.grid, kLeastStep_deg, kMostCellsStep_deg);
  const std::optional<Part> wanted = part(texts);
  const std::vector<PlaceSummary> spots =
      grid_deg > 0.0 ? cells(grid_deg, filter) : std::vector<PlaceSummary>{};
  SelectedPlaces places;
  if (spots.empty()) places = selected(filter);
  for (const PlaceSummary& spot : spots) places.places.push_back(&spot);
  if (wanted) {
    const std::size_t all = places.places.size();
    const auto at = [&](std::size_t k) {
      return places.places.begin() + static_cast<std::ptrdiff_t>(all * k / wanted->of);
    };
    places.places = {at(wanted->k - 1), at(wanted->k)};
  }
  const Plan plan = texts.survey.read();
  OutputFiles files(texts.survey.outputs);

  const PlaceSource source = spots.empty() ? sites_of(known_places()) : PlaceSource(blended_place);
  const std::size_t detailed = wanted ? places.places.size() : top;
  PlaceSurvey survey = with_progress([&](const Progress& progress) {
    return survey_places(plan, source, places.places, options, detailed, progress);
  });
  for (const PlaceSummary* place : places.unknown_elevation) {
    survey.left_out.push_back({place, "elevation unknown"});
  }
  const RiskSummary as_planned = risk_summary(prepare(plan), options);
  const WhereReport report{plan, as_planned, filter, survey, top, options, units, grid_deg};
  if (wanted) {
    write_where_part(*files.stream("--csv"), report, wanted->k == 1);
    files.commit();
    return ExitCode::done;
  }
  const Document document = where_document(report, kProgram);
  if (auto* out = files.stream("--csv")) write_where_csv(*out, report);
  if (auto* out = files.stream("--geojson")) write_where_geojson(*out, report);
  write_report(files, document);
  return ExitCode::done;
}

}  // namespace

Command where_command() {
  Command command{.name = "where", .question = "At which places would this stay hold?"};
  auto options = std::make_shared<WhereOptions>();
  options->survey.add_to(command);
  command.options.push_back(
      {.name = "--geojson",
       .kept = &options->survey.outputs.geojson,
       .help = "Also write the places as points for a map (GeoJSON); - as with --json",
       .takes = "FILE"});
  command.options.push_back(
      {.name = "--top",
       .kept = &options->top,
       .help = fmt::format("Places to show, best first (default {})", kUsualTop)});
  command.options.push_back(
      {.name = "--near",
       .kept = &options->near,
       .help = "Only places around LAT,LON (north and east positive), see --within"});
  command.options.push_back(
      {.name = "--within", .kept = &options->within, .help = "Only places so many km from --near"});
  command.options.push_back(
      {.name = "--box",
       .kept = &options->box,
       .help = "Only places in SOUTH,WEST,NORTH,EAST, degrees; a west beyond the east "
               "reaches over the date line"});
  command.options.push_back({.name = "--elevation",
                             .kept = &options->elevation,
                             .help = "Only places from LOW to HIGH, in m: LOW,HIGH"});
  command.options.push_back(
      {.name = "--kind",
       .kept = &options->kind,
       .help = "Only measured, typical-year, monthly-means or estimated places",
       .takes = "measured|typical-year|monthly-means|estimated"});
  command.options.push_back({.name = "--country",
                             .kept = &options->country,
                             .help = "Only places in this country, by its name or two letters"});
  command.options.push_back(
      {.name = "--grid",
       .kept = &options->grid,
       .help = "Cells of so many degrees on land in place of built-in places, by what is known "
               "around their middles; needs a region",
       .takes = "DEG"});
  command.options.push_back(
      {.name = "--part",
       .kept = &options->part,
       .help = "Only the K-th of N parts, as CSV; put together in order they are the whole",
       .takes = "K/N"});
  command.footer =
      "The same stay at every built-in place, or at those that all given options leave.\n"
      "Climate intervals are those of the places shown.\n"
      "Examples:\n"
      "  dullspell where desert.toml --box 31,-118,38,-107\n"
      "  dullspell where forest.toml --near 41.8,-124.1 --within 400 --elevation 0,800\n"
      "  dullspell where forest.toml --box 31,-125,49,-102 --html places.html\n"
      "  dullspell where forest.toml --geojson map.geojson --csv places.csv\n"
      "  dullspell where forest.toml --grid 0.5 --country NZ --geojson cells.geojson\n"
      "  dullspell where forest.toml --box=-45,165,-33,180 --set arrive=2027-12-20T15:00:00";
  command.run = [options] { return where(*options); };
  return command;
}

}  // namespace dullspell
