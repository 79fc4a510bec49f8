#include <iostream>
#include <map>
#include <memory>
#include <stdexcept>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "cli/commands.hpp"
#include "cli/option_values.hpp"
#include "cli/output/files_in_use.hpp"
#include "cli/output/output_file.hpp"
#include "cli/output/standard_output.hpp"
#include "cli/progress_line.hpp"
#include "cli/record_options.hpp"
#include "cli/shared_options.hpp"
#include "cli/terminal.hpp"
#include "reports/fit_document.hpp"
#include "reports/hindcast_verdict.hpp"
#include "reports/text_renderer.hpp"
#include "weather/input/input_error.hpp"
#include "weather/input/utf8.hpp"
#include "weather/place_catalogue.hpp"
#include "weather/place_file.hpp"
#include "weather/place_fit.hpp"
#include "weather/records/quality.hpp"
#include "weather/records/record_file.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kLargestSites_bytes = 16 * 1024 * 1024;

struct FitOptions {
  std::vector<std::string> files;
  std::string site;
  std::string sites;
  std::string out;
  std::string latitude, longitude, elevation, utc_offset;
  std::string id, name, source;
  bool typical_year = false;
  UnitsOption units;
};

[[noreturn]] void refuse_record(const std::string& file, const std::string& why) {
  InputProblem p;
  p.file = file;
  p.problem = why;
  throw InputError(std::move(p));
}

Place frame_of(const PlaceSummary& site) {
  Place frame;
  frame.id = site.id;
  frame.name = site.name;
  frame.where = site.where;
  frame.elevation_m = site.elevation_m;
  frame.utc_offset_h = site.utc_offset_h;
  frame.source = site.source;
  frame.record = site.record;
  return frame;
}

PlaceFit checked_fit(const Place& frame, WeatherRecord& record) {
  record.utc_offset_h = frame.utc_offset_h;
  check_quality(record, frame.where);
  try {
    return fit_place(frame, record.days);
  } catch (const std::invalid_argument& problem) {
    refuse_record(record.file, problem.what());
  }
}

// The records of many sites, by id; a site in several files has its records joined.
std::map<std::string, WeatherRecord> records_by_site(const std::vector<std::string>& files) {
  std::map<std::string, std::vector<WeatherRecord>> parts;
  for (const auto& file : files) {
    for (WeatherRecord& record : read_weather_file(file)) {
      parts[record.site].push_back(std::move(record));
    }
  }
  std::map<std::string, WeatherRecord> out;
  for (auto& [site, records] : parts) out.emplace(site, join_records(std::move(records)));
  return out;
}

ExitCode fit_many(const FitOptions& options) {
  note_file_in_use(options.sites);
  for (const auto& file : options.files) note_file_in_use(file);
  const auto sites = read_sites(read_source(options.sites, "sites", kLargestSites_bytes));
  OutputFile out("--out", options.out);
  auto records = records_by_site(options.files);
  write_monthly_header(out.stream());
  std::uint64_t fitted = 0;
  ProgressLine progress;
  const auto tell = [&](const std::string& site, const std::string& text) {
    progress.clear();
    fmt::print(std::cerr, "{}\n", printable(site + ": " + text));
  };
  for (const PlaceSummary& site : sites) {
    const auto record = records.find(site.source_id);
    if (record == records.end()) {
      refuse_record(options.sites,
                    fmt::format("names the site `{}`, whose record `{}` is in no file", site.id,
                                site.source_id));
    }
    const PlaceFit fit = checked_fit(frame_of(site), record->second);
    write_monthly_rows(out.stream(), fit.place);
    for (const auto& note : fit.place.notes) tell(site.id, note);
    for (const auto& finding : record->second.findings) {
      tell(site.id, finding_text(finding));
    }
    progress.show({"sites", ++fitted, sites.size(), {}});
  }
  progress.clear();
  out.commit();
  fmt::print(std::cerr, "{} places fitted\n", fitted);
  return ExitCode::done;
}

// What the command line says, else what the file says of itself.
Place frame_of(const FitOptions& options, const WeatherRecord& record) {
  Place frame;
  const bool position_typed = !options.latitude.empty() && !options.longitude.empty();
  if (!position_typed && !record.where) {
    refuse_option("fit", "needs --latitude and --longitude",
                  "both, in degrees; EPW and TMY3 files say them, other CSV files cannot",
                  "For many places at once, name a table of sites with --sites.");
  }
  if (options.utc_offset.empty() && !record.utc_offset_h) {
    refuse_option("fit", "needs --utc-offset", "hours of standard time from UTC, e.g. -8");
  }
  frame.where = position_typed
                    ? Coordinates{real_number("--latitude", options.latitude, -90.0, 90.0),
                                  real_number("--longitude", options.longitude, -180.0, 180.0)}
                    : *record.where;
  frame.utc_offset_h = options.utc_offset.empty()
                           ? *record.utc_offset_h
                           : real_number("--utc-offset", options.utc_offset, -12.0, 14.0);
  if (!offset_fits(frame.utc_offset_h, frame.where)) {
    refuse_option(
        "--utc-offset",
        fmt::format("is {:g} at longitude {:g}", frame.utc_offset_h, frame.where.longitude_deg),
        fmt::format("within {:g} h of longitude / 15, {:+.1f}", kMostOffset_h,
                    frame.where.longitude_deg / 15.0),
        "Check the signs: longitude is positive east, the offset is clock minus UTC.");
  }
  frame.elevation_m = record.elevation_m;
  if (!options.elevation.empty()) {
    frame.elevation_m = real_number("--elevation", options.elevation, -450.0, 6000.0);
  }
  frame.id = options.id;
  frame.name = options.name.empty() ? record.name : options.name;
  frame.source = !options.source.empty() ? options.source
                 : record.source.empty() ? "own record"
                                         : record.source;
  frame.record =
      options.typical_year || record.typical_year ? RecordKind::typical_year : RecordKind::measured;
  return frame;
}

