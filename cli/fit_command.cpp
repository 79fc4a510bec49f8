#include <iostream>
#include <memory>
#include <stdexcept>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "cli/commands.hpp"
#include "cli/output_file.hpp"
#include "cli/shared_options.hpp"
#include "reports/places_report.hpp"
#include "weather/daily_record.hpp"
#include "weather/input/input_error.hpp"
#include "weather/place_catalogue.hpp"
#include "weather/place_file.hpp"
#include "weather/place_fit.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kLargestSites_bytes = 16 * 1024 * 1024;

struct FitOptions {
  std::vector<std::string> files;
  std::string sites;
  std::string out;
  std::string latitude, longitude, elevation, utc_offset;
  std::string id, name, source = "own record";
  bool typical_year = false;
};

[[noreturn]] void refuse_record(const std::string& file, const std::string& why) {
  InputProblem p;
  p.file = file;
  p.problem = why;
  throw InputError(std::move(p));
}

DailyRecords read_all(const std::vector<std::string>& files) {
  DailyRecords all;
  for (const auto& file : files) {
    for (auto& [id, days] : read_daily_record_file(file)) {
      auto& known = all[id];
      if (!known.empty() && known.back().date >= days.front().date) {
        refuse_record(file, fmt::format("begins on {}, not after the files before it",
                                        iso_date(days.front().date)));
      }
      known.insert(known.end(), days.begin(), days.end());
    }
  }
  return all;
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

ExitCode fit_many(const FitOptions& options) {
  const auto sites = read_sites(read_source(options.sites, "sites", kLargestSites_bytes));
  OutputFile out("--out", options.out);
  const DailyRecords records = read_all(options.files);
  write_monthly_header(out.stream());
  int fitted = 0, impossible = 0;
  for (const PlaceSummary& site : sites) {
    const auto days = records.find(site.source_id);
    if (days == records.end()) {
      refuse_record(options.sites,
                    fmt::format("names the site `{}`, whose record `{}` is in no file", site.id,
                                site.source_id));
    }
    try {
      const PlaceFit fit = fit_place(frame_of(site), days->second);
      write_monthly_rows(out.stream(), fit.place);
      impossible += fit.days_impossible;
      for (const auto& note : fit.place.notes) fmt::print(std::cerr, "{}: {}\n", site.id, note);
    } catch (const std::invalid_argument& problem) {
      refuse_record(options.sites, fmt::format("names `{}`: {}", site.id, problem.what()));
    }
    ++fitted;
  }
  out.commit();
  fmt::print(std::cerr, "{} places fitted; {} days left out with a clearness outside 0 to 1\n",
             fitted, impossible);
  return ExitCode::done;
}

ExitCode fit_one(const FitOptions& options) {
  Place frame;
  if (options.latitude.empty() || options.longitude.empty() || options.utc_offset.empty()) {
    refuse_option("fit", "needs --sites, or --latitude, --longitude and --utc-offset", "");
  }
  frame.where = {real_number("--latitude", options.latitude, -90.0, 90.0),
                 real_number("--longitude", options.longitude, -180.0, 180.0)};
  frame.utc_offset_h = real_number("--utc-offset", options.utc_offset, -12.0, 14.0);
  if (!options.elevation.empty()) {
    frame.elevation_m = real_number("--elevation", options.elevation, -450.0, 6000.0);
  }
  frame.id = options.id;
  frame.name = options.name.empty() ? fmt::format("{:.2f}, {:.2f}", frame.where.latitude_deg,
                                                  frame.where.longitude_deg)
                                    : options.name;
  frame.source = options.source;
  frame.record = options.typical_year ? RecordKind::typical_year : RecordKind::measured;
  OutputFile out("--out", options.out);
  const DailyRecords records = read_all(options.files);
  if (records.size() != 1) {
    refuse_record(options.files.front(),
                  fmt::format("holds {} sites: name them with --sites", records.size()));
  }
  PlaceFit fit;
  try {
    fit = fit_place(frame, records.begin()->second);
  } catch (const std::invalid_argument& problem) {
    refuse_record(options.files.front(), problem.what());
  }
  fit.place.years = fmt::format("{} years", fit.years);
  write_place_file(out.stream(), fit.place);
  out.commit();
  if (!out.is_standard_output()) write_place_months(std::cout, fit.place);
  fmt::print(std::cerr,
             "{} days of {} years used; {} without a value, {} left out with a clearness outside 0 "
             "to 1\n",
             fit.days_used, fit.years, fit.days_without_value, fit.days_impossible);
  return ExitCode::done;
}

}  // namespace

void add_fit_command(CLI::App& app, ExitCode& exit) {
  auto* command =
      app.add_subcommand("fit", "What are a place's statistics, from its daily weather record?");
  auto options = std::make_shared<FitOptions>();
  command->add_option("FILE", options->files, "Daily CSV files, oldest first")->required();
  command
      ->add_option("--out", options->out,
                   "Place file to write (.toml), or with --sites the table (.csv); - is standard "
                   "output")
      ->required();
  command->add_option("--sites", options->sites,
                      "Many places at once: tab-separated table of sites; the files need a column "
                      "`id` or `wban`");
  command->add_option("--latitude", options->latitude, "Degrees, north positive");
  command->add_option("--longitude", options->longitude, "Degrees, east positive");
  command->add_option("--elevation", options->elevation, "Metres");
  command->add_option("--utc-offset", options->utc_offset, "Hours, standard time");
  command->add_option("--id", options->id, "Id of the place");
  command->add_option("--name", options->name, "Name of the place");
  command->add_option("--source", options->source, "Where the record comes from, and its terms")
      ->capture_default_str();
  command->add_flag("--typical-year", options->typical_year,
                    "The record is a typical year, put together from months of different years");
  command->footer(
      "Columns: ghi_kwh_m2; date (2020-01-31), or month and day; optionally temp_max_c, "
      "temp_min_c,\n"
      "temp_mean_c (or tmax_c, tmin_c). Empty cells are missing values. Lines with # are skipped.\n"
      "One year, and any typical year, gets its spread pooled over three months, its persistence\n"
      "over the year and a default share of year-to-year variation.\n"
      "Example:\n"
      "  dullspell fit davis.csv --latitude 38.54 --longitude -121.78 --utc-offset -8 --out "
      "davis.toml");
  command->callback(
      [options, &exit] { exit = options->sites.empty() ? fit_one(*options) : fit_many(*options); });
}

}  // namespace dullspell