std::string years_text(const PlaceFit& fit) {
  if (fit.place.record == RecordKind::typical_year) return "one typical year";
  if (fit.first_year == fit.last_year) return fmt::format("{}", fit.first_year);
  return fmt::format("{}-{}, {:.1f} years of days", fit.first_year, fit.last_year,
                     fit.place.record_years);
}

ExitCode fit_one(const FitOptions& options) {
  const Units units = options.units.units();
  WeatherRecord record = read_record(options.files, options.site);
  const Place frame = frame_of(options, record);
  OutputFile out("--out", options.out);
  PlaceFit fit = checked_fit(frame, record);
  fit.place.years = years_text(fit);
  write_place_file(out.stream(), fit.place);
  out.commit();
  const Document document = fit_document(fit, record, units);
  if (out.is_standard_output()) {
    write_text(std::cerr, document);
  } else {
    write_text(standard_output(), document, standard_output_style());
  }
  return ExitCode::done;
}

// What a weather file may not say of its place.
void add_frame_options(Command& command, FitOptions& options) {
  command.options.push_back({.name = "--latitude",
                             .kept = &options.latitude,
                             .help = "Degrees, north positive (default: what the file says)"});
  command.options.push_back({.name = "--longitude",
                             .kept = &options.longitude,
                             .help = "Degrees, east positive (likewise)"});
  command.options.push_back(
      {.name = "--elevation", .kept = &options.elevation, .help = "Metres (likewise)"});
  command.options.push_back({.name = "--utc-offset",
                             .kept = &options.utc_offset,
                             .help = "Hours, standard time (likewise)"});
  command.options.push_back({.name = "--id", .kept = &options.id, .help = "Id of the place"});
  command.options.push_back(
      {.name = "--name", .kept = &options.name, .help = "Name of the place (default: the file's)"});
  command.options.push_back({.name = "--source",
                             .kept = &options.source,
                             .help = "Where the record comes from, and its terms"});
  command.options.push_back(
      {.name = "--typical-year",
       .kept = &options.typical_year,
       .help = "The record is a typical year, put together from months of different years "
               "(EPW and TMY3 files say so themselves)"});
}

}  // namespace

Command fit_command() {
  Command command{.name = "fit",
                  .question = "What are a place's statistics, from its weather record?"};
  auto options = std::make_shared<FitOptions>();
  command.options.push_back(
      {.name = "FILE",
       .kept = &options->files,
       .help = "Weather files of one place, oldest first: EPW, TMY3 CSV, or CSV with a header",
       .takes = "",
       .presence = Presence::required});
  command.options.push_back(
      {.name = "--out",
       .kept = &options->out,
       .help = "Place file to write (.toml), or with --sites the table (.csv); - is standard "
               "output",
       .takes = "FILE",
       .presence = Presence::required});
  command.options.push_back(
      {.name = "--site", .kept = &options->site, .help = "Which site, in files of several"});
  command.options.push_back(
      {.name = "--sites",
       .kept = &options->sites,
       .help = "Many places at once: tab-separated table of sites; the files need a column "
               "`id` or `wban`",
       .takes = "FILE"});
  add_frame_options(command, *options);
  options->units.add_to(command);
  command.footer =
      "CSV columns, daily: date (2020-01-31), or month and day; ghi_kwh_m2, ghi_mj_m2, ghi_wh_m2 "
      "or\n"
      "ghi_w_m2 (the day's mean); optionally temp_max_c, temp_min_c, temp_mean_c. Hourly: time\n"
      "(2020-01-31T13:00, the hour that begins then), or date with hour_ending (1..24) or\n"
      "hour_beginning (0..23); ghi_w_m2; optionally temp_c; standard time. Empty cells are "
      "missing\n"
      "values; lines with # are skipped. What the quality control leaves out is listed.\n"
      "One year, and any typical year, gets its spread pooled over three months, its persistence\n"
      "over the year and a default share of year-to-year variation.\n"
      "Examples:\n"
      "  dullspell fit davis.csv --latitude 38.54 --longitude -121.78 --utc-offset -8 --out "
      "davis.toml\n"
      "  dullspell fit tahoe_tmy3.csv --out tahoe.toml";
  command.run = [options] {
    return options->sites.empty() ? fit_one(*options) : fit_many(*options);
  };
  return command;
}

}  // namespace dullspell
